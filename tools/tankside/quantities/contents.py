"""What a bottle has to hold: its tolerable error, the weights to fill to, and the factor of the mean test."""

import json
from collections.abc import Mapping
from fractions import Fraction
from importlib.resources import files
from types import MappingProxyType
from typing import Final

from tankside.quantities.expression import Constant, Expression, Name, constant, root, round_up, table
from tankside.quantities.helper import (
    ABOVE_ZERO,
    FROM_ZERO,
    Argument,
    Bound,
    Helper,
    Result,
    Trees,
    Variant,
    helper,
)

TASK: Final = "Fill and weigh"
_DENSITY: Final = "mass concentration"
#: Degrees of freedom from 1 up.
_STUDENT_T: Final[Mapping[str, list[str]]] = json.loads(
    files("tankside.quantities").joinpath("student_t.json").read_text(encoding="utf-8")
)["quantiles"]
_MOST_WEIGHED: Final = len(_STUDENT_T["0.995"]) + 1

#: 76/211/EEC begins at 5 mL and 5 g.
SMALLEST: Final = MappingProxyType(
    {
        kind: Bound(constant(f"5 {unit}").quantity.value, inclusive=True)
        for kind, unit in (("volume", "mL"), ("mass", "g"))
    }
)


def tolerable(nominal: Expression, kind: str) -> Expression:
    """Return the tolerable error of a nominal content that is a volume or a mass."""

    def of(number: str) -> Constant:
        return constant(f"{number} {'mL' if kind == 'volume' else 'g'}")

    def share(percent: str) -> Expression:
        return round_up(nominal * (Fraction(percent) / 100), of("0.1"))

    rows: tuple[tuple[Expression, Expression], ...] = (
        (of("50"), share("9")),
        (of("100"), of("4.5")),
        (of("200"), share("4.5")),
        (of("300"), of("9")),
        (of("500"), share("3")),
        (of("1000"), of("15")),
        (of("10000"), share("1.5")),
        (of("15000"), of("150")),
    )
    return table(nominal, rows, beyond=share("1"))


@helper(
    task=TASK,
    arguments=(Argument("nominal", ("volume", "mass"), "content on the label", "500 mL", lows=SMALLEST),),
    results=(
        Result("error", "mL", "down", "tolerable error", like=("nominal",)),
        Result("t1", "mL", "up", "only a few may hold less", like=("nominal",)),
        Result("t2", "mL", "up", "none may hold less", like=("nominal",)),
    ),
    variants=(
        Variant(MappingProxyType({"nominal": "volume"})),
        Variant(MappingProxyType({"nominal": "mass"}), units=MappingProxyType({"error": "g", "t1": "g", "t2": "g"})),
    ),
)
def tolerable_error(nominal: Expression, kinds: Mapping[str, str]) -> Trees:
    """Return how much less than its label says a single package may hold in the European Union.

    ``error`` from the table of 76/211/EEC, ``t1 = nominal - error``, ``t2 = nominal - 2 * error``. The table, in g or
    mL: 5 to 50: 9 %; 50 to 100: 4.5; 100 to 200: 4.5 %; 200 to 300: 9; 300 to 500: 3 %; 500 to 1,000: 15;
    1,000 to 10,000: 1.5 %; 10,000 to 15,000: 150; above: 1 %. A percentage is rounded up to the next 0.1 g or mL.

    Args:
        nominal: content on the label [mL, g], at least 5 mL or 5 g.

    Returns:
        error: tolerable negative error [unit of nominal].
        t1: no more than a few packages of a lot may hold less [unit of nominal].
        t2: no package that holds less may carry the mark [unit of nominal].

    Raises:
        OutOfDomainError: nominal is below 5 mL or 5 g.

    Limits:
        the mean of the lot has to reach the nominal content as well. Volumes are judged at 20 degC. The directive ends
        at 10 L or 10 kg; the rows beyond are those of national law. Other laws have other tables.

    Source:
        Directive 76/211/EEC, annex I; rows above 1,000 from the French decree 78-166, article 4. That percentages are
        rounded up is from memory.

    Example:
        tankside calc tolerable-error nominal="500 mL"
        error 15 mL, t1 485 mL, t2 470 mL
    """
    return {
        "error": tolerable(nominal, kinds["nominal"]),
        "t1": nominal - Name("error"),
        "t2": nominal - 2 * Name("error"),
    }


_WEIGHING: Final = {"nominal": "volume", "density": _DENSITY, "tare": "mass"}


@helper(
    task=TASK,
    arguments=(
        Argument("nominal", ("volume",), "content on the label", "500 mL", lows=SMALLEST),
        Argument("density", (_DENSITY,), "density of the product, measured at 20 degC", "1.06 kg/L", low=ABOVE_ZERO),
        Argument("tare", ("mass",), "what an empty bottle with cap and label weighs", "28 g", low=FROM_ZERO),
        Argument("allowance", ("volume", "mass"), "filled on top", "3 mL", required=False, low=FROM_ZERO),
    ),
    results=(
        Result("target", "g", "up", "gross weight to fill to", like=("tare",)),
        Result("warning", "g", "up", "gross weight at T1: only a few bottles may be lighter", like=("tare",)),
        Result("limit", "g", "up", "gross weight at T2: no bottle may be lighter", like=("tare",)),
    ),
    variants=(
        Variant(MappingProxyType(_WEIGHING)),
        Variant(
            MappingProxyType({**_WEIGHING, "allowance": "volume"}),
            stands_for=MappingProxyType({"allowance": Name("allowance") * Name("density")}),
        ),
        Variant(MappingProxyType({**_WEIGHING, "allowance": "mass"})),
    ),
)
def fill_weight(
    nominal: Expression, density: Expression, tare: Expression, allowance: Expression | None = None
) -> Trees:
    """Return the gross weights to fill a bottle to and to stop at.

    ``target = nominal * density + allowance + tare``, ``warning = (nominal - error) * density + tare``,
    ``limit = (nominal - 2 * error) * density + tare``; the error is that of tolerable-error, and an allowance in mL
    counts as ``allowance * density``.

    Args:
        nominal: content on the label [mL], at least 5 mL.
        density: density of the product at 20 degC, measured on this lot [kg/L], above 0.
        tare: weight of an empty bottle with cap and label, the mean of several [g], from 0.
        allowance: what is filled on top so that the mean of the lot does not fall short [mL, g], from 0.

    Returns:
        target: gross weight to fill to [unit of tare].
        warning: gross weight of a bottle that holds T1 [unit of tare].
        limit: gross weight of a bottle that holds T2; a lighter one is not sold [unit of tare].

    Raises:
        OutOfDomainError: nominal is below 5 mL, density is not above 0, or tare or allowance is below 0.

    Limits:
        bottles weigh not all the same: where the tare spreads by more than a fifth of the error, weigh each one empty.
        Density, bottle and product are weighed on the same scale. T1 and T2 are those of the European Union.

    Source:
        mass balance; Directive 76/211/EEC, annex I. That a measurement may be off by a fifth of the tolerable error:
        Northern Ireland SR 2011/331, schedule 2.

    Example:
        tankside calc fill-weight nominal="500 mL" density="1.06 kg/L" tare="28 g"
        target 558 g, warning 542.1 g, limit 526.2 g
    """
    error = tolerable(nominal, "volume")
    net = nominal * density
    return {
        "target": (net if allowance is None else net + allowance) + tare,
        "warning": (nominal - error) * density + tare,
        "limit": (nominal - 2 * error) * density + tare,
    }


def _student_t(count: Expression, confidence: str) -> Expression:
    """Return the quantile of Student's t for ``count`` weights, from 2 up."""
    *rows, last = [Fraction(text) for text in _STUDENT_T[confidence]]
    return table(count, list(enumerate(rows, 2)), beyond=last)


@helper(
    task=TASK,
    arguments=(
        Argument(
            "count",
            ("ratio",),
            "how many were weighed",
            "50",
            low=Bound(Fraction(2), inclusive=True),
            high=Bound(Fraction(_MOST_WEIGHED), inclusive=True),
            is_whole=True,
        ),
        Argument(
            "confidence",
            tuple(_STUDENT_T),
            "0.995 in the EU, 0.975 in the US",
            "0.995",
            False,
            choices=tuple(_STUDENT_T),
        ),
    ),
    results=(Result("factor", "", "down", "times the standard deviation: how far the mean may fall short"),),
    variants=(
        Variant(MappingProxyType({"count": "ratio"})),
        *(Variant(MappingProxyType({"count": "ratio", "confidence": each})) for each in _STUDENT_T),
    ),
)
def mean_factor(count: Expression, confidence: str = "0.995") -> Trees:
    """Return how many standard deviations the mean of a sample may fall short of the nominal content.

    ``factor = t / root(count)`` with Student's t for ``count - 1`` degrees of freedom. At the confidence of 0.975 the
    factor for 48 is 0.291, as NIST Handbook 133 prints it; the formula gives 0.290.

    Args:
        count: how many were weighed, a whole number from 2 to 160.
        confidence: 0.995 for the European average system, which is taken when none is given, or 0.975 for the US.

    Returns:
        factor: number of standard deviations, without unit.

    Raises:
        OutOfDomainError: count is no whole number from 2 to 160; the table of t ends there.
        ChoiceUnknownError: confidence is neither 0.995 nor 0.975.

    Limits:
        for a sample drawn at random from the lot, whose contents are spread about normally.

    Source:
        UK SI 2006/659, schedule 2, paragraph 4, which prints 0.503 for 30 and 0.379 for 50; NIST Handbook 133, sampling
        plans of category A, from memory. Student's t: NIST/SEMATECH, e-Handbook of Statistical Methods, 1.3.6.7.2; here
        to five decimals, as the public library scipy gives it.

    Example:
        tankside calc mean-factor count=50
        factor ≈ 0.379002
    """
    factor = _student_t(count, confidence) / root(count)
    if confidence == "0.995":
        return {"factor": factor}
    return {"factor": table(count, ((47, factor), (48, Fraction("0.291"))), beyond=factor)}


HELPERS: tuple[Helper, ...] = (fill_weight, tolerable_error, mean_factor)

"""Whether a lot of filled bottles holds what its labels say."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from tankside.quantities import functions
from tankside.quantities.calculation import calculate
from tankside.quantities.contents import SMALLEST, TASK, mean_factor, tolerable
from tankside.quantities.decimal_text import rounded
from tankside.quantities.expression import Expression, Name
from tankside.quantities.given import Choice, Given, Listed, Pairs
from tankside.quantities.helper import ABOVE_ZERO, FROM_ZERO, Argument, AtMost, Bound, Result, Variant
from tankside.quantities.report import VERDICT, Findings, Report, Sheet, report
from tankside.quantities.sampling import Plan, american_plan, european_plan
from tankside.quantities.variations import allowed_variation, variation_of_rows
from tankside.units import DIGITS, UNITS, Quantity

_EUROPEAN: Final = ("EU", "UK")
#: jurisdiction -> its law, by name
_LAWS: Final[Mapping[str, str]] = MappingProxyType(
    {"EU": "Directive 76/211/EEC", "UK": "UK SI 2006/659", "US": "NIST Handbook 133"}
)


#: what a drawing holds the contents against
_LEVELS: Final = ("nominal", "mean", "t1", "t2", "shortest")


@dataclass(frozen=True)
class _Sample:
    """The contents of the bottles weighed, in base units."""

    nominal: Quantity
    contents: tuple[Fraction, ...]

    @property
    def kind(self) -> str:
        return self.nominal.unit.kind.name

    @property
    def mean(self) -> Quantity:
        return Quantity(sum(self.contents, Fraction(0)) / len(self.contents), self.nominal.unit)

    @property
    def deviation(self) -> Quantity:
        squares = sum(((content - self.mean.value) ** 2 for content in self.contents), Fraction(0))
        return Quantity(rounded(functions.root(squares / (len(self.contents) - 1)), DIGITS), self.nominal.unit)

    def below(self, least: Quantity) -> int:
        """Return how many bottles hold less."""
        return sum(content < least.value for content in self.contents)


def _kinds(law: str | None) -> tuple[dict[str, str], ...]:
    always = {"lot": "ratio", "tare": "mass", "weights": "mass"}
    named = {} if law is None else {"law": law}
    by_volume = {**always, "nominal": "volume", "density": "mass concentration", **named}
    by_own_table = {**by_volume, "variations": "volume / volume"}
    return (by_volume, {**always, "nominal": "mass", **named}, *([by_own_table] if law == "US" else []))


@report(
    task=TASK,
    arguments=(
        Argument("lot", ("ratio",), "bottles in the lot", "400", low=Bound(Fraction(1), inclusive=True), is_whole=True),
        Argument("nominal", ("volume", "mass"), "content on the label", "500 mL", lows=SMALLEST),
        Argument("density", ("mass concentration",), "density at 20 degC", "1.06 kg/L", False, low=ABOVE_ZERO),
        Argument("tare", ("mass",), "what an empty bottle with cap and label weighs", "28 g", low=FROM_ZERO),
        Argument("weights", ("mass",), "gross weights", "weights.csv", is_list=True, low=ABOVE_ZERO),
        Argument("law", tuple(_LAWS), "whose law", "EU", False, choices=tuple(_LAWS)),
        Argument(
            "variations",
            ("volume",),
            "rows of Handbook 133's table 2-6: up to what content, and by how much short",
            "16 US fl oz/0.5 US fl oz",
            False,
            low=ABOVE_ZERO,
            pair_kinds=(("volume",), ("volume",)),
        ),
    ),
    results=(
        Result("mean", "mL", "down", "mean content"),
        Result("deviation", "mL", "up", "standard deviation of the contents"),
        Result("factor", "", "down", "standard deviations that the mean may fall short"),
        Result("mean_at_least", "mL", "up", "what the mean has to reach"),
        Result("least", "mL", "down", "content of the lightest bottle"),
        Result("error", "mL", "down", "tolerable error"),
        Result("t1", "mL", "up", "only a few may hold less"),
        Result("below_t1", "", "up", "bottles that hold less"),
        Result("below_t1_at_most", "", "down", "as many may"),
        Result("t2", "mL", "up", "none may hold less"),
        Result("below_t2", "", "up", "bottles that hold less"),
        Result("below_t2_at_most", "", "down", "as many may"),
        Result("measuring_error_at_most", "mL", "down", "the weighing as a whole may be off by"),
        Result("variation", "mL", "down", "by which a single package may fall short"),
        Result("short", "", "up", "bottles that fall short by more"),
        Result("short_at_most", "", "down", "as many may"),
    ),
    variants=tuple(Variant(MappingProxyType(kinds)) for law in (None, *_LAWS) for kinds in _kinds(law)),
    conditions=(AtMost("tare", "weights", "is heavier than", "give gross weights: bottle, cap, label and content"),),
    choice="give nominal as a volume together with density, or as a mass without",
)
def lot_check(given: Given) -> Findings:
    """Return whether a lot of filled bottles may go out, by the weights of a sample.

    ``content = (gross - tare) / density``. In the EU: ``below_t1 <= below_t1_at_most``, ``below_t2 <= 0``,
    ``mean >= nominal - factor * deviation``. Of a lot below 100 every bottle is weighed, 5 % of them may be below T1,
    and ``mean >= nominal``. Of a larger one 50, 80 or 125 are weighed (up to 500, 3,200, 10,000), or in two steps 30
    and 30, 50 and 50, 80 and 80 more; the number of weights says which. In the US: ``short <= short_at_most`` and the
    same for the mean, on 12, 24 or 48 (up to 250, 3,200, above), and on all up to 11.

    Args:
        lot: bottles in the lot, a whole number from 1, in the EU to 10,000.
        nominal: content on the label [mL, g], at least 5 mL or 5 g.
        density: density of the product at 20 degC, measured on this lot [kg/L], above 0; with a volume, and only then.
        tare: weight of an empty bottle with cap and label, the mean of several [g], from 0.
        weights: gross weights [g], a list or the name of a CSV file with one column, whose first line is gross [g].
        law: EU, UK or US; EU when none is named.
        variations: in the US, for a volume: the rows of Handbook 133's table 2-6, up to what content and by how much a
        package may be short [mL, US fl oz]; a book has them as liquid_variations.

    Returns:
        verdict: accept, reject, or how many more to weigh.
        law: by which law; in a book of another jurisdiction the verdict is for internal control only.
        mean: mean content [unit of nominal].
        deviation: standard deviation of the contents, by n - 1 [unit of nominal].
        factor: standard deviations that the mean may fall short; for a sample.
        mean_at_least: what the mean has to reach [unit of nominal].
        least: content of the lightest bottle [unit of nominal].
        error: tolerable error, as tolerable-error gives it [unit of nominal]; EU and UK, as the next seven.
        t1: nominal less one error [unit of nominal].
        below_t1: bottles that hold less.
        below_t1_at_most: as many may.
        t2: nominal less two errors [unit of nominal].
        below_t2: bottles that hold less.
        below_t2_at_most: as many may.
        measuring_error_at_most: the weighing as a whole may be off by a fifth of the error [unit of nominal].
        variation: by which a single package may fall short [unit of nominal]; US, as the next two.
        short: bottles that fall short by more.
        short_at_most: as many may.

    Raises:
        SampleSizeError: the number of weights is not one of the plan for this lot.
        OutOfDomainError: a value is out of its range, a bottle weighs less than its tare, or the lot is too large.
        KindsMismatchError: nominal is a volume without density, or a mass with one.
        TableMissingError: US and a volume; the table of Handbook 133 for volumes is not part of the program.

    Limits:
        for bottles drawn at random from a lot of one product, filled in one go. Non-destructive; the double plan's
        second weights are given together with the first. The maker's own control: an inspector does his own.

    Source:
        Directive 76/211/EEC, annexes I and II; UK SI 2006/659, schedule 2, paragraphs 3 and 4; French arrete of 20
        October 1978, article 11, for the double plan; NIST Handbook 133, category A and table 2-5, from memory.

    Example:
        tankside calc lot-check lot=4 nominal="500 mL" density="1 kg/L" tare="30 g" weights="531, 530, 529, 532 g"
        verdict accept, law Directive 76/211/EEC, mean 500.5 mL, deviation ≈ 1.29099 mL, mean_at_least 500 mL,
        least 499 mL, error 15 mL, t1 485 mL, below_t1 0, below_t1_at_most 0, t2 470 mL, below_t2 0,
        below_t2_at_most 0, measuring_error_at_most 3 mL
    """
    law = given.get("law")
    jurisdiction = law.word if isinstance(law, Choice) else "EU"
    sample = _sample(given)
    sheet = Sheet({"nominal": sample.nominal})
    lot = int(_quantity(given, "lot").value)
    rows = given.get("variations")
    if jurisdiction in _EUROPEAN:
        verdict = _european(sheet, sample, lot)
    else:
        verdict = _american(sheet, sample, lot, rows if isinstance(rows, Pairs) else None)
    words = {VERDICT: verdict, "law": _LAWS[jurisdiction]}
    return Findings(
        MappingProxyType(sheet.results),
        MappingProxyType(words),
        tuple(sheet.lines),
        points=tuple(Quantity(content, sample.nominal.unit) for content in sample.contents),
        levels={name: found for name in _LEVELS if (found := sheet.known.get(name)) is not None},
        jurisdiction=jurisdiction,
    )


def _sample(given: Given) -> _Sample:
    nominal, tare, weights = _quantity(given, "nominal"), _quantity(given, "tare"), given["weights"]
    assert isinstance(weights, Listed), "the weights are a list"
    per_size = _quantity(given, "density").value if "density" in given else Fraction(1)
    return _Sample(nominal, tuple((weight.value - tare.value) / per_size for weight in weights.entries))


def _quantity(given: Given, name: str) -> Quantity:
    worth = given[name]
    assert isinstance(worth, Quantity), f"{name} is one quantity"
    return worth


def _european(sheet: Sheet, sample: _Sample, lot: int) -> str:
    plan = european_plan(lot, len(sample.contents))
    unit = sample.nominal.unit
    holds = [_mean_holds(sheet, sample, plan)]
    sheet.work("error", tolerable(Name("nominal"), sample.kind), unit)
    for name, short_by, most in (("t1", Name("error"), plan.accept), ("t2", 2 * Name("error"), 0)):
        sheet.work(name, Name("nominal") - short_by, unit)
        sheet.note(f"below_{name}", sample.below(sheet.results[name]), f"the contents below {name}")
        sheet.note(f"below_{name}_at_most", most, "by the plan")
        holds.append(sheet.holds(f"below_{name}", f"below_{name}_at_most"))
    sheet.work("measuring_error_at_most", Name("error") / 5, unit)
    mean_holds, few_below_t1, none_below_t2 = holds
    if none_below_t2 and plan.accept < sheet.results["below_t1"].value < plan.reject:
        return f"weigh {plan.second} more"
    return "accept" if mean_holds and few_below_t1 and none_below_t2 else "reject"


def _american(sheet: Sheet, sample: _Sample, lot: int, rows: Pairs | None) -> str:
    unit = sample.nominal.unit
    tree = allowed_variation(Name("nominal"), sample.kind) if rows is None else None
    own = None if rows is None else variation_of_rows(sample.nominal, rows)
    plan = american_plan(lot, len(sample.contents))
    mean_holds = _mean_holds(sheet, sample, plan)
    if tree is not None:
        sheet.work("variation", tree, unit)
    elif own is not None:
        sheet.put("variation", "the row of variations", Quantity(own.value, unit))
    shortest = Quantity(sample.nominal.value - sheet.results["variation"].value, unit)
    sheet.known["shortest"] = shortest
    sheet.note("short", sample.below(shortest), "the contents below nominal \N{MINUS SIGN} variation")
    sheet.note("short_at_most", plan.accept, "by the plan")
    few_are_short = sheet.holds("short", "short_at_most")
    return "accept" if mean_holds and few_are_short else "reject"


def _mean_holds(sheet: Sheet, sample: _Sample, plan: Plan) -> bool:
    count, unit = len(sample.contents), sample.nominal.unit
    net = "gross \N{MINUS SIGN} tare"
    sheet.lines.append(f"content = {f'({net}) ÷ density' if sample.kind == 'volume' else net}")
    sheet.put("mean", f"sum of the contents ÷ {count}", sample.mean)
    if count > 1:
        sheet.put("deviation", f"√(sum of (content \N{MINUS SIGN} mean)² ÷ {count - 1})", sample.deviation)
    least: Expression = Name("nominal")
    if not plan.is_whole_lot:
        _put_factor(sheet, plan, count)
        least = least - Name("factor") * Name("deviation")
    sheet.work("mean_at_least", least, unit)
    sheet.put("least", "the smallest content", Quantity(min(sample.contents), unit))
    return sheet.holds("mean_at_least", "mean")


def _put_factor(sheet: Sheet, plan: Plan, count: int) -> None:
    if plan.factor is None:
        sheet.take("factor", calculate(mean_factor, {"count": Quantity(Fraction(count), UNITS[""])}))
    else:
        sheet.note("factor", plan.factor, f"as printed for {count}")


REPORTS: tuple[Report, ...] = (lot_check,)

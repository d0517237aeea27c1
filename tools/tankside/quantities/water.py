"""Hardness of water, and how long a softener lasts."""

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from tankside.quantities.expression import Expression, Name, constant, round_down
from tankside.quantities.helper import ABOVE_ZERO, FROM_ZERO, Argument, Bound, Helper, Result, Trees, Variant, helper

_TASK: Final = "Water"
_HARDNESS: Final = ("mass concentration", "amount concentration")
_UNITS: Final = ("mg/L", "grain/US gal", "dH", "fH")
#: of calcium carbonate, which hardness is counted as
_MOLAR_MASS: Final = constant("100.0869 g/mol")
#: upper ends of the classes of the US Geological Survey
_CLASSES: Final = (
    (constant("60 mg/L"), "soft"),
    (constant("120 mg/L"), "moderately hard"),
    (constant("180 mg/L"), "hard"),
)


def _as_mass(name: str, kind: str) -> Mapping[str, Expression]:
    return MappingProxyType({name: Name(name) * _MOLAR_MASS} if kind == "amount concentration" else {})


def _class(values: Mapping[str, Fraction]) -> Mapping[str, str]:
    fitting = (word for end, word in _CLASSES if values["value"] <= end.quantity.value)
    return {"class": next(fitting, "very hard"), "scheme": "US Geological Survey"}


@helper(
    task=_TASK,
    arguments=(
        Argument("value", _HARDNESS, "hardness as it was reported", "18 grain/US gal", low=FROM_ZERO),
        Argument("to", _UNITS, "unit wanted", "mg/L", required=False, choices=_UNITS),
    ),
    results=(Result("value", "mg/L", "up", "the same, as calcium carbonate"),),
    variants=tuple(
        Variant(
            MappingProxyType({"value": kind, **({} if unit is None else {"to": unit})}),
            stands_for=_as_mass("value", kind),
            units=MappingProxyType({"value": unit or "mg/L"}),
        )
        for kind in _HARDNESS
        for unit in (None, *_UNITS)
    ),
    words=_class,
)
def hardness(value: Expression) -> Trees:
    """Return the hardness of water in another unit, and what it is called.

    ``value`` in the unit wanted; one in mmol/L counts as ``value * 100.0869 g/mol``. Classes: soft up to 60 mg/L,
    moderately hard up to 120 mg/L, hard up to 180 mg/L, then very hard.

    Args:
        value: hardness as calcium carbonate [mg/L, grain/US gal, dH, fH, or mmol/L], from 0.
        to: unit wanted [mg/L, grain/US gal, dH, fH]; mg/L when none is named.

    Returns:
        value: the same hardness [unit named by to].
        class: soft, moderately hard, hard or very hard.
        scheme: whose classes these are.

    Raises:
        OutOfDomainError: value is below 0.
        ChoiceUnknownError: to is none of the units.

    Limits:
        other schemes draw their lines elsewhere; a class means nothing without its scheme. A sample of one day.

    Source:
        US Geological Survey, water hardness in the United States; it prints 0 to 60, 61 to 120, 121 to 180, and a value
        between two classes counts to the harder one.

    Example:
        tankside calc hardness value="18 grain/US gal" to="mg/L"
        class very hard, scheme US Geological Survey, value ≈ 308.125 mg/L
    """
    return {"value": value}


_SOFTENING: Final = {"hardness": "mass concentration", "use": "flow", "capacity": "mass"}


@helper(
    task=_TASK,
    arguments=(
        Argument("hardness", ("mass concentration",), "hardness of the water", "10 grain/US gal", low=ABOVE_ZERO),
        Argument("use", ("flow",), "water used in a day", "320 US gal/d", low=ABOVE_ZERO),
        Argument("capacity", ("mass",), "hardness taken up between regenerations", "30000 grain", low=ABOVE_ZERO),
        Argument("iron", ("mass concentration",), "iron and manganese", "1.5 mg/L", required=False, low=FROM_ZERO),
        Argument(
            "iron_factor",
            ("ratio",),
            "grains per US gallon to add for each mg/L of iron, by the maker of the softener",
            "2",
            required=False,
            low=Bound(Fraction(0), inclusive=True),
        ),
    ),
    results=(
        Result("compensated", "grain/US gal", "up", "hardness to set, iron counted in", like=("hardness",)),
        Result("interval", "d", "down", "whole days from one regeneration to the next"),
    ),
    variants=(
        Variant(MappingProxyType(_SOFTENING)),
        Variant(MappingProxyType({**_SOFTENING, "iron": "mass concentration", "iron_factor": "ratio"})),
    ),
)
def softener_interval(
    hardness: Expression,
    use: Expression,
    capacity: Expression,
    iron: Expression | None = None,
    iron_factor: Expression | None = None,
) -> Trees:
    """Return how many whole days a water softener lasts from one regeneration to the next.

    ``compensated = hardness + iron_factor * iron * (1 grain/US gal) / (1 mg/L)``,
    ``interval = capacity / (compensated * use)`` rounded down to whole days

    Args:
        hardness: hardness of the water as calcium carbonate [grain/US gal, mg/L], above 0.
        use: water used in a day [US gal/d, L/d], above 0.
        capacity: hardness the softener takes up between regenerations at the salt setting used, less its reserve
        [grain, g], above 0.
        iron: iron and manganese in the water together [mg/L], from 0; with iron_factor.
        iron_factor: grains per US gallon to add for each mg/L of them, from 0; the maker of the softener says how many.

    Returns:
        compensated: hardness to set on the softener [unit of hardness].
        interval: whole days; 0 when it does not last a day [d].

    Raises:
        OutOfDomainError: hardness, use or capacity is not above 0, or iron or iron_factor is below 0.
        ArgumentMissingError: iron without iron_factor, or the other way round.

    Limits:
        for the use of an ordinary day; a day with two batches uses more. Makers differ in their factors, so that none
        is supposed. A hardness test of the softened water shows whether the interval holds.

    Source:
        mass balance; counting iron as hardness is common practice of the trade, with factors of 2 and more.

    Example:
        tankside calc softener-interval hardness="10 grain/US gal" use="320 US gal/d" capacity="30000 grain" \
iron="1.5 mg/L" iron_factor=2
        compensated 13 grain/US gal, interval 7 d
    """
    counted = hardness
    if iron is not None and iron_factor is not None:
        counted = hardness + iron_factor * iron * constant("1 grain/US gal") / constant("1 mg/L")
    return {
        "compensated": counted,
        "interval": round_down(capacity / (Name("compensated") * use), constant("1 d")),
    }


HELPERS: tuple[Helper, ...] = (hardness, softener_interval)

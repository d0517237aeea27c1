"""What is left of stored bleach, for planning only."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Final

from tankside.quantities.expression import Call, Expression, Name, constant, table
from tankside.quantities.helper import ABOVE_ZERO, FROM_ZERO, Argument, Bound, Helper, Result, Trees, Variant, helper
from tankside.units import UNITS

_START: Final = "12.5 %w/v"
_AGES: Final = ("1 d", "3 d", "7 d", "14 d", "21 d", "30 d", "60 d", "90 d", "120 d", "150 d", "180 d")
#: What is left of 12.5 %w/v of available chlorine after each age, up to a temperature.
#: Trouble Free Pool wiki, Breakdown of Bleach Over Time by Storage Temp; a month counts as 30 d here.
_LEFT: Final[Mapping[str, str]] = MappingProxyType(
    {
        "70 degF": "12.44 12.33 12.12 11.78 11.47 11.11 10.10 9.28 8.67 8.18 7.78",
        "75 degF": "12.41 12.25 11.94 11.46 11.04 10.57 9.33 8.40 7.74 7.24 6.84",
        "80 degF": "12.37 12.13 11.69 11.04 10.50 9.93 8.49 7.48 6.81 6.33 5.95",
        "85 degF": "12.31 11.96 11.36 10.51 9.85 9.18 7.60 6.57 5.93 5.48 5.13",
        "90 degF": "12.22 11.73 10.92 9.87 9.10 8.36 6.73 5.72 5.13 4.72 4.41",
        "95 degF": "12.10 11.41 10.37 9.13 8.29 7.51 5.90 4.95 4.42 4.05 3.78",
        "38 degC": "11.92 10.99 9.71 8.33 7.45 6.68 5.14 4.27 3.79 3.47 3.23",  # printed for 100 degF
    }
)


def _left_of_start(temperature: Expression, age: Expression) -> Call:
    """Return the look-up of what is left of the table's own stock: the next hotter column, the next later row."""
    return _table(temperature, [(limit, _column(age, figures.split())) for limit, figures in _LEFT.items()])


def _column(age: Expression, figures: Sequence[str]) -> Call:
    later = [(limit, constant(f"{left} %w/v")) for limit, left in zip(_AGES, figures, strict=True)]
    return _table(age, [("0 d", constant(_START)), *later])


def _table(value: Expression, rows: Sequence[tuple[str, Expression]]) -> Call:
    *first, (_, last) = rows
    return table(value, [(constant(limit), found) for limit, found in first], last)


@helper(
    task="Mix a batch",
    arguments=(
        Argument(
            "strength",
            ("mass concentration",),
            "available chlorine when it was last measured",
            "12.5 %w/v",
            low=ABOVE_ZERO,
            high=Bound(constant(_START).quantity.value, inclusive=True),
        ),
        Argument(
            "temperature",
            ("temperature",),
            "warmest temperature of the store",
            "80 degF",
            low=Bound(UNITS["degC"].offset, inclusive=True),
            high=Bound(constant("38 degC").quantity.value, inclusive=True),
        ),
        Argument(
            "age",
            ("time",),
            "time since then",
            "30 d",
            low=FROM_ZERO,
            high=Bound(constant(_AGES[-1]).quantity.value, inclusive=True),
        ),
    ),
    results=(
        Result("strength", "g/L", "down", "what is left, for planning only: measure before use", like=("strength",)),
        Result("tolerance", "g/L", "up", "how far off that may be", like=("strength",)),
    ),
    variants=(
        Variant(MappingProxyType({"strength": "mass concentration", "temperature": "temperature", "age": "time"})),
    ),
)
def bleach_strength(strength: Expression, temperature: Expression, age: Expression) -> Trees:
    """Return an estimate of the strength left in stored bleach, for planning stock and nothing else.

    ``strength = 1 / (1 / strength + 1 / left - 1 / 12.5 %w/v)``, where ``left`` is what a table gives for 12.5 %w/v in
    its next hotter column and next later row; ``tolerance = strength / 10``.

    Args:
        strength: available chlorine when it was last measured [%w/v, which the trade calls %; g/L], above 0 and at
            most 12.5 %w/v.
        temperature: warmest temperature of the store [degC, degF], 0 to 38 degC.
        age: time since then [d, week], 0 to 180 d.

    Returns:
        strength: what is left [unit of strength]; an estimate on the low side, and never a strength for a batch.
        tolerance: how far off that may be for clean bleach at the table's own temperature and age [unit of strength].

    Raises:
        OutOfDomainError: the bleach is stronger, warmer or older than the table, or a value is not in its range.

    Limits:
        for planning stock only. A table is not this drum: light, metals (nickel, copper), dirt and a low pH destroy
        bleach much faster, without limit. Between two rows or columns more is left than it says, and bleach
        that starts weaker keeps better than it says. The tolerance is an allowance without a source: within it
        agree the table, the 3 to 3.5 times a 10 degC and, from memory, a half-life of 220 d for 10 %w/v at 25 degC.
        A strength by label or table never goes into a batch without a measurement: titrate.

    Source:
        Trouble Free Pool wiki, Breakdown of Bleach Over Time by Storage Temp (stored copy), worked out there from
        published rate constants with fitted factors; decay of second order in strength: a supplier's handbook on
        bleach (copy).

    Example:
        tankside calc bleach-strength strength="12.5 %w/v" temperature="80 degF" age="30 d"
        strength 9.93 %w/v, tolerance 0.993 %w/v
    """
    left = _left_of_start(temperature, age)
    return {
        "strength": 1 / (1 / strength + 1 / left - 1 / constant(_START)),
        "tolerance": Name("strength") / 10,
    }


HELPERS: tuple[Helper, ...] = (bleach_strength,)

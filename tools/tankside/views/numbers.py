"""The text of a quantity. Text is made of a number here and nowhere else."""

from math import ceil, floor

from tankside.model.facts import Limits
from tankside.quantities.counterpart import counterpart
from tankside.quantities.decimal_text import decimal_text, rounded, short_quantity, with_unit
from tankside.quantities.working import value_text
from tankside.texts import Words
from tankside.units import Quantity
from tankside.views.wording import with_degrees

#: significant digits of a value that is not rounded to a vessel
DIGITS = 4
#: significant digits of the same value in the other system of units, and of what lies between two
OTHER_DIGITS = 3
METRIC = "metric"
#: the units of volume and mass that belong to the US customary system
CUSTOMARY_UNITS = frozenset({"US fl oz", "US pt", "US qt", "US gal", "in3", "ft3", "oz", "lb"})


def exact_text(quantity: Quantity) -> str:
    """Return a quantity in the unit it was given, in full unless that is longer than a line can take."""
    return value_text(quantity)[0]


def primary_text(quantity: Quantity, system: str, say: Words) -> str:
    """Return a quantity in the book's first system of units; "about" when digits are left away."""
    return _short(_primary(quantity, system), DIGITS, say)


def range_text(low: Quantity, high: Quantity, system: str, say: Words) -> str:
    """Return what lies between two quantities in the book's first system of units, rounded outward."""
    if low == high:
        return _short(_primary(low, system), OTHER_DIGITS, say)
    first, last = _primary(low, system), _primary(high, system)
    start = decimal_text(rounded(first.number, OTHER_DIGITS, floor))
    end = decimal_text(rounded(last.number, OTHER_DIGITS, ceil))
    if first.unit != last.unit:
        start = with_unit(start, first.unit.symbol)
    return say("limits-both", low=start, high=with_unit(end, last.unit.symbol))


def other_text(quantity: Quantity, system: str, say: Words) -> str | None:
    """Return the same quantity in the other system of units, None where there is none to show."""
    other = counterpart(quantity)
    if other is None:
        return None
    return _short(other if _belongs_to(quantity, system) else quantity, OTHER_DIGITS, say)


def limits_text(limits: Limits, say: Words) -> str:
    """Return a pair of limits, one of which may be missing, as the book writes them."""
    low, high = (with_degrees(str(end)) for end in (limits.from_, limits.to))
    if limits.from_ is None:
        return say("limits-high", high=high)
    if limits.to is None:
        return say("limits-low", low=low)
    return say("limits-both", low=low, high=high)


def _primary(quantity: Quantity, system: str) -> Quantity:
    other = counterpart(quantity)
    return quantity if other is None or _belongs_to(quantity, system) else other


def _belongs_to(quantity: Quantity, system: str) -> bool:
    return (quantity.unit.symbol not in CUSTOMARY_UNITS) == (system == METRIC)


def _short(quantity: Quantity, digits: int, say: Words) -> str:
    text, exact = short_quantity(quantity, digits)
    text = with_degrees(text)
    return text if exact else say("about", value=text)

"""Decimal text of exact values. Halves go away from zero; there is never an exponent."""

from collections.abc import Callable
from fractions import Fraction

from tankside.units import DIGITS, Quantity


def decimal_text(value: Fraction, digits: int = DIGITS) -> str:
    """Return ``value`` in full when its decimals end, else to ``digits`` significant digits."""
    places = _places_when_finite(value)
    if places is None:
        value, places = rounded(value, digits), _places_for(value, digits)
    return _fixed(value, max(places, 0))


def short_text(value: Fraction, significant: int) -> tuple[str, bool]:
    """Return text of at most ``significant`` digits, and whether it is still exact."""
    short = rounded(value, significant)
    return decimal_text(short), short == value


def quantity_text(quantity: Quantity) -> str:
    """Return the exact value in the unit it was given."""
    return with_unit(decimal_text(quantity.number), quantity.unit.symbol)


def short_quantity(quantity: Quantity, significant: int) -> tuple[str, bool]:
    """Return the value in its unit to at most ``significant`` digits, and whether it is still exact."""
    text, exact = short_text(quantity.number, significant)
    return with_unit(text, quantity.unit.symbol), exact


def with_unit(number: str, symbol: str) -> str:
    return f"{number} {symbol}".rstrip()


def nearest_whole(value: Fraction) -> int:
    """Return the whole number nearest to ``value``, a half away from zero."""
    # The division is of numbers that are not negative, where floor and truncation agree.
    whole = (2 * abs(value.numerator) + value.denominator) // (2 * value.denominator)
    return whole if value >= 0 else -whole


def rounded(value: Fraction, digits: int, whole: Callable[[Fraction], int] = nearest_whole) -> Fraction:
    """Return ``value`` to ``digits`` significant digits, by default to the nearest."""
    step = Fraction(10) ** -_places_for(value, digits)
    return whole(value / step) * step


def _places_for(value: Fraction, digits: int) -> int:
    """Return how many decimals hold ``digits`` significant digits; negative left of the mark."""
    if value == 0:
        return 0
    magnitude = len(str(abs(value.numerator))) - len(str(value.denominator))
    if abs(value) < Fraction(10) ** magnitude:
        magnitude -= 1
    return digits - 1 - magnitude


def _places_when_finite(value: Fraction) -> int | None:
    """Return the decimals of an expansion that ends, or None; it ends when only 2 and 5 divide the denominator."""
    rest, twos, fives = value.denominator, 0, 0
    while rest % 2 == 0:
        rest, twos = rest // 2, twos + 1
    while rest % 5 == 0:
        rest, fives = rest // 5, fives + 1
    return max(twos, fives) if rest == 1 else None


def _fixed(value: Fraction, places: int) -> str:
    """Return ``value``, a whole number of units of the last place, without trailing zeros after the mark."""
    digits = str(abs(value.numerator) * 10**places // value.denominator).rjust(places + 1, "0")
    whole, decimals = digits[: len(digits) - places], digits[len(digits) - places :].rstrip("0")
    sign = "-" if value < 0 else ""
    return f"{sign}{whole}.{decimals}" if decimals else f"{sign}{whole}"

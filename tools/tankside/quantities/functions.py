"""Logarithm and pi in whole numbers, so that Python and BigInt agree to the last digit.

Values are whole numbers of 10^-60. Every division below has a numerator that is not negative and a
positive denominator: there Python's floor and BigInt's truncation are the same. Signs are put back at the end.

Accuracy: the result is rounded, halves away from zero, to 50 decimals. A series drops less than one unit of
10^-60 a term in fewer than 70 terms, and a logarithm multiplies ln 2 by the power of two in its argument; the error
stays below 10^-50 for arguments from 2^-10000 to 2^10000. It is an absolute error: the logarithm of a
number within 10^-20 of 1 has fewer than 30 correct significant digits.
"""

from fractions import Fraction
from functools import cache
from typing import Final

_SCALE: Final = 10**60
_GUARD: Final = 10**10


def ln(value: Fraction) -> Fraction:
    """Return the natural logarithm of ``value``, which is above 0."""
    if value <= 0:
        raise ValueError(f"logarithm of {value}, which is not above 0")
    above, below = value.numerator, value.denominator
    twos = above.bit_length() - below.bit_length()
    if (above < below << twos) if twos >= 0 else (above << -twos < below):
        twos -= 1
    # value = 2^twos * m with 1 <= m < 2
    above, below = (above, below << twos) if twos >= 0 else (above << -twos, below)
    return _without_guard(twos * _ln_from_one_to_two(2, 1) + _ln_from_one_to_two(above, below))


@cache
def pi() -> Fraction:
    """Return pi, by Machin: 16 atan(1/5) - 4 atan(1/239)."""
    return _without_guard(16 * _arctangent_of_one_over(5) - 4 * _arctangent_of_one_over(239))


def _ln_from_one_to_two(above: int, below: int) -> int:
    """ln m = 2 (y + y^3/3 + y^5/5 + ...) with y = (m - 1) / (m + 1), so 0 <= y <= 1/3."""
    power = (above - below) * _SCALE // (above + below)
    square = power * power // _SCALE
    total, odd = 0, 1
    while power:
        total += power // odd
        power, odd = power * square // _SCALE, odd + 2
    return 2 * total


def _arctangent_of_one_over(n: int) -> int:
    """Atan(1/n) = 1/n - 1/(3 n^3) + 1/(5 n^5) - ..."""
    power = _SCALE // n
    total, odd, sign = 0, 1, 1
    while power:
        total += sign * (power // odd)
        power, odd, sign = power // (n * n), odd + 2, -sign
    return total


def _without_guard(scaled: int) -> Fraction:
    whole = (2 * abs(scaled) + _GUARD) // (2 * _GUARD)
    return Fraction(whole if scaled >= 0 else -whole, _SCALE // _GUARD)

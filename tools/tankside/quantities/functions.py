"""Logarithm, roots, angles and pi in whole numbers, so that Python and BigInt agree to the last digit.

Values are whole numbers of 10^-60. Every division below has a numerator that is not negative and a
positive denominator: there Python's floor and BigInt's truncation are the same. Signs are put back at the end.

- ``ln``: powers of two are taken out, the rest is a series.
- ``root``, ``cube_root``: the whole root of the scaled argument; a rational root is exact.
- ``arccos``: ``2 arctan sqrt((1 - c) / (1 + c))``; an arctangent is halved until its argument is at most 1/5, the rest
  is a series. ``pi`` is made of two such series.
- ``segment_depth``: the angle of a circle's segment by bisection, always in 202 steps, with the series of the sine.

Accuracy: the result is rounded, halves away from zero, to 50 decimals. A series drops less than one unit of
10^-60 a term in fewer than 70 terms, and a logarithm multiplies ln 2 by the power of two in its argument. The error
stays below 10^-50 for a logarithm from 2^-10000 to 2^10000, for every root and arccosine, and for the depth of a
segment of a share from 10^-30 up; below that share it stays under 10^-40. It is an absolute error: the logarithm of a
number within 10^-20 of 1 has fewer than 30 correct significant digits.
"""

from fractions import Fraction
from functools import cache
from math import isqrt
from typing import Final

_SCALE: Final = 10**60
_GUARD: Final = 10**10
#: halvings that bring 4 down to one unit: 4 * 10^60 < 2^202
_BISECTIONS: Final = 202


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


def root(value: Fraction) -> Fraction:
    """Return the square root of ``value``, which is from 0 up; exact where it is rational."""
    if value < 0:
        raise ValueError(f"square root of {value}, which is below 0")
    above, below = isqrt(value.numerator), isqrt(value.denominator)
    if above * above == value.numerator and below * below == value.denominator:
        return Fraction(above, below)
    return _without_guard(isqrt(value.numerator * _SCALE * _SCALE // value.denominator))


def cube_root(value: Fraction) -> Fraction:
    """Return the cube root of ``value``, which is from 0 up; exact where it is rational."""
    if value < 0:
        raise ValueError(f"cube root of {value}, which is below 0")
    above, below = _whole_cube_root(value.numerator), _whole_cube_root(value.denominator)
    if above**3 == value.numerator and below**3 == value.denominator:
        return Fraction(above, below)
    return _without_guard(_whole_cube_root(value.numerator * _SCALE**3 // value.denominator))


@cache
def pi() -> Fraction:
    return _without_guard(_pi())


def arccos(value: Fraction) -> Fraction:
    """Return the angle from 0 to pi that has ``value``, from -1 to 1, as its cosine."""
    if not -1 <= value <= 1:
        raise ValueError(f"arccosine of {value}, which is not from -1 to 1")
    above, below = abs(value.numerator), value.denominator
    angle = 2 * _arctangent(isqrt((below - above) * _SCALE * _SCALE // (below + above)))
    return _without_guard(angle if value >= 0 else _pi() - angle)


def segment_depth(share: Fraction) -> Fraction:
    """Return the depth of the segment that has this ``share`` of a circle's area, as a share of the diameter.

    Where the segment is seen from the centre under the angle a, up to pi,
    its share is (a - sin a) / (2 pi) and its depth is sin(a/4)^2.
    """
    if not 0 <= share <= 1:
        raise ValueError(f"segment with the share {share}, which is not from 0 to 1")
    if 2 * share > 1:
        return 1 - segment_depth(1 - share)
    wanted = 2 * _pi() * share.numerator // share.denominator
    low, high = 0, 4 * _SCALE
    for _ in range(_BISECTIONS):
        middle = (low + high) // 2
        if middle - _sine(middle) < wanted:
            low = middle
        else:
            high = middle
    sine = _sine(low // 4)
    return _without_guard(sine * sine // _SCALE)


def _whole_cube_root(number: int) -> int:
    """Return the largest whole number whose cube is at most ``number``, by Newton's steps from above."""
    guess = 1 << (number.bit_length() + 2) // 3
    while guess**3 > number:
        guess = (2 * guess + number // (guess * guess)) // 3
    return guess


def _ln_from_one_to_two(above: int, below: int) -> int:
    """ln m = 2 (y + y^3/3 + y^5/5 + ...) with y = (m - 1) / (m + 1), so 0 <= y <= 1/3."""
    power = (above - below) * _SCALE // (above + below)
    square = power * power // _SCALE
    total, odd = 0, 1
    while power:
        total += power // odd
        power, odd = power * square // _SCALE, odd + 2
    return 2 * total


@cache
def _pi() -> int:
    """Return pi, by Machin: 16 atan(1/5) - 4 atan(1/239)."""
    return 16 * _arctangent(_SCALE // 5) - 4 * _arctangent(_SCALE // 239)


def _arctangent(tangent: int) -> int:
    """Atan t = 2 atan(t / (1 + sqrt(1 + t^2))), and for 0 <= t <= 1/5 it is t - t^3/3 + t^5/5 - ..."""
    if 5 * tangent > _SCALE:
        return 2 * _arctangent(tangent * _SCALE // (_SCALE + isqrt(_SCALE * _SCALE + tangent * tangent)))
    square = tangent * tangent // _SCALE
    power, total, odd, sign = tangent, 0, 1, 1
    while power:
        total += sign * (power // odd)
        power, odd, sign = power * square // _SCALE, odd + 2, -sign
    return total


def _sine(angle: int) -> int:
    """Sin a = a - a^3/3! + a^5/5! - ... for 0 <= a <= 4."""
    square = angle * angle // _SCALE
    term, total, last, sign = angle, 0, 1, 1
    while term:
        total += sign * term
        term, last, sign = term * square // (_SCALE * (last + 1) * (last + 2)), last + 2, -sign
    return total


def _without_guard(scaled: int) -> Fraction:
    whole = (2 * abs(scaled) + _GUARD) // (2 * _GUARD)
    return Fraction(whole if scaled >= 0 else -whole, _SCALE // _GUARD)

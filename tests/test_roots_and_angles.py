"""Cube root, arccosine and depth of a circle's segment against the decimal module's arithmetic."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from decimal import Decimal, localcontext
from fractions import Fraction
from math import acos

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tankside.quantities import functions
from tankside.quantities.dimension import DimensionError, dimension_of
from tankside.quantities.expression import Expression, Name, arccos, cube_root, root, segment_depth
from tankside.units import KINDS

# 100 decimals, as published: OEIS A000796
PI = Decimal("3.1415926535897932384626433832795028841971693993751058209749445923078164062862089986280348253421170679")
CLOSE = Fraction(1, 10**50)
A = Name("a")

shares = st.fractions(min_value=0, max_value=1, max_denominator=10**30)
cosines = st.fractions(min_value=-1, max_value=1, max_denominator=10**30)
positive = st.fractions(min_value=Fraction(1, 10**30), max_value=10**30, max_denominator=10**30)


@contextmanager
def many_digits() -> Iterator[None]:
    with localcontext() as context:
        context.prec = 90
        yield


def decimal(value: Fraction) -> Decimal:
    return Decimal(value.numerator) / Decimal(value.denominator)


def series(x: Decimal, first: int) -> Decimal:
    """x^first / first! - x^(first + 2) / (first + 2)! + ...: the cosine from 0 on, the sine from 1 on."""
    term, total, n = x**first if first else Decimal(1), Decimal(0), first
    while abs(term) > Decimal(10) ** -88:
        total += term
        term *= -x * x / ((n + 1) * (n + 2))
        n += 2
    return total


def angle_with_cosine(cosine: Decimal) -> Decimal:
    """Newton's steps on the series of the cosine, from the floating-point value."""
    angle = Decimal(acos(float(cosine)))
    for _ in range(4):
        angle += (series(angle, 0) - cosine) / series(angle, 1)
    return angle


def share_of_segment(depth: Fraction) -> Fraction:
    """Area of the segment over the circle's: (b - sin b cos b) / pi, with b half the angle and cos b = 1 - 2 depth."""
    with many_digits():
        half = angle_with_cosine(decimal(1 - 2 * depth))
        return Fraction((half - series(half, 1) * series(half, 0)) / PI)


@given(positive)
def test_cube_root_is_right_to_fifty_decimals(value: Fraction) -> None:
    found = functions.cube_root(value)
    assert (found - CLOSE) ** 3 < value < (found + CLOSE) ** 3


@given(st.fractions(min_value=0, max_denominator=10**12, max_value=10**12))
def test_cube_root_of_a_cube_is_exact(value: Fraction) -> None:
    assert functions.cube_root(value**3) == value


@given(cosines)
def test_cosine_of_the_arccosine_is_what_was_given(cosine: Fraction) -> None:
    with many_digits():
        back = Fraction(series(decimal(functions.arccos(cosine)), 0))
    assert abs(back - cosine) <= CLOSE
    assert 0 <= functions.arccos(cosine) <= functions.pi()


@pytest.mark.parametrize(("cosine", "part"), [("1", 0), ("1/2", Fraction(1, 3)), ("0", Fraction(1, 2)), ("-1", 1)])
def test_well_known_angles_are_parts_of_pi(cosine: str, part: Fraction) -> None:
    assert abs(functions.arccos(Fraction(cosine)) - Fraction(PI) * part) <= CLOSE


@given(st.fractions(min_value=Fraction(1, 10**9), max_value=1 - Fraction(1, 10**9), max_denominator=10**30))
def test_segment_of_the_depth_found_has_the_share_asked_for(share: Fraction) -> None:
    # A share changes by at most 4/pi for a whole depth.
    assert abs(share_of_segment(functions.segment_depth(share)) - share) <= 2 * CLOSE


@pytest.mark.parametrize("share", [10**-12, 10**-24, 10**-30])
def test_depth_of_a_tiny_segment_is_that_of_a_parabola(share: float) -> None:
    # share = 8 / (3 pi) * 2 * x^1.5 * (1 - 3x/10 - ...) for a depth of x diameters
    depth = functions.segment_depth(Fraction(share))
    assert float(depth) == pytest.approx((share * 3 * 3.141592653589793 / 16) ** (2 / 3), rel=1e-7)


@pytest.mark.parametrize(("share", "depth"), [("0", "0"), ("1/2", "1/2"), ("1", "1")])
def test_empty_half_and_full_circle_are_exact(share: str, depth: str) -> None:
    assert functions.segment_depth(Fraction(share)) == Fraction(depth)


@given(shares)
def test_what_is_empty_has_the_depth_that_is_left(share: Fraction) -> None:
    assert functions.segment_depth(share) + functions.segment_depth(1 - share) == 1


@given(shares, shares)
def test_larger_segment_is_not_less_deep(one: Fraction, other: Fraction) -> None:
    less, more = sorted((one, other))
    assert functions.segment_depth(less) <= functions.segment_depth(more)


@pytest.mark.parametrize(
    ("function", "value", "sentence"),
    [
        (functions.cube_root, "-1", "cube root of -1, which is below 0"),
        (functions.arccos, "-101/100", "arccosine of -101/100, which is not from -1 to 1"),
        (functions.arccos, "2", "arccosine of 2, which is not from -1 to 1"),
        (functions.segment_depth, "-1", "segment with the share -1, which is not from 0 to 1"),
        (functions.segment_depth, "3/2", "segment with the share 3/2, which is not from 0 to 1"),
    ],
)
def test_argument_out_of_the_domain_is_refused(
    function: Callable[[Fraction], Fraction], value: str, sentence: str
) -> None:
    with pytest.raises(ValueError) as refused:
        function(Fraction(value))
    assert str(refused.value) == sentence


VOLUME, AREA, LENGTH, PLAIN = (KINDS[kind].dimension for kind in ("volume", "area", "length", "ratio"))


def test_cube_root_of_a_volume_is_a_length_as_the_root_of_an_area_is() -> None:
    assert dimension_of(cube_root(A), {"a": VOLUME}) == LENGTH
    assert dimension_of(root(A), {"a": AREA}) == LENGTH
    assert dimension_of(arccos(A), {"a": PLAIN}) == PLAIN
    assert dimension_of(segment_depth(A), {"a": PLAIN}) == PLAIN


@pytest.mark.parametrize("tree", [cube_root(A), arccos(A), segment_depth(A)])
def test_area_has_no_cube_root_and_no_angle(tree: Expression) -> None:
    with pytest.raises(DimensionError):
        dimension_of(tree, {"a": AREA})

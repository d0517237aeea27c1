"""Type size from the distance at which a sheet is read."""

from fractions import Fraction
from math import ceil

#: capital height of Atkinson Hyperlegible over its type size, read from the font (OS/2 sCapHeight 668 of 1000)
CAPITAL_HEIGHT = Fraction(668, 1000)
#: a capital is at least the reading distance over this (FAA human factors design guide, HF-STD-001)
DISTANCE_OVER_CAPITAL = 200
MM_PER_POINT = Fraction(254, 720)
#: from where a step sheet is read
STEP_SHEET_MM = 700
#: from where the steps of an emergency are read
WALL_SHEET_MM = 1000
#: steps are never set smaller
LEAST_POINTS = 15


def type_size(distance_mm: int) -> int:
    """Return the type size in whole points for a reading distance in mm."""
    capital = Fraction(distance_mm, DISTANCE_OVER_CAPITAL)
    return max(LEAST_POINTS, ceil(capital / CAPITAL_HEIGHT / MM_PER_POINT))

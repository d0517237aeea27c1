"""Type size from the distance at which a sheet is read."""

from fractions import Fraction
from math import ceil

#: capital height of Atkinson Hyperlegible over its type size, read from the font (OS/2 sCapHeight 668 of 1000)
CAPITAL_HEIGHT = Fraction(668, 1000)
#: a capital is at least the reading distance over this (FAA human factors design guide, HF-STD-001)
DISTANCE_OVER_CAPITAL = 200
MM_PER_POINT = Fraction(254, 720)
#: from where each kind of sheet is read, in mm, where the book does not say
READ_FROM_MM = {
    "step-sheet": 700,
    "wall-sheet": 1000,
    "banner": 2000,
    "lockout-sheet": 700,
    "chart-sheet": 700,
    "container-label": 500,
    "training-sheet": 500,
    "plant-sheet": 350,
    "plan-sheet": 500,
    "induction-sheet": 500,
    "visitor-sheet": 500,
}
#: steps are never set smaller
LEAST_POINTS = 15
#: nor is anything else, though the eye may be near: common practice, no source
LEAST_IN_HAND_POINTS = 8


def legible_points(distance_mm: Fraction) -> Fraction:
    """Return the smallest type size in points that can be read from a distance in mm."""
    return Fraction(distance_mm, DISTANCE_OVER_CAPITAL) / CAPITAL_HEIGHT / MM_PER_POINT


def type_size(distance_mm: Fraction, least: int = LEAST_POINTS) -> int:
    """Return the type size in whole points for a reading distance in mm."""
    return max(least, ceil(legible_points(distance_mm)))

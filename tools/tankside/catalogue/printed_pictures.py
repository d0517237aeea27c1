"""How large a picture is printed, and how fine it must be to be read from where a step sheet is read."""

from fractions import Fraction

from tankside.model.reading import DISTANCE_OVER_CAPITAL, READ_FROM_MM

MM_PER_INCH = Fraction(254, 10)
#: the most that `.picture` of assets/print/sheet.css gives it [mm]; a test compares the two
MOST_WIDE_MM = Fraction(90)
MOST_HIGH_MM = Fraction(48)
#: our judgement: below this one sees the steps in a slanting line at arm's length
LEAST_DOTS = 150
#: pixels of CSS to the inch (CSS Values and Units 3, section 6.2); a picture is printed no larger than that
CSS_DOTS = 96
#: letters in a picture are read with the steps
LEAST_CAPITAL_MM = Fraction(READ_FROM_MM["step-sheet"], DISTANCE_OVER_CAPITAL)


def largest_mm(ratio: Fraction = MOST_WIDE_MM / MOST_HIGH_MM) -> tuple[Fraction, Fraction]:
    """Return width and height [mm] of the largest print of a picture with this ratio of width to height."""
    width = min(MOST_WIDE_MM, MOST_HIGH_MM * ratio)
    return width, width / ratio


def printed_mm(width: Fraction | int, height: Fraction | int) -> tuple[Fraction, Fraction]:
    """Return width and height [mm] in print of a picture of this size [px of CSS]: made to fit, never larger."""
    own = Fraction(width) / CSS_DOTS * MM_PER_INCH
    most = largest_mm(Fraction(width) / Fraction(height))
    return most if own > most[0] else (own, own * height / width)

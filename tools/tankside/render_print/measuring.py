"""How many lines a text takes, from the widths in the font: margins have to be known before a page is laid out."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from fontpkg_atkinson_hyperlegible import ROOT as FONT
from fontTools.ttLib import TTFont

from tankside.model.reading import MM_PER_POINT
from tankside.render_print.engine import FONTS

#: what is kept free of a line, so that a difference in rounding or kerning never adds a line that was not counted
SPARE = Fraction(2, 100)


#: some words and their weight
WeightedText = tuple[str, int]


@dataclass(frozen=True)
class Advances:
    """The widths of the characters of one weight, in parts of the type size."""

    of_character: Mapping[str, Fraction]
    #: counts for a character that the font has not
    widest: Fraction

    def __getitem__(self, character: str) -> Fraction:
        """Return the width of a character."""
        return self.of_character.get(character, self.widest)


@cache
def advances(weight: int) -> Advances:
    """Return the widths of one weight of the type."""
    with TTFont(FONT / "files" / FONTS[weight]) as font:
        units, widths = font["head"].unitsPerEm, font["hmtx"]
        of_character = {chr(code): Fraction(widths[name][0], units) for code, name in font.getBestCmap().items()}
    return Advances(of_character, max(of_character.values()))


def line_count(
    texts: Iterable[WeightedText], points: int, width_mm: Fraction, hanging_mm: Fraction = Fraction(0)
) -> int:
    """Return how many lines some texts take that follow one another; all but the first are narrower by `hanging_mm`."""
    whole, narrow = (width * (1 - SPARE) / MM_PER_POINT / points for width in (width_mm, width_mm - hanging_mm))
    blank = advances(max(FONTS))[" "]
    lines, used, room = 1, Fraction(0), whole
    for word in _word_widths(texts):
        if used and used + blank + word > room:
            lines, used, room = lines + 1, Fraction(0), narrow
        used += word + (blank if used else 0)
        while used > room:
            lines, used, room = lines + 1, used - room, narrow
    return lines


def width_mm(texts: Iterable[WeightedText], points: int) -> Fraction:
    """Return how wide some texts are in one line, in mm, a little generously."""
    blank, widths = advances(max(FONTS))[" "], tuple(_word_widths(texts))
    return (sum(widths) + blank * (len(widths) - 1)) * points * MM_PER_POINT / (1 - SPARE)


def _word_widths(texts: Iterable[WeightedText]) -> Iterator[Fraction]:
    width = Fraction(0)
    for character, weight in ((character, weight) for text, weight in texts for character in text):
        if character != " ":
            width += advances(weight)[character]
        elif width:
            yield width
            width = Fraction(0)
    yield width

"""Reads a record sheet back from its PDF: its sentences as on a step sheet, and at each of them the places to write."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from sheet_reading import MM, PAGE_NUMBER, Place, Sheet, squeezed

#: sentences are set in 15 pt or more; everything smaller is a word at a place to write, or a control line
SENTENCE = 14.9
#: what stands above a line of text and still belongs to it: the upper half of the space between two steps
ABOVE = 2.5 * MM


@dataclass(frozen=True)
class Zone:
    """A strip of a page, in points from its top."""

    page: int
    top: float
    bottom: float

    def holds(self, each: dict[str, Any]) -> bool:
        """Whether something stands in it."""
        return bool(self.top <= each["top"] < self.bottom)


class RecordSheet(Sheet):
    """A record sheet read back; its lines are those of the sentences."""

    def __init__(self, data: bytes, stops: Sequence[str]) -> None:
        """Read `data`; `stops` are the texts that stand in the head of its pages."""
        super().__init__(data, stops)
        self.whole = self.pdf.pages
        self._found: dict[int, list[dict[str, Any]]] = {}
        self.pages = [
            page.filter(lambda each: each["object_type"] != "char" or each["size"] > SENTENCE) for page in self.whole
        ]

    def all_text(self, number: int) -> str:
        """Everything on a page, head and foot too."""
        return str(self.whole[number].extract_text())

    def strip(self, number: int) -> tuple[str, ...]:
        """What stands in the three cells at the top of a page, without white space: title, serial, lot."""
        page = self.whole[number]
        page = page.crop((0, 0, page.width, 60 * MM))
        cells = page.find_tables()[0].rows[0].cells
        return tuple(squeezed(page.crop(cell).extract_text()) for cell in cells if cell is not None)

    def zones(self, place: Place, after: Place) -> list[Zone]:
        """Where a sentence stands with what belongs to it, down to the next one, over as many pages as it takes."""
        (first, top), (last, bottom) = self._spot(place), self._spot(after)
        if first == last:
            return [Zone(first, top, bottom)]
        between = [Zone(number, self._head(number), self._foot(number)) for number in range(first + 1, last)]
        return [Zone(first, top, self._foot(first)), *between, Zone(last, self._head(last), bottom)]

    def _spot(self, place: Place) -> tuple[int, float]:
        page, char = self._chars[place.start]
        return page, char["top"] - ABOVE

    def _head(self, number: int) -> float:
        """The lower edge of the head of a page."""
        body = len(self._body(number))
        return float(max(char["bottom"] for line in self.lines(number)[:-body] for char in line.chars))

    def _foot(self, number: int) -> float:
        """The upper edge of the foot of a page."""
        chars = self.whole[number].chars
        return float(min(char["top"] for char in chars if round(char["size"], 1) == PAGE_NUMBER))

    def words(self, zones: Sequence[Zone]) -> Counter[str]:
        """The small words in some zones: what is written, ticked or ringed there."""
        return Counter(word["text"] for zone in zones for word in self.small_words(zone.page) if zone.holds(word))

    def small_words(self, number: int) -> list[dict[str, Any]]:
        if number not in self._found:
            page = self.whole[number].filter(lambda each: each["object_type"] == "char" and each["size"] <= SENTENCE)
            self._found[number] = page.extract_words()
        return self._found[number]

    def boxes(self, zones: Sequence[Zone]) -> int:
        """How many boxes to tick stand in some zones."""
        return sum(zone.holds(each) for zone in zones for each in self.ticks(zone.page))

    def frames(self, number: int) -> list[dict[str, Any]]:
        """The insides of the frames to write in on a page: each is filled between an outer and an inner edge."""
        rects = [each for each in self.whole[number].rects if each["fill"] and not each["stroke"]]
        return [inner for inner in rects if any(_is_border(outer, inner) for outer in rects)]


def _is_border(outer: dict[str, Any], inner: dict[str, Any]) -> bool:
    sides = (
        inner["x0"] - outer["x0"],
        outer["x1"] - inner["x1"],
        inner["top"] - outer["top"],
        outer["bottom"] - inner["bottom"],
    )
    return all(0.5 < side < 2 for side in sides) and inner["width"] < 200 * MM

"""Reads a sheet back from its PDF: what stands where. Nothing here asks the code that made it."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Any

import pdfplumber

MM = 72 / 25.4
#: type sizes of the control lines, which are read from near: the running title, the foot, the number of the page
TITLE, FOOT, PAGE_NUMBER = 12.0, 9.0, 11.0
#: sizes of headings, as parts of the size of the text
HEADINGS = (1.1, 1.25, 1.5)
#: from the edge of the paper to the line along which it is cut, its width, its grey, its dash and gap
CUT_EDGE, CUT_WIDTH, CUT_GREY, CUT_DASH = 5 * MM, 0.2 * MM, (0x77 / 255,) * 3, [2, 3]
#: white between two characters, in points, from which they stand in different columns
COLUMN_GAP = 8


def squeezed(text: str) -> str:
    """A text without white space: where a line is broken is no matter."""
    return re.sub(r"\s+", "", text)


def cut_lines(page: pdfplumber.page.Page) -> list[dict[str, Any]]:
    """The lines along which a page is cut: dashed, thin, grey, round the page at that distance; nothing else is one."""
    edges = (CUT_EDGE, CUT_EDGE, float(page.width) - CUT_EDGE, float(page.height) - CUT_EDGE)
    return [each for each in page.rects if _is_cut_line(each, edges)]


def _is_cut_line(rect: dict[str, Any], edges: tuple[float, ...]) -> bool:
    grey = rect["stroking_color"]
    return (
        all(abs(rect[side] - at) < 0.01 * MM for side, at in zip(("x0", "top", "x1", "bottom"), edges, strict=True))
        and bool(rect["stroke"] and not rect["fill"])
        and abs(rect["linewidth"] - CUT_WIDTH) < 0.01 * MM
        and len(grey) == 3
        and all(abs(one - other) < 0.01 for one, other in zip(grey, CUT_GREY, strict=True))
        and list(rect["dash"][0]) == CUT_DASH
    )


def drawn_on(page: pdfplumber.page.Page) -> list[dict[str, Any]]:
    """Everything that is drawn on a page but the line along which it is cut."""
    cut = {id(each) for each in cut_lines(page)}
    drawn = (*page.chars, *page.rects, *page.curves, *page.lines, *page.images)
    return [each for each in drawn if id(each) not in cut]


def clear_mm(page: pdfplumber.page.Page) -> tuple[float, ...]:
    """What is clear at the left, right, upper and lower edge of a page but for the cut line [mm]."""
    drawn = drawn_on(page)
    half = [0 if each["object_type"] == "char" else (each.get("linewidth") or 0) / 2 for each in drawn]
    return (
        min(each["x0"] - wide for each, wide in zip(drawn, half, strict=True)) / MM,
        (float(page.width) - max(each["x1"] + wide for each, wide in zip(drawn, half, strict=True))) / MM,
        min(each["top"] for each in drawn) / MM,
        (float(page.height) - max(each["bottom"] for each in drawn)) / MM,
    )


@dataclass(frozen=True)
class Line:
    """A line of text on a page."""

    page: int
    chars: tuple[dict[str, Any], ...]

    @property
    def text(self) -> str:
        return " ".join(self.columns())

    @property
    def size(self) -> float:
        return round(max(char["size"] for char in self.chars), 2)

    def columns(self) -> Iterator[str]:
        """The parts of it that stand in different columns."""
        part = self.chars[0]["text"]
        for before, char in pairwise(self.chars):
            gap = char["x0"] - before["x1"]
            if gap > COLUMN_GAP:
                yield part
                part = ""
            # A blank of the type is 0.25 em wide; extraction leaves it away.
            part += (" " if part and gap > 0.12 * char["size"] else "") + char["text"]
        yield part


@dataclass(frozen=True)
class Place:
    """Where a text stands: on which pages, and in which type sizes."""

    start: int
    end: int
    pages: frozenset[int]
    sizes: frozenset[float]


class Sheet:
    """A sheet read back."""

    def __init__(self, data: bytes, stops: Sequence[str], name: str = "", points: int = 15) -> None:
        """Read `data`; `stops` are the texts that stand in the head of its pages under the title.

        With a name, head and foot are told by their words, and a text of their size elsewhere belongs to the body.
        """
        self.name = name
        self.headings = frozenset(round(each * points, 2) for each in HEADINGS)
        self.pdf = pdfplumber.open(io.BytesIO(data))
        self.pages = self.pdf.pages
        self.heads = {squeezed(stop) for stop in stops}
        self._read: dict[int, list[Line]] = {}

    def lines(self, number: int) -> list[Line]:
        """All lines of a page."""
        if number not in self._read:
            # What is turned, as the title of an axis is, would mix with the lines that it stands beside.
            upright = self.pages[number].filter(lambda each: each.get("upright", True))
            found = upright.extract_text_lines(return_chars=True)
            self._read[number] = [Line(number, tuple(line["chars"])) for line in found if line["text"].strip()]
        return self._read[number]

    @cached_property
    def body(self) -> list[Line]:
        """The lines between head and foot, page after page."""
        return [line for number in range(len(self.pages)) for line in self._body(number)]

    def _body(self, number: int) -> list[Line]:
        if self.name:
            return self._between(number)
        lines = [line for line in self.lines(number) if line.size not in (TITLE, FOOT, PAGE_NUMBER)]
        for count in range(1, len(lines)):
            if squeezed("".join(line.text for line in lines[:count])) in self.heads:
                return lines[count:]
        assert not self.heads, f"page {number + 1} does not begin with how to stop safely"
        return lines

    def _between(self, number: int) -> list[Line]:
        """The lines below the words of the head and above those of the foot."""
        lines, title = self.lines(number), squeezed(self.pdf.metadata["Title"]) if number else ""
        foot = squeezed(f"{self.name} · Revision")
        begins = [
            at for at in range(len(lines)) if squeezed("".join(each.text for each in lines[at:])).startswith(foot)
        ]
        assert len(begins) == 1, f"page {number + 1}: one foot is wanted, there are {len(begins)}"
        lines = lines[: begins[0]]
        heads = {title + stop for stop in self.heads} or {title}
        for count in range(len(lines) + 1):
            if squeezed("".join(line.text for line in lines[:count])) in heads:
                return lines[count:]
        raise AssertionError(f"page {number + 1} does not begin with {heads}")

    @cached_property
    def _chars(self) -> list[tuple[int, dict[str, Any]]]:
        return [
            (line.page, {**char, "text": each})
            for line in self.body
            for char in line.chars
            for each in squeezed(char["text"])
        ]

    @cached_property
    def text(self) -> str:
        """All of the body, without white space."""
        return "".join(char["text"] for _, char in self._chars)

    def heading(self, text: str, after: int = 0) -> Place:
        """Where `text` stands next as a heading, which has a size that no other text has."""
        place = self.place(text, after)
        return place if place.sizes <= self.headings else self.heading(text, place.start + 1)

    def place(self, text: str, after: int = 0) -> Place:
        """Where `text` stands next."""
        wanted = squeezed(text)
        start = self.text.find(wanted, after)
        assert start >= 0, f"not found after {self.text[max(0, after - 40) : after]!r}: {text!r}"
        inside = self._chars[start : start + len(wanted)]
        pages, sizes = frozenset(page for page, _ in inside), frozenset(round(char["size"], 2) for _, char in inside)
        return Place(start, start + len(wanted), pages, sizes)

    def page_text(self, number: int) -> str:
        """Everything on a page, head and foot too, in one line."""
        return " ".join(line.text.strip() for line in self.lines(number))

    def ticks(self, number: int) -> list[dict[str, Any]]:
        """The boxes to tick on a page: squares that are drawn with a line and not filled."""
        rects = (each for each in self.pages[number].rects if each["stroke"] and not each["fill"])
        return [each for each in rects if abs(each["width"] - each["height"]) < 0.1]

    @cached_property
    def structure(self) -> list[dict[str, Any]]:
        """The elements of the tagged document, in reading order."""
        return list(_elements(self.pdf.structure_tree))


def _elements(children: list[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    for each in children:
        yield each
        yield from _elements(each.get("children", []))

"""Reads a line diagram's SVG back: lines as stretches, texts as boxes, knowing nothing of how it was made."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from itertools import combinations, pairwise
from xml.etree import ElementTree

from fontpkg_atkinson_hyperlegible import ROOT as FONT
from fontTools.ttLib import TTFont

SVG = "{http://www.w3.org/2000/svg}"
Point = tuple[float, float]
Stretch = tuple[Point, Point]
#: ascent and descent that letters of the type really use, in ems: its capitals are 0.668 high, its p hangs 0.21 down
ABOVE, BELOW = 0.75, 0.22


@dataclass(frozen=True)
class TextBox:
    """A line of text where it stands."""

    text: str
    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: "TextBox") -> bool:
        return (
            self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom
        )

    def is_met_by(self, stretch: Stretch) -> bool:
        (ax, ay), (bx, by) = stretch
        return (
            min(ax, bx) < self.right
            and max(ax, bx) > self.left
            and min(ay, by) < self.bottom
            and max(ay, by) > self.top
        )


class DrawnDiagram:
    """A line diagram as its SVG says it."""

    def __init__(self, svg: str) -> None:
        self.root = ElementTree.fromstring(svg)
        self.lines, self.pieces, self.key = self.root.findall(f"{SVG}g")

    @property
    def ways(self) -> list[list[Stretch]]:
        """Each line once; the inner stroke of a joined hose lies on its outer."""
        found = dict.fromkeys(path.attrib["d"] for path in self.lines)
        return [list(stretches(data)) for data in found]

    def group(self, tag: str) -> ElementTree.Element:
        """The group of a piece."""
        return next(each for each in self.pieces if "".join(tag_text(each).itertext()) == tag)

    def title(self, tag: str) -> str:
        return self.group(tag).findtext(f"{SVG}title") or ""

    def drawing(self, tag: str) -> str:
        """How a piece is drawn, without its texts and its place."""
        symbol = self.group(tag).find(f"{SVG}g")
        assert symbol is not None
        return "".join(ElementTree.tostring(each, encoding="unicode") for each in symbol)

    def infos(self, tag: str) -> list[str]:
        """What stands under a tag."""
        return ["".join(each.itertext()) for each in self.group(tag).findall(f"{SVG}text")[1:]]

    @property
    def key_texts(self) -> list[str]:
        return ["".join(each.itertext()) for each in self.key.iter(f"{SVG}text")]

    @property
    def boxes(self) -> list[TextBox]:
        """Every line of text that belongs to a piece."""
        return self._boxes(text for piece in self.pieces for text in piece.findall(f"{SVG}text"))

    @property
    def key_boxes(self) -> list[TextBox]:
        """Every text of the key."""
        return self._boxes(text for text in self.key.iter(f"{SVG}text") if text.get("x"))

    def _boxes(self, texts: Iterable[ElementTree.Element]) -> list[TextBox]:
        return [box for text in texts for box in text_boxes(text, self.root.attrib["font-size"])]


def tag_text(piece: ElementTree.Element) -> ElementTree.Element:
    text = piece.find(f"{SVG}text")
    assert text is not None
    return text


def stretches(data: str) -> Iterator[Stretch]:
    """Return the straight stretches of a path; a half circle counts as the stretch between its ends."""
    here: Point = (0, 0)
    for command, rest in re.findall(r"([MHVLA])([^MHVLAZ]*)", data):
        numbers = [float(each) for each in re.findall(r"-?[0-9.]+", rest)]
        match command:
            case "H":
                to = (numbers[0], here[1])
            case "V":
                to = (here[0], numbers[0])
            case _:
                to = (numbers[-2], numbers[-1])
        if command != "M":
            yield here, to
        here = to


def crossing_count(ways: list[list[Stretch]]) -> int:
    """Return in how many places lines meet, counted by the signs of triangles."""
    return len(meeting_points(ways))


def meeting_points(ways: list[list[Stretch]]) -> set[Point]:
    found = set()
    for one, other in combinations(ways, 2):
        for a, b in one:
            for c, d in other:
                if _meet(a, b, c, d):
                    found.add((c[0] if c[0] == d[0] else a[0], a[1] if a[1] == b[1] else c[1]))
    return found


def _meet(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Return whether two stretches have a point in common, touching included."""
    turns = _turn(a, b, c) * _turn(a, b, d), _turn(c, d, a) * _turn(c, d, b)
    spans = all(
        max(min(a[axis], b[axis]), min(c[axis], d[axis])) <= min(max(a[axis], b[axis]), max(c[axis], d[axis]))
        for axis in (0, 1)
    )
    return spans and turns[0] <= 0 and turns[1] <= 0


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def bends(way: list[Stretch]) -> int:
    return sum((a[0] == b[0]) != (c[0] == d[0]) for (a, b), (c, d) in pairwise(way))


@cache
def _advances(is_bold: bool) -> dict[str, float]:
    name = "Bold" if is_bold else "Regular"
    with TTFont(FONT / "files" / f"AtkinsonHyperlegible-{name}.ttf") as font:
        widths, em = font["hmtx"], font["head"].unitsPerEm
        return {chr(code): widths[glyph][0] / em for code, glyph in font.getBestCmap().items()}


def width_in_type(text: str, size: float, *, is_bold: bool) -> float:
    """Return how wide a text is in the type of the book."""
    return sum(_advances(is_bold)[each] for each in text) * size


def text_boxes(text: ElementTree.Element, usual_size: str) -> Iterator[TextBox]:
    """Return where each line of a text stands in the type of the book."""
    size = float(text.get("font-size", usual_size))
    for line in text.findall(f"{SVG}tspan") or [text]:
        words = line.text or ""
        width = width_in_type(words, size, is_bold=text.get("font-weight") == "700")
        x, foot = float(line.attrib["x"]), float(line.attrib["y"])
        left = x - {"start": 0, "middle": width / 2, "end": width}[text.get("text-anchor", "start")]
        yield TextBox(words, left, foot - ABOVE * size, left + width, foot + BELOW * size)

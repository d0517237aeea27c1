"""An SVG picture of the book: read without entities, its size, its letters, and whether it is closed in itself."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import sqrt
from xml.etree import ElementTree
from xml.parsers import expat

from tankside.catalogue.printed_pictures import largest_mm, printed_mm
from tankside.model.reading import CAPITAL_HEIGHT

_SVG = "{http://www.w3.org/2000/svg}"
_WRITTEN = (f"{_SVG}text", f"{_SVG}tspan", f"{_SVG}textPath")
_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
_LENGTH = re.compile(rf"\s*({_NUMBER.pattern})\s*(px|pt|pc|mm|cm|in|)\s*")
#: px of CSS in each unit (CSS Values and Units 3, section 6.2)
_PX = {"": 1.0, "px": 1.0, "pt": 96 / 72, "pc": 16.0, "mm": 96 / 25.4, "cm": 96 / 2.54, "in": 96.0}
_SIZE = re.compile(r"font-size\s*:\s*([^;}]+)")
_SHORT = re.compile(r"font\s*:[^;}]{0,80}?(" + _NUMBER.pattern + r"(?:px|pt|mm|cm|in))")
_TRANSFORM = re.compile(r"\b(\w{1,12})\s*\(([^)]*)\)")
_ADDRESS = re.compile(r"url\((?!\s*['\"]?\s*#)|@import", re.IGNORECASE)
_INSIDE = ("#", "data:image/png;", "data:image/jpeg;")
#: what begins where nobody says a size (CSS Fonts 4: `medium`)
_MEDIUM = 16.0


class _NotPlainError(Exception):
    """It has what a plain drawing has not."""


@dataclass(frozen=True)
class SvgPicture:
    """A drawing that could be read."""

    root: ElementTree.Element
    #: width and height in units of the drawing
    box: tuple[float, float]
    #: width and height in px of CSS; None where it takes all room there is
    own: tuple[float, float] | None

    def least_capital_mm(self) -> Fraction | None:
        """Return how high [mm] the smallest capital is printed; None when there are no letters."""
        sizes = tuple(_letters(self.root, _smallest_by_rules(self.root)))
        if not sizes:
            return None
        ratio = Fraction(self.box[0]) / Fraction(self.box[1])
        width, height = largest_mm(ratio) if self.own is None else printed_mm(*map(Fraction, self.own))
        scale = min(width / Fraction(self.box[0]), height / Fraction(self.box[1]))
        # Other types are near that of the sheets.
        return Fraction(min(sizes)) * scale * CAPITAL_HEIGHT


def read_svg(data: bytes) -> SvgPicture | str:
    """Return the drawing, or why it cannot be read."""
    try:
        _refuse_what_is_not_plain(data)
        root = ElementTree.fromstring(data)
    except _NotPlainError as error:
        return str(error)
    except (expat.ExpatError, ElementTree.ParseError) as error:
        return f"it is no well-formed XML, {str(error)[:60]}"
    if root.tag != f"{_SVG}svg":
        return "its first element is no svg of http://www.w3.org/2000/svg"
    own = _own_size(root)
    box = _box(root) or own
    if box is None or min(box) <= 0 or (own is not None and min(own) <= 0):
        return "it says no size: neither a viewBox nor width and height above 0"
    return SvgPicture(root, box, own)


def _refuse_what_is_not_plain(data: bytes) -> None:
    """Refuse a document type, which can define entities, and whatever stands beside the drawing for a program."""
    parser = expat.ParserCreate()

    def doctype(*_: object) -> None:
        raise _NotPlainError("it has a document type; save it as plain SVG without one")

    def instruction(*_: object) -> None:
        raise _NotPlainError("it has a processing instruction; save it as plain SVG without one")

    parser.StartDoctypeDeclHandler = doctype
    parser.ProcessingInstructionHandler = instruction
    parser.Parse(data, True)


def what_it_loads(picture: SvgPicture) -> str:
    """Return what in it runs or comes from elsewhere, in a few words; empty when it is closed in itself."""
    for element in picture.root.iter():
        name = element.tag.rpartition("}")[2]
        if name in ("script", "foreignObject", "handler", "iframe"):
            return f"an element {name}"
        if name == "style" and _ADDRESS.search("".join(element.itertext())):
            return "a style that loads something"
        for key, value in element.attrib.items():
            short = key.rpartition("}")[2].lower()
            if short.startswith("on"):
                return f"a script in {short}"
            if short in ("href", "src") and not value.strip().lower().startswith(_INSIDE):
                return f"{short}, which leads out of it"
            if _ADDRESS.search(value):
                return f"{short}, which loads something"
    return ""


def _box(root: ElementTree.Element) -> tuple[float, float] | None:
    numbers = [float(each) for each in _NUMBER.findall(root.get("viewBox", ""))]
    return (numbers[2], numbers[3]) if len(numbers) == 4 else None


def _own_size(root: ElementTree.Element) -> tuple[float, float] | None:
    """Return its size in px of CSS; None when it says none, or a share of what is around it."""
    found = [_LENGTH.fullmatch(root.get(key, "")) for key in ("width", "height")]
    sizes = [float(each[1]) * _PX[each[2]] for each in found if each is not None]
    return (sizes[0], sizes[1]) if len(sizes) == 2 else None


def _letters(root: ElementTree.Element, ruled: float | None) -> Iterator[float]:
    """Return the type size of every text inside a drawing, in its units; `ruled` is the smallest of its style."""
    # No calls inside calls: a file can nest deeper than those go.
    waiting = [(root, _MEDIUM, 1.0)]
    while waiting:
        element, size, scale = waiting.pop()
        said = _said_size(element, size)
        size = size if said is None else said
        scale *= _scale(element.get("transform", ""))
        texts = (element.text, *(child.tail for child in element))
        if element.tag in _WRITTEN and any((text or "").strip() for text in texts):
            yield (size if ruled is None else min(size, ruled)) * scale
        waiting.extend((child, size, scale) for child in element)


def _said_size(element: ElementTree.Element, around: float) -> float | None:
    """Return the type size that an element says; its style counts more than its attribute."""
    style = element.get("style", "")
    found = _SIZE.search(style) or _SHORT.search(style)
    return _size(element.get("font-size", "") if found is None else found[1], around)


def _size(text: str, around: float) -> float | None:
    text = text.strip().removesuffix("!important").strip()
    for suffix, share in (("%", 0.01), ("rem", _MEDIUM), ("em", 1.0)):
        if text.endswith(suffix) and _NUMBER.fullmatch(text.removesuffix(suffix)):
            whole = 1.0 if suffix == "rem" else around
            return float(text.removesuffix(suffix)) * share * whole
    found = _LENGTH.fullmatch(text)
    return None if found is None else float(found[1]) * _PX[found[2]]


def _smallest_by_rules(root: ElementTree.Element) -> float | None:
    """Return the smallest size that a style element gives; which text it is for is not looked into."""
    rules = " ".join("".join(each.itertext()) for each in root.iter(f"{_SVG}style"))
    found = [_size(each, _MEDIUM) for pattern in (_SIZE, _SHORT) for each in pattern.findall(rules)]
    return min((each for each in found if each is not None), default=None)


def _scale(transform: str) -> float:
    """Return by how much a transform changes lengths: the root of how it changes an area."""
    scale = 1.0
    for name, inside in _TRANSFORM.findall(transform):
        numbers = [float(each) for each in _NUMBER.findall(inside)]
        if name == "scale" and numbers:
            scale *= sqrt(abs(numbers[0] * numbers[-1]))
        elif name == "matrix" and len(numbers) == 6:
            scale *= sqrt(abs(numbers[0] * numbers[3] - numbers[1] * numbers[2]))
    return scale

"""The line diagram of the board: every look that a piece may have is in it, and a script shows the one that is known.

A script finds `data-tag` on each piece; in it `data-look` on each way to draw it, `data-inside` where liquid goes (its
left, top, right, bottom), `data-sign` on what is drawn over it, `data-info` on the lines of text under its tag; and
`data-joint` on lines that are joined by hand.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from html import escape

from tankside.drawing.line_diagram import FONT
from tankside.drawing.line_diagram_parts import cross, drawn, first_foot, line_svg, lock_svg, tag_svg
from tankside.drawing.line_diagram_patterns import pattern_strokes
from tankside.drawing.line_diagram_symbols import Symbol, path, place, symbol
from tankside.views.line_diagram import DiagramLabel, DiagramLine, DiagramPiece, LineDiagram
from tankside.views.line_diagram_looks import DRIVEN, FILLED, PIPES, TURNED, PieceLook
from tankside.views.line_diagram_places import HALVES, INFO_HEIGHT, INFO_SIZE

#: it is smaller than on the page of the line diagram; its letters are still read
SMALLER = 0.8
#: what is not shown until a script knows better
_HIDDEN = ' display="none"'
#: looks of a piece, the first while nothing is known
_POSITIONS = {"either": PieceLook(), "open": PieceLook(position="open"), "shut": PieceLook(position="shut")}
_DRIVES = {"stopped": PieceLook(drive="stopped"), "running": PieceLook(drive="running")}
_LOCKS = {"unlocked": PieceLook(), "locked": PieceLook(is_locked=True)}
_ONE = {"": PieceLook()}
#: half the width and height of the largest shape in which liquid stands
_HALF_WIDTH, _HALF_HEIGHT = (max(HALVES[each][side] for each in FILLED) for side in (0, 1))


def board_svg(diagram: LineDiagram, name: str) -> str:
    """Return a line diagram as an SVG element; `name` keeps its ids apart from those of others on a page.

    It is hidden from those who do not see it: the list beside it says the same, and in an order that can be followed.
    """
    pieces = "".join(_piece(piece, f"{name}-{number}") for number, piece in enumerate(diagram.pieces))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {diagram.width} {diagram.height}" '
        f'width="{round(diagram.width * SMALLER)}" height="{round(diagram.height * SMALLER)}" aria-hidden="true" '
        f'font-family="{FONT}" '
        f'font-size="{INFO_SIZE}" fill="#000"><rect width="{diagram.width}" height="{diagram.height}" fill="#fff"/>'
        f'<g fill="none" stroke="#000">{"".join(map(_line, diagram.lines))}</g><g>{pieces}</g></svg>'
    )


def pattern_paths(numbers: Iterable[int]) -> Mapping[int, tuple[str, float]]:
    """Return the pattern of each material round the middle of a piece, as the data of a path, and how wide it is."""
    w, h = _HALF_WIDTH, _HALF_HEIGHT
    box = ((-w, -h), (w, -h), (w, h), (-w, h))
    found = {number: pattern_strokes(number, box) for number in numbers}
    return {
        number: ("".join(path(each, closed=False) for each in strokes), width)
        for number, (strokes, width) in found.items()
    }


def _line(line: DiagramLine) -> str:
    if line.kind not in ("joined", "joinable"):
        return line_svg(line)
    return (
        f'<g data-joint="{escape(line.first)} {escape(line.second)}">'
        f'<g data-look="joinable">{line_svg(replace(line, kind="joinable"))}</g>'
        f'<g data-look="joined"{_HIDDEN}>{line_svg(replace(line, kind="joined"))}</g></g>'
    )


def _piece(piece: DiagramPiece, name: str) -> str:
    return (
        f'<g data-tag="{escape(piece.tag)}"><g transform="translate({piece.x} {piece.y})">'
        f"{_looks(piece)}{''.join(_liquid(piece, name))}{_signs(piece)}</g>{_label(piece.label)}</g>"
    )


def _looks(piece: DiagramPiece) -> str:
    looks = _ONE
    for symbols, several in ((TURNED, _POSITIONS), (DRIVEN, _DRIVES), (("isolation-point",), _LOCKS)):
        looks = several if piece.symbol in symbols else looks
    return "".join(
        f'<g data-look="{look_name}"{_HIDDEN if number else ""}>{drawn(replace(piece, look=look))}</g>'
        for number, (look_name, look) in enumerate(looks.items())
    )


def _liquid(piece: DiagramPiece, name: str) -> Iterator[str]:
    """Return room for liquid, cut to each shape in which it stands, and the outline once more over it."""
    shown = symbol(piece)
    for number, inside in enumerate(shown.insides):
        xs, ys = [x for x, _ in inside], [y for _, y in inside]
        box = " ".join(map(place, (min(xs), min(ys), max(xs), max(ys))))
        clip = f"{name}-{number}"
        yield (
            f'<clipPath id="{clip}"><path d="{path(inside)}"/></clipPath>'
            f'<g clip-path="url(#{clip})" data-inside="{box}"></g>'
        )
    if shown.insides:
        yield f"{_outline(shown, 2)}{shown.over}"


def _outline(shown: Symbol, width: int) -> str:
    return f'<path d="{shown.outline}" fill="none" stroke="#000" stroke-width="{width}" stroke-linejoin="round"/>'


def _signs(piece: DiagramPiece) -> str:
    pressure = ""
    if piece.symbol in PIPES:
        pressure = f'<g data-sign="pressure"{_HIDDEN}>{_outline(symbol(piece), 5)}</g>'
    return f'{pressure}<g data-sign="out-of-order"{_HIDDEN}>{cross(piece)}</g>'


def _label(label: DiagramLabel) -> str:
    foot = first_foot(label)
    infos = "".join(
        f'<text data-info="" x="{label.x}" y="{foot + at * INFO_HEIGHT}" text-anchor="{label.anchor}"></text>'
        for at, _ in enumerate(label.infos)
    )
    lock = ""
    if label.lock is not None:
        under = foot + len(label.infos) * INFO_HEIGHT
        lock = f'<g data-sign="locked"{_HIDDEN}>{lock_svg(label, label.lock, under)}</g>'
    return tag_svg(label) + infos + lock

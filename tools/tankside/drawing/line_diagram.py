"""The line diagram of a plant, or of a part of it, in black and white; the same on screen and on paper.

It is a group, not an image (`role="group"`, not `role="img"`): an image hides what is in it from those who do not see
it, and here every tag is text that can be searched, marked and read out. Each piece is a group of its own, named by its
title with its states in words; lines are paths without a name, for each piece says where its lines lead.
"""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from html import escape
from itertools import groupby

from tankside.drawing.line_diagram_parts import drawn, line_svg, pattern_svg, piece_svg
from tankside.drawing.line_diagram_symbols import padlock, path, place
from tankside.views.line_diagram import DiagramLabel, DiagramLine, DiagramPiece, LegendEntry, LineDiagram, LineKind
from tankside.views.line_diagram_looks import PieceLook
from tankside.views.line_diagram_places import HALVES, INFO_SIZE, text_width

FONT = "Atkinson Hyperlegible, sans-serif"
#: of the key: the room for a sign, its text, and from one entry to the next
SIGN_WIDTH, ENTRY_HEIGHT, MARGIN, PAD = 60, 32, 12, 5


def line_diagram_svg(diagram: LineDiagram) -> str:
    """Return a line diagram as a whole SVG document, as wide and high as it needs to be read at arm's length."""
    width, height, key = _with_key(diagram)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}" height="{height}" '
        f'role="group" font-family="{FONT}" font-size="{INFO_SIZE}" fill="#000">'
        f"<title>{escape(diagram.title)}</title><desc>{escape(diagram.says)}</desc>"
        f'<rect width="{width}" height="{height}" fill="#fff"/>'
        f'<g aria-hidden="true" fill="none" stroke="#000">{"".join(map(line_svg, diagram.lines))}</g>'
        f"<g>{''.join(map(piece_svg, diagram.pieces))}</g>"
        f'<g role="group"><title>{escape(diagram.key)}</title>{key}</g></svg>\n'
    )


def drawn_size(diagram: LineDiagram) -> tuple[int, int]:
    """Return the width and height of the whole document, in units of the drawing."""
    width, height, _ = _with_key(diagram)
    return width, height


def _with_key(diagram: LineDiagram) -> tuple[int, int, str]:
    """Return the width and height of a drawing with its key, and the key."""
    groups = [[*entries] for _, entries in groupby(diagram.legend, lambda entry: entry.group)]
    width = max(diagram.width, *(_entry_width(group) + MARGIN for group in groups), 1)
    key, height = "", diagram.height
    for group in groups:
        drawn_group, height = _group(group, width, height)
        key += drawn_group
    return width, height, key


def _entry_width(group: Sequence[LegendEntry]) -> int:
    return max(text_width(each.text, INFO_SIZE) for each in group) + SIGN_WIDTH + MARGIN


def _group(group: Sequence[LegendEntry], width: int, top: int) -> tuple[str, int]:
    """Return a group of the key in columns, under a thin line, and where the next may begin."""
    entry_width = _entry_width(group)
    columns = max((width - MARGIN) // entry_width, 1)
    body = f'<path d="M{MARGIN} {top}H{width - MARGIN}" fill="none" stroke="#000" stroke-width="1"/>'
    for number, entry in enumerate(group):
        x, y = MARGIN + number % columns * entry_width, top + PAD + number // columns * ENTRY_HEIGHT + ENTRY_HEIGHT // 2
        body += (
            f'<g><g transform="translate({x + SIGN_WIDTH // 2 - 4} {y})">{_sign(entry)}</g>'
            f'<text x="{x + SIGN_WIDTH}" y="{y + 5}">{escape(entry.text)}</text></g>'
        )
    return body, top + 2 * PAD + -(-len(group) // columns) * ENTRY_HEIGHT


def _sign(entry: LegendEntry) -> str:
    if entry.group == "material":
        shape = ((-24, -12), (24, -12), (24, 12), (-24, 12))
        outline = f'<path d="{path(shape)}" fill="none" stroke="#000" stroke-width="1.5"/>'
        return pattern_svg(int(entry.name), shape) + outline
    if entry.group == "line":
        ends = ((-24, 0), (24, 0))
        return f'<g fill="none" stroke="#000">{line_svg(DiagramLine("", "", _LINES[entry.name], ends, ()))}</g>'
    if entry.name == "locked":
        return padlock(0, 0)
    if entry.name == "not-known":
        return '<text y="5" text-anchor="middle">?</text>'
    sample = _STATES.get(entry.name) or _sample(entry.name, PieceLook("shut", "stopped"))
    edge = 8 if sample.is_changed else 0
    scale = min(1, 26 / (sample.half_width + edge), 14 / (sample.half_height + edge))
    return f'<g transform="scale({place(scale)})">{drawn(sample)}</g>'


def _sample(symbol: str, look: PieceLook, *, is_changed: bool = False) -> DiagramPiece:
    half_width, half_height = HALVES[symbol]
    return DiagramPiece(
        tag="",
        says="",
        leads_to="",
        symbol=symbol,
        form="",
        letter="",
        x=0,
        y=0,
        half_width=half_width,
        half_height=half_height,
        is_upright=False,
        points="right",
        look=look,
        materials=(),
        is_changed=is_changed,
        label=DiagramLabel((), (), None, 0, 0, "start"),
    )


_LINES: Mapping[str, LineKind] = {"pipe": "pipe", "fixed": "fixed", "joined": "joined", "joinable": "joinable"}
_STATES: Mapping[str, DiagramPiece] = {
    "open": _sample("valve", PieceLook(position="open")),
    "shut": _sample("valve", PieceLook(position="shut")),
    "either": _sample("valve", PieceLook()),
    "running": _sample("pump", PieceLook(drive="running")),
    "pressure": _sample("line", PieceLook(is_under_pressure=True)),
    "out-of-order": _sample("instrument", PieceLook(is_in_order=False)),
    "between": _sample("jug", PieceLook(volume=(Fraction(1, 3), Fraction(3, 4)))),
    "changed": _sample("valve", PieceLook(position="open"), is_changed=True),
}

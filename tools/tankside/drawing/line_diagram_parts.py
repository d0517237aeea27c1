"""Lines, pieces and tags of a line diagram as SVG."""

from collections.abc import Iterator, Sequence
from html import escape
from itertools import pairwise

from tankside.drawing.line_diagram_patterns import Polygon, cut, pattern_strokes
from tankside.drawing.line_diagram_symbols import Symbol, padlock, path, place, symbol
from tankside.views.line_diagram import DiagramLabel, DiagramLine, DiagramPiece
from tankside.views.line_diagram_looks import MOST_TOLD, PIPES
from tankside.views.line_diagram_places import INFO_HEIGHT, INFO_SIZE, TAG_HEIGHT, TAG_SIZE, text_width

#: from the top of a line of text to its foot
TAG_FOOT, INFO_FOOT = 14, 13
#: half the width of the half circle by which a line goes over another
HOP = 6
_STYLES = {
    "pipe": 'stroke-width="3"',
    "joinable": 'stroke-width="2" stroke-dasharray="7 5"',
    "fixed": 'stroke-width="1.5" stroke-dasharray="9 3 2 3"',
}


def line_svg(line: DiagramLine) -> str:
    """Return a line."""
    way = _way(line)
    if line.kind == "joined":
        # A hose that is joined: two walls with nothing between them.
        return f'<path d="{way}" stroke-width="7"/><path d="{way}" stroke="#fff" stroke-width="3"/>'
    return f'<path d="{way}" stroke-linejoin="round" {_STYLES[line.kind]}/>'


def _way(line: DiagramLine) -> str:
    """Return the data of a line's path: straight stretches, with a half circle where it goes over another line."""
    parts = [f"M{line.corners[0][0]} {line.corners[0][1]}"]
    for (x, y), (to_x, to_y) in pairwise(line.corners):
        if y != to_y:
            parts.append(f"V{to_y}")
            continue
        ahead = 1 if to_x > x else -1
        over = sorted(
            (at for at, height in line.hops if height == y and min(x, to_x) < at < max(x, to_x)), reverse=ahead < 0
        )
        for at in sorted(over, reverse=ahead < 0):
            parts.append(f"H{at - ahead * HOP}A{HOP} {HOP} 0 0 {1 if ahead > 0 else 0} {at + ahead * HOP} {y}")
        parts.append(f"H{to_x}")
    return "".join(parts)


def piece_svg(piece: DiagramPiece) -> str:
    """Return a piece with its tag and all that is said of it."""
    description = f"<desc>{escape(piece.leads_to)}</desc>" if piece.leads_to else ""
    return (
        f'<g role="group"><title>{escape(piece.says)}</title>{description}'
        f'<g transform="translate({piece.x} {piece.y})">{drawn(piece)}</g>{_label(piece.label)}</g>'
    )


def drawn(piece: DiagramPiece) -> str:
    """Return a piece round its middle, without its tag."""
    shown = symbol(piece)
    d, width = shown.outline, 5 if piece.symbol in PIPES and piece.look.is_under_pressure else 2
    dashes = ' stroke-dasharray="4 3"' if shown.is_dashed else ""
    around = ""
    if piece.is_changed:
        around = "".join(
            f'<path d="{d}" fill="none" stroke="{ink}" stroke-width="{wide}" stroke-linejoin="round"/>'
            for ink, wide in (("#000", 13), ("#fff", 8))
        )
    crossed = "" if piece.look.is_in_order else cross(piece)
    ground = "#000" if shown.is_solid else "#fff"
    return (
        f'{around}<path d="{d}" fill="{ground}"/>{"".join(_liquid(piece, shown))}'
        f'<path d="{d}" fill="none" stroke="#000" stroke-width="{width}" stroke-linejoin="round"{dashes}/>'
        f"{shown.over}{crossed}"
    )


def cross(piece: DiagramPiece) -> str:
    """Return what is drawn over a piece that is out of order."""
    w, h = piece.half_width, piece.half_height
    return "".join(
        f'<path d="M{-w} {-h}L{w} {h}M{w} {-h}L{-w} {h}" fill="none" stroke="{ink}" stroke-width="{wide}"/>'
        for ink, wide in (("#fff", 7), ("#000", 3))
    )


def _liquid(piece: DiagramPiece, shown: Symbol) -> Iterator[str]:
    """Return what stands in a piece: as wide as the piece up to the least, half as wide from there to the most."""
    if piece.look.volume is None:
        return
    low, high = (float(share) for share in piece.look.volume)
    if piece.symbol in PIPES:
        low, high = float(low > 0), float(high > 0)
    for inside in shown.insides:
        xs, ys = [x for x, _ in inside], [y for _, y in inside]
        least, most = (max(ys) - share * (max(ys) - min(ys)) for share in (low, high))
        yield from _filled(piece.materials[:MOST_TOLD], cut(inside, below=least), "")
        between = cut(inside, below=most, above=least, before=(min(xs) + max(xs)) / 2)
        yield from _filled(piece.materials[:MOST_TOLD], between, ' stroke-dasharray="4 3"')


def _filled(materials: Sequence[int], shape: Polygon, dashes: str) -> Iterator[str]:
    if len({y for _, y in shape}) < 2 or len({x for x, _ in shape}) < 2:
        return
    left, right = min(x for x, _ in shape), max(x for x, _ in shape)
    share = (right - left) / max(len(materials), 1)
    for at, number in enumerate(materials):
        part = cut(shape, after=left + at * share, before=left + (at + 1) * share)
        yield pattern_svg(number, part)
    yield f'<path d="{path(shape)}" fill="none" stroke="#000" stroke-width="1.5"{dashes}/>'
    for at in range(1, len(materials)):
        part = cut(shape, after=left + at * share)
        ys = [y for x, y in part if abs(x - left - at * share) < 0.01]
        wall = f"M{place(left + at * share)} {place(min(ys))}V{place(max(ys))}"
        yield f'<path d="{wall}" fill="none" stroke="#000" stroke-width="1.5"/>'


def pattern_svg(number: int, shape: Polygon) -> str:
    """Return the pattern of a material, cut to a shape."""
    strokes, width = pattern_strokes(number, shape)
    data = "".join(path(stroke, closed=False) for stroke in strokes)
    return f'<path d="{data}" fill="none" stroke="#000" stroke-width="{width:g}" stroke-linecap="round"/>'


def tag_svg(label: DiagramLabel) -> str:
    """Return a tag, without what stands under it."""
    spans = "".join(
        f'<tspan x="{label.x}" y="{label.top + TAG_FOOT + at * TAG_HEIGHT}">{escape(line)}</tspan>'
        for at, line in enumerate(label.lines)
    )
    return f'<text text-anchor="{label.anchor}" font-size="{TAG_SIZE}" font-weight="700">{spans}</text>'


def first_foot(label: DiagramLabel) -> int:
    """Return the foot of the first line under a tag."""
    return label.top + len(label.lines) * TAG_HEIGHT + INFO_FOOT


def _label(label: DiagramLabel) -> str:
    foot = first_foot(label)
    infos = "".join(
        f'<text x="{label.x}" y="{foot + at * INFO_HEIGHT}" text-anchor="{label.anchor}">{escape(info)}</text>'
        for at, info in enumerate(label.infos)
    )
    return tag_svg(label) + infos + ("" if label.lock is None else lock_svg(label, label.lock, foot))


def lock_svg(label: DiagramLabel, word: str, foot: int) -> str:
    """Return a padlock and its word on a line under a tag."""
    width = text_width(word, INFO_SIZE) + 16
    left = label.x - {"start": 0, "middle": width // 2, "end": width}[label.anchor]
    return f'{padlock(left + 6, foot - 5, 0.8)}<text x="{left + 16}" y="{foot}">{escape(word)}</text>'

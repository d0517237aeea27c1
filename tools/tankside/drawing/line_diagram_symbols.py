"""The symbols of a line diagram, each drawn round its middle.

After the usual shapes of flow diagrams (ISO 10628-2 and ISO 14617), from memory, none compared with their text: valve,
pump, vessel with flat or cone bottom, drain funnel, instrument as a circle with the letter of what it shows (ISA-5.1,
from memory). Our own: mixer, drum, pail, jug, bottles, pipe with two flanges, wavy hose, nozzle, lid of a port, supply,
scale, place for a padlock, hood, eyewash, bin, and every sign of a state.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from math import sin, tau

from tankside.drawing.line_diagram_patterns import Point
from tankside.views.line_diagram import DiagramPiece

THIN = 'fill="none" stroke="#000" stroke-width="1.5"'
BOLD = 'fill="none" stroke="#000" stroke-width="3" stroke-linecap="round" stroke-linejoin="round"'
SOLID = 'fill="#000" stroke="none"'
HOLLOW = 'fill="#fff" stroke="#000" stroke-width="1.5"'


@dataclass(frozen=True)
class Symbol:
    """How a piece is drawn."""

    #: its outline, the data of a path
    outline: str
    #: convex shapes in which liquid stands
    insides: tuple[tuple[Point, ...], ...] = ()
    #: what is drawn over outline and liquid
    over: str = ""
    is_solid: bool = False
    is_dashed: bool = False


def place(value: float) -> str:
    """Return a coordinate as short text."""
    return f"{round(value, 1) + 0:g}"


def path(points: Sequence[Point], *, closed: bool = True) -> str:
    """Return the data of a path through points."""
    corners = "L".join(f"{place(x)} {place(y)}" for x, y in points)
    return f"M{corners}{'Z' if closed else ''}"


def symbol(piece: DiagramPiece) -> Symbol:
    """Return the symbol of a piece."""
    return _SYMBOLS[piece.symbol](piece)


def _box(left: float, top: float, right: float, bottom: float) -> tuple[Point, ...]:
    return (left, top), (right, top), (right, bottom), (left, bottom)


def _circle(radius: float) -> str:
    return f"M{-radius} 0A{radius} {radius} 0 1 1 {radius} 0A{radius} {radius} 0 1 1 {-radius} 0Z"


def _toward(piece: DiagramPiece, points: Sequence[Point]) -> list[Point]:
    """Return points that are given for a piece that leads to the right, turned to where it leads."""
    turns: Mapping[str, Callable[[Point], Point]] = {
        "right": lambda at: at,
        "left": lambda at: (-at[0], at[1]),
        "down": lambda at: (-at[1], at[0]),
        "up": lambda at: (at[1], -at[0]),
    }
    return [turns[piece.points](at) for at in points]


def _tank(piece: DiagramPiece) -> Symbol:
    w, h = piece.half_width, piece.half_height
    shapes: dict[str, tuple[Point, ...]] = {
        "cone-bottom": ((-w, -h), (w, -h), (w, h - 22), (5, h), (-5, h), (-w, h - 22)),
        "lying": (
            (-w + 12, -h),
            (w - 12, -h),
            (w, -h + 16),
            (w, h - 16),
            (w - 12, h),
            (-w + 12, h),
            (-w, h - 16),
            (-w, -h + 16),
        ),
    }
    shape = shapes.get(piece.form, _box(-w, -h, w, h))
    return Symbol(path(shape), (shape,))


def _drum(piece: DiagramPiece) -> Symbol:
    w, h = piece.half_width, piece.half_height
    shape = _box(-w, -h, w, h)
    ribs = "".join(f"M{-w} {place(y)}h5M{w} {place(y)}h-5" for y in (-h / 3, h / 3))
    return Symbol(path(shape), (shape,), f'<path d="{ribs}" {BOLD}/>')


def _pail(piece: DiagramPiece) -> Symbol:
    w, h = piece.half_width, piece.half_height
    shape = ((-w, 6.0 - h), (w, 6.0 - h), (w - 5.0, h), (5.0 - w, h))
    return Symbol(path(shape), (shape,), f'<path d="M{-w} {6 - h}Q0 {-h - 5} {w} {6 - h}" {THIN}/>')


def _jug(piece: DiagramPiece) -> Symbol:
    w, h = piece.half_width, piece.half_height
    shape = ((-w, -h), (w - 8.0, -h), (w - 11.0, h), (3.0 - w, h))
    return Symbol(path(shape), (shape,), f'<path d="M{w - 8} {6 - h}H{w}V{h - 12}L{w - 10} {h - 6}" {THIN}/>')


def _bottles(piece: DiagramPiece) -> Symbol:
    h = piece.half_height
    outline, insides = "", []
    for x in (-16, 0, 16):
        outline += f"M{x - 2} {-h}H{x + 2}V{6 - h}L{x + 7} {12 - h}V{h}H{x - 7}V{12 - h}L{x - 2} {6 - h}Z"
        insides.append(_box(x - 7, 12 - h, x + 7, h))
    return Symbol(outline, tuple(insides))


def _valve(piece: DiagramPiece) -> Symbol:
    w, h = piece.half_width, piece.half_height
    first: tuple[Point, ...] = ((-w, -h), (-w, h), (0, 0))
    second: tuple[Point, ...] = ((w, -h), (w, h), (0, 0))
    if piece.is_upright:
        first, second = ((-w, -h), (w, -h), (0, 0)), ((-w, h), (w, h), (0, 0))
    half = "" if piece.look.position else f'<path d="{path(first)}" {SOLID}/>'
    return Symbol(path(first) + path(second), over=half, is_solid=piece.look.position == "shut")


def _line(piece: DiagramPiece) -> Symbol:
    w, h = piece.half_width, piece.half_height
    if piece.is_upright:
        shape = _box(3 - w, -h, w - 3, h)
        flanges = f"M{-w} {-h}H{w}M{-w} {h}H{w}"
    else:
        shape = _box(-w, 3 - h, w, h - 3)
        flanges = f"M{-w} {-h}V{h}M{w} {-h}V{h}"
    return Symbol(path(shape), (shape,), f'<path d="{flanges}" {BOLD}/>')


def _hose(piece: DiagramPiece) -> Symbol:
    long, wide = max(piece.half_width, piece.half_height), min(piece.half_width, piece.half_height)
    along = [long * (each / 16 - 1) for each in range(33)]
    wave = [2.5 * sin(tau * at / long) for at in along]
    edges = [(x, y - wide + 3) for x, y in zip(along, wave, strict=True)]
    edges += [(x, y + wide - 3) for x, y in zip(reversed(along), reversed(wave), strict=True)]
    # The liquid is drawn where the hose is straight enough for a shape without hollows.
    inside = _box(-long, 5.5 - wide, long, wide - 5.5)
    if piece.is_upright:
        edges, inside = [(y, x) for x, y in edges], _box(5.5 - wide, -long, wide - 5.5, long)
    return Symbol(path(edges), (inside,))


def _pump(piece: DiagramPiece) -> Symbol:
    radius = piece.half_width
    arrow = path(_toward(piece, ((0, -radius), (radius, 0), (0, radius))), closed=False)
    return Symbol(_circle(radius), over=f'<path d="{arrow}" {SOLID if piece.look.drive == "running" else THIN}/>')


def _instrument(piece: DiagramPiece) -> Symbol:
    letter = f'<text y="6" text-anchor="middle" font-size="16" aria-hidden="true">{piece.letter}</text>'
    return Symbol(_circle(piece.half_width), over=letter if piece.letter else "")


def _mixer(piece: DiagramPiece) -> Symbol:
    w, h = piece.half_width, piece.half_height
    blades = f"M0 {h - 7}L{-w} {h - 14}V{h}L{w} {h - 14}V{h}Z"
    drawn = SOLID if piece.look.drive == "running" else HOLLOW
    over = f'<path d="M0 {20 - h}V{h - 7}" {BOLD}/><path d="{blades}" {drawn}/>'
    return Symbol(path(_box(-12, -h, 12, 20 - h)), over=over)


def _nozzle(piece: DiagramPiece) -> Symbol:
    w, h = piece.half_width, piece.half_height
    over = f'<path d="M{4 - w} 7L{2 - w} {h}M0 7V{h}M{w - 4} 7L{w - 2} {h}" {THIN}/>'
    return Symbol(f"M-8 {-h}H8V{9 - h}L{w} 4H{-w}L-8 {9 - h}Z", over=over)


def _port(piece: DiagramPiece) -> Symbol:
    w, h = piece.half_width, piece.half_height
    neck = f"M-10 0H10V{h}H-10Z"
    if piece.look.position == "open":
        return Symbol(neck + path(((-w, -1.0), (4.0, -h), (7.0, 5.0 - h), (2.0 - w, 4.0))))
    lid = path(_box(-w, -6, w, 0))
    drawn = (
        f'<path d="{lid}" {SOLID}/>' if piece.look.position else f'<path d="{lid}" {HOLLOW} stroke-dasharray="3 2"/>'
    )
    return Symbol(neck, over=drawn)


def _supply(piece: DiagramPiece) -> Symbol:
    w, h = piece.half_width, piece.half_height
    if piece.points in ("left", "right"):
        return Symbol(path(_toward(piece, ((-w, -h), (w - 14, -h), (w, 0), (w - 14, h), (-w, h)))))
    return Symbol(path(_toward(piece, ((-h, -w), (2, -w), (h, 0), (2, w), (-h, w)))))


def _drain(piece: DiagramPiece) -> Symbol:
    w, h = piece.half_width, piece.half_height
    return Symbol(
        f"M{-w} {6 - h}H{w}L4 {h - 6}V{h}H-4V{h - 6}Z",
        over=f'<path d="M-9 {6 - h}V-2M0 {6 - h}V4M9 {6 - h}V-2" {THIN}/>',
    )


def _scale(piece: DiagramPiece) -> Symbol:
    w, h = piece.half_width, piece.half_height
    over = f'<circle cx="0" cy="3" r="7" {THIN}/><path d="M0 3L4 -1" {THIN}/>'
    return Symbol(path(_box(-w, -h, w, 5 - h)) + path(((-14, 5.0 - h), (14, 5.0 - h), (18, h), (-18, h))), over=over)


def _isolation_point(piece: DiagramPiece) -> Symbol:
    w, h = piece.half_width, piece.half_height
    mark = padlock(0, 0) if piece.look.is_locked else f'<circle cx="0" cy="0" r="5" {THIN}/>'
    return Symbol(path(_box(-w, -h, w, h)), over=mark, is_dashed=not piece.look.is_locked)


def _exhaust(piece: DiagramPiece) -> Symbol:
    w, h = piece.half_width, piece.half_height
    drawn = BOLD if piece.look.drive == "running" else THIN
    over = f'<path d="M0 {h - 6}V{8 - h}M-6 {15 - h}L0 {8 - h}L6 {15 - h}" {drawn}/>'
    return Symbol(f"M-12 {-h}H12V-8L{w} {h - 8}V{h}H{-w}V{h - 8}L-12 -8Z", over=over)


def _eyewash(piece: DiagramPiece) -> Symbol:
    w, h = piece.half_width, piece.half_height
    jets = f"M-9 4Q-10 {-h} -2 {4 - h}M9 4Q10 {-h} 2 {4 - h}"
    return Symbol(
        f"M{-w} 4H{w}Q{w - 2} {h} 0 {h}Q{2 - w} {h} {-w} 4Z", over=f'<path d="{jets}" {THIN} stroke-dasharray="4 2"/>'
    )


def _spill_kit(piece: DiagramPiece) -> Symbol:
    w, h = piece.half_width, piece.half_height
    return Symbol(
        path(_box(-w, -h, w, 6 - h)) + path(((4.0 - w, 6.0 - h), (w - 4.0, 6.0 - h), (w - 7.0, h), (7.0 - w, h)))
    )


def _tray(piece: DiagramPiece) -> Symbol:
    w, h = piece.half_width, piece.half_height
    inside = ((4.0 - w, -h), (6.0 - w, h - 3.0), (w - 6.0, h - 3.0), (w - 4.0, -h))
    return Symbol(path(((-w, -h), *inside, (w, -h), (w - 3.0, h), (3.0 - w, h))))


def padlock(x: int, y: int, scale: float = 1) -> str:
    """Return a shut padlock round a point, 12 wide and 16 high at scale 1."""
    return (
        f'<g transform="translate({x} {y}) scale({place(scale)})"><path d="M-6 -2H6V8H-6Z" {SOLID}/>'
        '<path d="M-4 -2V-4A4 4 0 0 1 4 -4V-2" fill="none" stroke="#000" stroke-width="2.2"/></g>'
    )


_SYMBOLS: Mapping[str, Callable[[DiagramPiece], Symbol]] = {
    "tank": _tank,
    "drum": _drum,
    "pail": _pail,
    "jug": _jug,
    "bottles": _bottles,
    "valve": _valve,
    "line": _line,
    "hose": _hose,
    "pump": _pump,
    "meter": _instrument,
    "instrument": _instrument,
    "mixer": _mixer,
    "nozzle": _nozzle,
    "port": _port,
    "supply": _supply,
    "drain": _drain,
    "scale": _scale,
    "isolation-point": _isolation_point,
    "exhaust": _exhaust,
    "eyewash": _eyewash,
    "spill-kit": _spill_kit,
    "tray": _tray,
}

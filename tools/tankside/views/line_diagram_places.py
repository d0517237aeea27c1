"""How each piece of a line diagram stands in its place: how large, which way round, its tag, and where lines end at it.

Lengths are in units of the drawing, one of which is a CSS pixel at natural size.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Literal, NamedTuple

Side = Literal["up", "down", "left", "right"]
Spot = Literal["below", "above", "right", "left", "corner"]

STEPS: Mapping[Side, tuple[int, int]] = {"up": (0, -1), "down": (0, 1), "left": (-1, 0), "right": (1, 0)}
OPPOSITE: Mapping[Side, Side] = {"up": "down", "down": "up", "left": "right", "right": "left"}

TAG_SIZE, INFO_SIZE = 16, 15
TAG_HEIGHT, INFO_HEIGHT = 18, 17
#: a tag that is wider is broken after a hyphen, where it has one
WIDEST = 104
#: between a piece and its tag
GAP = 8

#: half the width and half the height of a symbol; those of a line or hose, and of a valve, turn with it
HALVES: Mapping[str, tuple[int, int]] = {
    "tank": (36, 50),
    "drum": (26, 32),
    "pail": (20, 20),
    "jug": (18, 18),
    "bottles": (24, 20),
    "valve": (18, 12),
    "line": (32, 9),
    "hose": (32, 9),
    "pump": (20, 20),
    "meter": (16, 16),
    "instrument": (16, 16),
    "mixer": (18, 28),
    "nozzle": (13, 14),
    "port": (18, 14),
    "supply": (24, 12),
    "drain": (18, 14),
    "scale": (24, 14),
    "isolation-point": (14, 14),
    "exhaust": (30, 22),
    "eyewash": (22, 20),
    "spill-kit": (20, 16),
    "tray": (30, 8),
}
#: pieces with room for several lines on each side
WIDE = ("tank", "drum")
#: where a line to a piece reads best, and elsewhere wrong: nothing runs into a pail from below
ENTRIES: Mapping[str, tuple[Side, ...]] = {
    "port": ("down",),
    "mixer": ("down",),
    "pail": ("up", "left", "right"),
    "jug": ("up", "left", "right"),
    "bottles": ("up", "left", "right"),
    "drain": ("up", "left", "right"),
}
#: pieces that liquid runs through from end to end
THROUGH = ("valve", "line", "hose")


class Box(NamedTuple):
    """A rectangle."""

    left: int
    top: int
    right: int
    bottom: int

    def at(self, x: int, y: int) -> "Box":
        """Return it moved."""
        return Box(self.left + x, self.top + y, self.right + x, self.bottom + y)

    def grown(self, by: int) -> "Box":
        """Return it with a border."""
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def meets(self, other: "Box") -> bool:
        """Return whether the two have an inner point in common; one of them may be a line."""
        return (
            self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom
        )

    def around(self, other: "Box") -> "Box":
        """Return the smallest that holds both."""
        low, high = map(min, self[:2], other[:2]), map(max, self[2:], other[2:])
        return Box(*low, *high)


@dataclass(frozen=True)
class Standing:
    """A piece as the layout needs it."""

    tag: str
    symbol: str
    #: a cone-bottom tank has one outlet, at its tip
    has_cone: bool
    column: int
    row: int
    #: what liquid can run to from it, and what else is fixed to it: a lock, a shaft
    flow: tuple[str, ...] = ()
    other: tuple[str, ...] = ()
    #: under its tag, lines kept free for what a state says, each as wide as this text
    infos: tuple[str, ...] = ()

    @property
    def lines(self) -> tuple[str, ...]:
        """The pieces that a line leads to."""
        return (*self.flow, *self.other)


class Port(NamedTuple):
    """Where a line may end at a piece: a side, and how far from its middle."""

    side: Side
    offset: int


@dataclass(frozen=True)
class Place:
    """How a piece stands in its place; boxes are seen from its middle."""

    standing: Standing
    is_upright: bool
    spot: Spot
    lines: tuple[str, ...]
    flow_ports: tuple[Port, ...]
    other_ports: tuple[Port, ...]

    @property
    def halves(self) -> tuple[int, int]:
        """Half its width and half its height."""
        across, along = HALVES[self.standing.symbol]
        return (along, across) if self.is_upright else (across, along)

    @property
    def symbol_box(self) -> Box:
        """What its symbol covers."""
        across, along = self.halves
        return Box(-across, -along, across, along)

    @property
    def label_box(self) -> Box:
        """What its tag covers, with the lines kept free for a state."""
        across, along = self.halves
        infos = self.standing.infos
        widths = [text_width(each, TAG_SIZE) for each in self.lines]
        width = max(widths + [text_width(each, INFO_SIZE) for each in infos])
        height = TAG_HEIGHT * len(self.lines) + INFO_HEIGHT * len(infos)
        left, top = {
            "below": (-(width + 1) // 2, along + GAP),
            "above": (-(width + 1) // 2, -along - GAP - height),
            "right": (across + GAP, -(height + 1) // 2),
            "left": (-across - GAP - width, -(height + 1) // 2),
            "corner": (GAP, along + GAP),
        }[self.spot]
        return Box(left, top, left + width, top + height)

    @property
    def box(self) -> Box:
        """What it covers with its tag."""
        return self.symbol_box.around(self.label_box)


def text_width(text: str, size: int) -> int:
    """Return what a text needs at most in the bold cut of our type, by classes of letters."""
    ems = sum(next((width for letters, width in _WIDTHS if each in letters), 0.98) for each in text)
    return int(ems * size) + 1


#: letters -> ems; the widest that our type has in its bold cut is 0.98 among those of a common text
_WIDTHS = (
    (" !',.:;`ijl|", 0.33),
    ("frt-()[]{}", 0.39),
    ("1I/*_°", 0.47),
    ("Lcsvxyz~", 0.54),
    ("abdeghknopqu279EFJ<>^", 0.605),
    ("034568+=?BKPRSTVZ$", 0.66),
    ("ACDGHNOQUXYw&#@", 0.79),
)


def places(standings: Iterable[Standing]) -> tuple[Place, ...]:
    """Return how each piece stands: which way it is turned, where its tag is, where lines may end at it."""
    by_tag = {each.tag: each for each in standings}
    return tuple(_place(each, by_tag) for each in by_tag.values())


def _place(standing: Standing, by_tag: Mapping[str, Standing]) -> Place:
    flow = [by_tag[each] for each in standing.flow]
    is_upright = standing.symbol in THROUGH and _stands_upright(
        standing, flow, [by_tag[each] for each in standing.other]
    )
    along = tuple(STEPS)
    if standing.symbol in THROUGH and len(flow) <= 2:
        along = ("up", "down") if is_upright else ("left", "right")
    beside = tuple(side for side in STEPS if side not in along)
    # What is fixed to a valve does not stand in the way of what runs through it.
    count = len(flow if beside else standing.lines)
    flow_ports = _ports(standing, along, count)
    other_ports = _ports(standing, beside, len(standing.other)) if beside else flow_ports
    taken = {side for side in STEPS for each in standing.lines if _is_toward(standing, by_tag[each], side)}
    kept = (along if len(along) <= count else ()) + (beside if len(beside) <= len(standing.other) else ())
    free = {side for side in STEPS if side not in taken and side not in kept}
    return Place(standing, is_upright, _spot(free), broken(standing.tag), flow_ports, other_ports)


def _spot(free: set[Side]) -> Spot:
    """Return where the tag stands: at a side where no line will end, or else where it covers no side at all."""
    spots: tuple[tuple[Side, Spot], ...] = (("down", "below"), ("up", "above"), ("right", "right"), ("left", "left"))
    return next((spot for side, spot in spots if side in free), "corner")


def _stands_upright(standing: Standing, flow: Sequence[Standing], other: Sequence[Standing]) -> bool:
    """Return whether more lines are straight, or else shorter, when a piece is run through from above or below."""
    across = sum(each.row == standing.row for each in flow) + sum(each.column == standing.column for each in other)
    down = sum(each.column == standing.column for each in flow) + sum(each.row == standing.row for each in other)
    if across != down:
        return down > across
    height = sum(abs(each.row - standing.row) for each in flow)
    return height > sum(abs(each.column - standing.column) for each in flow)


def _ports(standing: Standing, sides: Sequence[Side], count: int) -> tuple[Port, ...]:
    # A tag that stands at a corner covers a port beside the middle of a side.
    number = max(3 if standing.symbol in WIDE else 1, -(-(count + 1) // len(sides)) if count > len(sides) else 1)
    return tuple(Port(side, offset) for side in sides for offset in _offsets(standing, side, number))


def _offsets(standing: Standing, side: Side, number: int) -> tuple[int, ...]:
    if number == 1 or (side == "down" and standing.has_cone):
        return (0,)
    half = min(HALVES[standing.symbol]) * 2 // 3
    return tuple((2 * at - number + 1) * half // (number - 1) for at in range(number))


def _is_toward(standing: Standing, other: Standing, side: Side) -> bool:
    right, down = STEPS[side]
    return (other.column - standing.column) * right + (other.row - standing.row) * down > 0


@cache
def broken(tag: str) -> tuple[str, ...]:
    """Return the lines that a tag is written in: as few as fit, broken after hyphens, none longer than need be."""
    fewest = len(_filled(tag, WIDEST))
    return next(lines for width in range(WIDEST + 1) if len(lines := _filled(tag, width)) == fewest)


def _filled(tag: str, width: int) -> tuple[str, ...]:
    lines = [""]
    for part in tag.replace("-", "-\n").split("\n"):
        if lines[-1] and text_width(lines[-1] + part, TAG_SIZE) > width:
            lines.append("")
        lines[-1] += part
    return tuple(lines)

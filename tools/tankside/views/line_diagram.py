"""The line diagram of a plant: which symbol stands where, in which state, under which tag, and which lines join them.

Lengths are in units of the drawing, one of which is a CSS pixel at natural size.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import Literal

from tankside.compute.facts import quantity
from tankside.loading.values import Text
from tankside.model.facts import Equipment, Materials, Piece
from tankside.problems import Span
from tankside.texts import Words
from tankside.views.line_diagram_looks import LOCKED, SIGNS, LookWords, PieceLook, at_rest, signs
from tankside.views.line_diagram_places import INFO_HEIGHT, OPPOSITE, Place, Side, places
from tankside.views.line_diagram_plan import Link, Plan, planned
from tankside.views.line_diagram_routes import Led, Pair, Point, led

#: where the letters of a tag begin and end
Anchor = Literal["start", "middle", "end"]
#: pipe: liquid can run; joined, joinable: by hand; fixed: a lock, shaft or sensor, no liquid
LineKind = Literal["pipe", "joined", "joinable", "fixed"]
#: what an instrument shows -> its letter, as ISA-5.1 has them, from memory
LETTERS: Mapping[str, str] = {
    "volume": "F",
    "flow": "F",
    "temperature": "T",
    "pressure": "P",
    "mass": "W",
    "length": "L",
}


@dataclass(frozen=True)
class DiagramLabel:
    """A tag, and what stands under it."""

    #: the tag, broken after hyphens
    lines: tuple[str, ...]
    infos: tuple[str, ...]
    #: whether a padlock and its word stand under the tag
    lock: str | None
    x: int
    top: int
    anchor: Anchor


@dataclass(frozen=True)
class DiagramPiece:
    """A piece of equipment on a line diagram."""

    tag: str
    #: tag, name and every state in words
    says: str
    #: what it is joined to, in words; empty when nothing
    leads_to: str
    symbol: str
    #: of a tank: its shape
    form: str
    #: inside an instrument
    letter: str
    x: int
    y: int
    half_width: int
    half_height: int
    is_upright: bool
    #: where a pump, supply or drain leads
    points: Side
    look: PieceLook
    #: numbers of all the materials in it
    materials: tuple[int, ...]
    is_changed: bool
    label: DiagramLabel


@dataclass(frozen=True)
class DiagramLine:
    """A line between two pieces, from corner to corner."""

    first: str
    second: str
    kind: LineKind
    corners: tuple[Point, ...]
    #: where it goes over another line without being joined to it, on stretches that go across
    hops: tuple[Point, ...]


@dataclass(frozen=True)
class LegendEntry:
    """A sign of the drawing, and what it means."""

    group: Literal["material", "state", "line", "symbol"]
    #: the number of a material, or the name of a state, line or symbol
    name: str
    text: str


@dataclass(frozen=True)
class LineDiagram:
    """A line diagram, or a part of one."""

    title: str
    says: str
    width: int
    height: int
    pieces: tuple[DiagramPiece, ...]
    lines: tuple[DiagramLine, ...]
    legend: tuple[LegendEntry, ...]
    #: what the legend is called
    key: str


def line_diagram(
    equipment: Equipment,
    materials: Materials,
    say: Words,
    *,
    state: Mapping[str, PieceLook] | None = None,
    only: Collection[str] | None = None,
    changed: Collection[str] = (),
    words: LookWords | None = None,
) -> LineDiagram:
    """Return the line diagram of a plant.

    Args:
        equipment: pieces without `at` are not drawn; of two at one place, only the first.
        materials: they give what stands in a piece its number, pattern and name.
        say: speaks the language of the reader.
        state: how each piece looks; one that is missing here, or all without a state, as it stands at rest.
        only: the tags to draw, with what lies between them; None for the whole plant, with a key to the symbols.
        changed: the tags to emphasise.
        words: what stands under the tags, when it is not what a state says.

    Raises:
        KeyError: a look names a material that is none.
    """
    state = state or {}
    joined = {(tag, other) for tag, look in state.items() for other in look.joined}
    words = words or LookWords(materials, say)
    plan = planned(equipment, words.widest(), joined, only)
    standing = places(plan.standings)
    found = led(standing, tuple(Pair(link.first, link.second, link.is_flow) for link in plan.links), plan.size)
    kinds = [_kind(link, joined) for link in plan.links]
    drawer = _Drawer(equipment, words, plan, found, state, changed)
    pieces = tuple(map(drawer.piece, standing))
    return LineDiagram(
        title=say("diagram-title" if only is None else "diagram-part-title"),
        says=say("diagram-says"),
        width=found.ground.across.length,
        height=found.ground.down.length,
        pieces=pieces,
        lines=tuple(_lines(plan.links, kinds, found.corners)),
        legend=tuple(_legend(pieces, kinds, words, has_symbols=only is None)),
        key=say("diagram-key"),
    )


def crossings(diagram: LineDiagram) -> int:
    """Return how often two lines of a diagram cross."""
    return sum(len(line.hops) for line in diagram.lines)


@dataclass(frozen=True)
class _Drawer:
    equipment: Equipment
    words: LookWords
    plan: Plan
    led: Led
    state: Mapping[str, PieceLook]
    changed: Collection[str]

    def piece(self, place: Place) -> DiagramPiece:
        standing = place.standing
        piece = self.equipment.equipment[Text(standing.tag, Span(""))]
        look = self.state.get(standing.tag) or at_rest(piece)
        states = [*self.words.states(standing.symbol, look)]
        if standing.tag in self.changed:
            states.append(self.words.say("diagram-changed"))
        x, y = self.led.ground.middle(place)
        named = self.words.say("diagram-piece", tag=standing.tag, name=str(piece.name))
        return DiagramPiece(
            tag=standing.tag,
            says="; ".join((named, *states)),
            leads_to=self.words.say("diagram-leads-to", tags=", ".join(standing.lines)) if standing.lines else "",
            symbol=standing.symbol,
            form="" if piece.shape is None else str(piece.shape.form),
            letter=_letter(piece),
            x=x,
            y=y,
            half_width=place.halves[0],
            half_height=place.halves[1],
            is_upright=place.is_upright,
            points=self._points(piece, standing.tag),
            look=look,
            materials=self.words.held(standing.symbol, look),
            is_changed=standing.tag in self.changed,
            label=self._label(place, look, x, y),
        )

    def _label(self, place: Place, look: PieceLook, x: int, y: int) -> DiagramLabel:
        box = place.label_box.at(x, y)
        anchors: Mapping[str, tuple[Anchor, int]] = {
            "right": ("start", box.left),
            "corner": ("start", box.left),
            "left": ("end", box.right),
        }
        anchor, at = anchors.get(place.spot, ("middle", x))
        infos = tuple(self.words.infos(place.standing.symbol, look))
        is_locked = look.is_locked and place.standing.symbol in LOCKED
        # What is kept free for a state and not needed now lies on the far side of the tag.
        spare = INFO_HEIGHT * (len(place.standing.infos) - len(infos) - is_locked)
        return DiagramLabel(
            lines=place.lines,
            infos=infos,
            lock=self.words.say("diagram-locked") if is_locked else None,
            x=at,
            top=box.top + {"above": spare, "left": spare // 2, "right": spare // 2}.get(place.spot, 0),
            anchor=anchor,
        )

    def _points(self, piece: Piece, tag: str) -> Side:
        """Return where a pump presses to: away from what it draws from, which is what it names first."""
        sides = {
            link.second if link.first == tag else link.first: (ports[0] if link.first == tag else ports[1]).side
            for link, ports in zip(self.plan.links, self.led.ports, strict=True)
            if tag in link[:2] and link.is_flow
        }
        named = [sides[other] for other in map(str, (*piece.connects, *piece.joins)) if other in sides]
        if piece.kind != "pump" or not named:
            return next(iter(named or sides.values()), "right")
        return named[1] if len(named) > 1 else OPPOSITE[named[0]]


def _letter(piece: Piece) -> str:
    if piece.graduation is None:
        return ""
    return LETTERS.get(quantity(piece.graduation).unit.kind.name, "A")


def _kind(link: Link, joined: Collection[tuple[str, str]]) -> LineKind:
    if link.tie == "joins":
        is_joined = (link.first, link.second) in joined or (link.second, link.first) in joined
        return "joined" if is_joined else "joinable"
    return "pipe" if link.is_flow else "fixed"


def _lines(
    links: Sequence[Link], kinds: Sequence[LineKind], corners: Sequence[tuple[Point, ...]]
) -> Iterator[DiagramLine]:
    hops: list[list[Point]] = [[] for _ in links]
    for (one, first), (other, second) in combinations(enumerate(corners), 2):
        hops[one] += _hops(first, second)
        hops[other] += _hops(second, first)
    for link, kind, points, over in zip(links, kinds, corners, hops, strict=True):
        yield DiagramLine(link.first, link.second, kind, points, tuple(sorted(over)))


def _hops(mine: Sequence[Point], other: Sequence[Point]) -> Iterator[Point]:
    """Return where a stretch across of one line meets a stretch down of the other."""
    for a, b in pairwise(mine):
        for c, d in pairwise(other):
            is_met = min(a[0], b[0]) < c[0] < max(a[0], b[0]) and min(c[1], d[1]) < a[1] < max(c[1], d[1])
            if a[1] == b[1] and c[0] == d[0] and is_met:
                yield c[0], a[1]


def _legend(
    pieces: Sequence[DiagramPiece], kinds: Sequence[LineKind], words: LookWords, *, has_symbols: bool
) -> Iterator[LegendEntry]:
    say = words.say
    names = {number: words.names[each] for each, number in words.numbers.items()}
    for number in sorted({number for piece in pieces for number in piece.materials}):
        yield LegendEntry("material", str(number), say("diagram-material", number=str(number), name=names[number]))
    shown = {name for piece in pieces for name in signs(piece.symbol, piece.look)}
    if any(piece.is_changed for piece in pieces):
        shown.add("changed")
    for name in sorted(shown, key=SIGNS.index):
        yield LegendEntry("state", name, say(f"diagram-{name}"))
    for kind in ("pipe", "fixed", "joined", "joinable"):
        if kind in kinds:
            yield LegendEntry("line", kind, say(f"diagram-line-{kind}"))
    if has_symbols:
        for symbol in sorted({piece.symbol for piece in pieces}):
            yield LegendEntry("symbol", symbol, say(f"diagram-symbol-{symbol}"))

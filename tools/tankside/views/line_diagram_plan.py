"""What a line diagram shows of a plant: the pieces that have a place on it, and what joins them."""

from collections import defaultdict, deque
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

from tankside.model.facts import Equipment, Piece
from tankside.views.line_diagram_places import Standing

#: pieces that no liquid comes to: what a line leads to them says only that they belong together
FIXED = ("isolation-point", "mixer", "instrument", "scale", "exhaust", "eyewash", "spill-kit", "tray")

Tie = Literal["connects", "joins"]


class Link(NamedTuple):
    """Two pieces that are joined for good, or can be joined by hand."""

    first: str
    second: str
    tie: Tie
    #: whether liquid can run from one to the other
    is_flow: bool


@dataclass(frozen=True)
class Plan:
    """What is drawn, in the order of the book."""

    standings: tuple[Standing, ...]
    links: tuple[Link, ...]
    #: number of columns and of rows, none of them empty
    size: tuple[int, int]


def symbol_of(piece: Piece) -> str:
    """Return the name of a piece's symbol: its kind, but a measure that liquid runs through is a meter, not a jug."""
    if piece.kind != "measure":
        return str(piece.kind)
    return "meter" if piece.connects else "jug"


def planned(
    equipment: Equipment,
    infos: Mapping[str, tuple[str, ...]],
    joined: Collection[tuple[str, str]] = (),
    only: Collection[str] | None = None,
) -> Plan:
    """Return what is drawn of a plant.

    Args:
        equipment: of two pieces at one place the first is drawn.
        infos: for each symbol, the widest texts that stand under its tag.
        joined: what is joined by hand now.
        only: the tags to draw, and with them what lies between them; None for all.
    """
    pieces = _placed(equipment)
    links = tuple(_links(pieces))
    if only is not None:
        now = [link for link in links if link.tie == "connects" or not {link[:2], link[1::-1]}.isdisjoint(joined)]
        kept = _with_between([tag for tag in pieces if tag in only], now)
        pieces = {tag: piece for tag, piece in pieces.items() if tag in kept}
        links = tuple(link for link in links if link.first in kept and link.second in kept)
    at = {tag: _at(piece) for tag, piece in pieces.items()}
    columns = _compacted(column for column, _ in at.values())
    rows = _compacted(row for _, row in at.values())
    standings = (
        Standing(
            tag=tag,
            symbol=symbol_of(piece),
            has_cone=piece.shape is not None and piece.shape.form == "cone-bottom",
            column=columns[at[tag][0]],
            row=rows[at[tag][1]],
            flow=tuple(_others(tag, links, is_flow=True)),
            other=tuple(_others(tag, links, is_flow=False)),
            infos=infos.get(symbol_of(piece), ()),
        )
        for tag, piece in pieces.items()
    )
    return Plan(tuple(standings), links, (len(columns), len(rows)))


def _at(piece: Piece) -> tuple[int, int]:
    column, row = piece.at
    return int(column), int(row)


def _compacted(numbers: Iterable[int]) -> dict[int, int]:
    """Return columns (or rows) numbered without gaps."""
    return {each: at for at, each in enumerate(sorted(set(numbers)))}


def _placed(equipment: Equipment) -> dict[str, Piece]:
    pieces: dict[tuple[int, int], tuple[str, Piece]] = {}
    for tag, piece in equipment.equipment.items():
        if piece.at:
            pieces.setdefault(_at(piece), (str(tag), piece))
    return dict(pieces.values())


def _links(pieces: Mapping[str, Piece]) -> Iterator[Link]:
    """Return each pair once, whichever of the two names the other; what is joined for good comes first."""
    seen: set[frozenset[str]] = set()
    for tie in ("connects", "joins"):
        for tag, piece in pieces.items():
            for other in map(str, piece.connects if tie == "connects" else piece.joins):
                pair = frozenset((tag, other))
                if other in pieces and other != tag and pair not in seen:
                    seen.add(pair)
                    is_flow = piece.kind not in FIXED and pieces[other].kind not in FIXED
                    yield Link(tag, other, "connects" if tie == "connects" else "joins", is_flow)


def _others(tag: str, links: Sequence[Link], *, is_flow: bool) -> Iterator[str]:
    for link in links:
        if tag in link[:2] and link.is_flow == is_flow:
            yield link.second if link.first == tag else link.first


def _with_between(only: Sequence[str], links: Sequence[Link]) -> set[str]:
    """Return the tags with those on the shortest ways that join them, as far as anything joins them."""
    beside: dict[str, list[str]] = defaultdict(list)
    for link in sorted(links, key=lambda each: not each.is_flow):
        beside[link.first].append(link.second)
        beside[link.second].append(link.first)
    kept = set(only)
    for tag in only:
        kept |= set(_way_to(kept - _reached(tag, kept, beside), tag, beside))
    return kept


def _reached(tag: str, within: set[str], beside: Mapping[str, Sequence[str]]) -> set[str]:
    found, todo = {tag}, deque([tag])
    while todo:
        for other in beside[todo.popleft()]:
            if other in within and other not in found:
                found.add(other)
                todo.append(other)
    return found


def _way_to(targets: set[str], tag: str, beside: Mapping[str, Sequence[str]]) -> list[str]:
    before: dict[str, str | None] = {tag: None}
    todo = deque([tag])
    while todo:
        here = todo.popleft()
        if here in targets:
            way: list[str] = []
            step: str | None = here
            while step is not None:
                way.append(step)
                step = before[step]
            return way
        for other in beside[here]:
            if other not in before:
                before[other] = here
                todo.append(other)
    return []

"""Which way each line of a line diagram goes, all of them together, with few crossings.

Each line in turn is taken up and led the cheapest way between all others until nothing gets cheaper, for a few orders
to begin in. Nothing is left to chance, so the same plant always gives the same drawing. That no line crosses another
where this could be is not promised.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import combinations, pairwise
from typing import NamedTuple

from tankside.views.line_diagram_ground import Ground, Key, ground
from tankside.views.line_diagram_places import WIDE, Place, Port
from tankside.views.line_diagram_ways import OVER, Lattice, Node, Route, Used, Way, cheapest, clash

#: how often every line is led anew, and after how many searches that ends, in a plant where hardly a line is free
ROUNDS, MOST_SEARCHES = 3, 1000
#: tracks of each channel, and once more when lines had to run over each other
TRACKS = (3, 8)

Point = tuple[int, int]


class Pair(NamedTuple):
    """Two pieces between which a line goes."""

    first: str
    second: str
    #: whether liquid can run in it; otherwise it says what a lock, a shaft or a sensor belongs to
    is_flow: bool


@dataclass(frozen=True)
class Led:
    """All lines led: the pieces at their places, and the corners of each line with its two ends."""

    ground: Ground
    corners: tuple[tuple[Point, ...], ...]
    ports: tuple[tuple[Port, Port], ...]


@cache
def led(places: tuple[Place, ...], pairs: tuple[Pair, ...], size: tuple[int, int]) -> Led:
    """Return a way for each pair of pieces, in the order of the pairs.

    Args:
        places: how the pieces stand; no two on the same place.
        pairs: what is joined, by tag; each pair once.
        size: number of columns and of rows.
    """
    for tracks in TRACKS:
        lattice = Lattice(ground(places, [tracks] * (size[0] + 1), [tracks] * (size[1] + 1)))
        best = min((_Laying(lattice, pairs, order) for order in _orders(lattice, pairs)), key=lambda each: each.price)
        if best.conflicts < OVER:
            break
    return _drawn_together(best, size)


def _orders(lattice: Lattice, pairs: Sequence[Pair]) -> Iterator[list[int]]:
    """Return the orders to lead lines in: straight ones first, then short, or long, or as they come."""
    middles = {tag: lattice.ground.middle(place) for tag, place in lattice.places.items()}
    apart = [sorted(abs(a - b) for a, b in zip(middles[one], middles[other], strict=True)) for one, other, _ in pairs]
    numbers = range(len(pairs))
    yield sorted(numbers, key=lambda each: (apart[each][0] > 0, sum(apart[each])))
    yield sorted(numbers, key=lambda each: (apart[each][0] > 0, -sum(apart[each])))
    yield sorted(numbers, key=lambda each: apart[each][0] > 0)


class _Laying:
    """Lines laid one after another in some order, then each laid anew as long as that makes anything cheaper."""

    def __init__(self, lattice: Lattice, pairs: Sequence[Pair], order: Sequence[int]) -> None:
        self.lattice = lattice
        self.pairs = pairs
        self.routes: dict[int, Route] = {}
        self.prices: dict[int, int] = {}
        self.searches = 0
        self.passed = defaultdict[Node, dict[int, Way]](dict)
        self.ended = defaultdict[tuple[str, Port], set[int]](set)
        for number in order:
            self._lay(number, self._cheapest(number))
        groups = [(number,) for number in order] + [*self._in_turns()]
        for _ in range(ROUNDS):
            if sum(map(self._is_better_anew, groups)) == 0:
                break

    @property
    def conflicts(self) -> int:
        at_nodes = sum(clash(*ways) for each in self.passed.values() for ways in combinations(each.values(), 2))
        return at_nodes + OVER * sum(len(lines) - 1 for lines in self.ended.values() if lines)

    @property
    def price(self) -> int:
        return self.conflicts + sum(self.prices.values())

    def _in_turns(self) -> Iterator[tuple[int, ...]]:
        """Return the lines of each vessel, each of them first in turn, in both directions: they vie for its ports."""
        for place in self.lattice.ground.places:
            if place.standing.symbol in WIDE:
                lines = [number for number, pair in enumerate(self.pairs) if place.standing.tag in pair[:2]]
                for each in (lines, lines[::-1]):
                    yield from (tuple(each[at:] + each[:at]) for at in range(len(lines)))

    def _is_better_anew(self, group: Sequence[int]) -> bool:
        """Lay some lines anew, and leave them so when that is cheaper."""
        if self.searches > MOST_SEARCHES:
            return False
        price, before = self.price, {number: self.routes[number] for number in group}
        self._take_up(group)
        for number in group:
            self._lay(number, self._cheapest(number))
        if self.price < price:
            return True
        self._take_up(group)
        for number, route in before.items():
            self._lay(number, route)
        return False

    def _cheapest(self, number: int) -> Route:
        self.searches += 1
        pair = self.pairs[number]
        return cheapest(self.lattice, Used(self.passed, self.ended), pair[:2], is_flow=pair.is_flow)

    def _lay(self, number: int, route: Route) -> None:
        self.routes[number] = route
        self.prices[number] = self.lattice.price(route, self.pairs[number][:2])
        for node, way in route.passes:
            self.passed[node][number] = way
        for end in self._ends(number):
            self.ended[end].add(number)

    def _take_up(self, group: Sequence[int]) -> None:
        for number in group:
            for node in self.routes[number].nodes:
                self.passed[node].pop(number, None)
            for end in self._ends(number):
                self.ended[end].discard(number)

    def _ends(self, number: int) -> tuple[tuple[str, Port], tuple[str, Port]]:
        pair, route = self.pairs[number], self.routes[number]
        return (pair.first, route.start), (pair.second, route.end)


def _drawn_together(laying: _Laying, size: tuple[int, int]) -> Led:
    """Return what was laid, without the tracks that no line runs along."""
    lattice, routes = laying.lattice, [laying.routes[number] for number in range(len(laying.pairs))]
    across, down = lattice.ground.across.keys, lattice.ground.down.keys
    stretches = [(a, b) for route in routes for a, b in pairwise(route.nodes)]
    xs = _kept(across, {across[a[0]] for a, b in stretches if a[0] == b[0]})
    ys = _kept(down, {down[a[1]] for a, b in stretches if a[1] == b[1]})
    near = ground(lattice.ground.places, _counts(xs, size[0] + 1), _counts(ys, size[1] + 1))
    corners = []
    for route, pair in zip(routes, laying.pairs, strict=True):
        bends = [
            (near.across.at[xs[across[x]]], near.down.at[ys[down[y]]]) for (x, y), way in route.passes if way == "bent"
        ]
        first, second = (lattice.places[tag] for tag in pair[:2])
        corners.append((near.foot(first, route.start), *bends, near.foot(second, route.end)))
    return Led(near, tuple(corners), tuple((route.start, route.end) for route in routes))


def _kept(keys: Sequence[Key], used: set[Key]) -> dict[Key, Key]:
    """Return each key that is kept with what it becomes: tracks in use are numbered anew, axes stay."""
    found: dict[Key, Key] = {}
    counts = defaultdict[int, int](int)
    for key in keys:
        channel, kind, _ = key
        if kind == "axis":
            found[key] = key
        elif key in used:
            found[key] = (channel, kind, counts[channel])
            counts[channel] += 1
    return found


def _counts(keys: dict[Key, Key], channels: int) -> list[int]:
    tracks = [channel for channel, kind, _ in keys if kind == "track"]
    return [tracks.count(channel) for channel in range(channels)]

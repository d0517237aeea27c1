"""The cheapest way from one piece of a line diagram to another, along axes and tracks and round pieces and tags.

The search is A* (Hart, Nilsson and Raphael 1968) over the nodes of the lattice and the side by which each is reached.
"""

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from heapq import heappop, heappush
from itertools import count, pairwise
from typing import Literal, NamedTuple

from tankside.views.line_diagram_ground import Ground
from tankside.views.line_diagram_places import ENTRIES, OPPOSITE, STEPS, WIDE, Box, Place, Port, Side

#: prices, in units of length; a bend costs more between pieces that stand in one row or column
BEND, BEND_IN_LINE, CROSSING, OVER = 40, 120, 600, 6000
#: an end where it reads wrong, also of a line from above at the bottom of a vessel; one at the side of a vessel
WRONG_END, SIDE_END = 150, 50
#: lines keep so far from symbols and from tags
CLEAR_OF_SYMBOL, CLEAR_OF_TAG = 9, 3

Node = tuple[int, int]
Way = Literal["across", "down", "bent"]


@dataclass(frozen=True)
class Route:
    """The way of one line, from a port over nodes of the lattice to a port."""

    start: Port
    end: Port
    nodes: tuple[Node, ...]
    #: by which side each node is left
    sides: tuple[Side, ...]

    @property
    def passes(self) -> Iterator[tuple[Node, Way]]:
        """Each node, and how it is passed."""
        for node, before, after in zip(self.nodes, (self.start.side, *self.sides), self.sides, strict=False):
            yield node, way(before) if before == after else "bent"


class Used(NamedTuple):
    """What other lines use: how they pass nodes, and the ports (tag and port) where they end."""

    passed: Mapping[Node, Mapping[int, Way]]
    ended: Mapping[tuple[str, Port], set[int]]


def way(side: Side) -> Way:
    """Return the way that a side lies in."""
    return "down" if side in ("up", "down") else "across"


def clash(one: Way, other: Way) -> int:
    """Return the price of two lines passing the same node."""
    return CROSSING if {one, other} == {"across", "down"} else OVER


class Lattice:
    """Where lines may be led."""

    def __init__(self, ground: Ground) -> None:
        """Find what the pieces of `ground` and their tags leave free."""
        self.ground = ground
        self.places = {place.standing.tag: place for place in ground.places}
        self.xs, self.ys = ground.across.lines, ground.down.lines
        #: nodes from which no line may go on to the next, across or down
        self.shut: dict[Way, set[Node]] = {"across": set(), "down": set()}
        for place in ground.places:
            for box in self._covered(place):
                self._shut_in(box)
        #: the first node outside each port; none where the piece's own tag is in the way
        self.outlets = {
            (tag, port): node
            for tag, place in self.places.items()
            for port in dict.fromkeys((*place.flow_ports, *place.other_ports))
            if (node := self._outlet(place, port)) is not None
        }

    def _covered(self, place: Place) -> tuple[Box, Box]:
        middle = self.ground.middle(place)
        symbol, label = place.symbol_box.grown(CLEAR_OF_SYMBOL), place.label_box.grown(CLEAR_OF_TAG)
        return symbol.at(*middle), label.at(*middle)

    def _shut_in(self, box: Box) -> None:
        left, right = bisect_right(self.xs, box.left), bisect_left(self.xs, box.right)
        top, bottom = bisect_right(self.ys, box.top), bisect_left(self.ys, box.bottom)
        self.shut["across"] |= {(x, y) for x in range(max(left - 1, 0), right) for y in range(top, bottom)}
        self.shut["down"] |= {(x, y) for x in range(left, right) for y in range(max(top - 1, 0), bottom)}

    def _outlet(self, place: Place, port: Port) -> Node | None:
        symbol, label = self._covered(place)
        standing, (right, below) = place.standing, STEPS[port.side]
        if below:
            x = self.ground.across.keys.index((standing.column, "axis", port.offset))
            y = bisect_right(self.ys, symbol.top) - 1 if below < 0 else bisect_left(self.ys, symbol.bottom)
        else:
            x = bisect_right(self.xs, symbol.left) - 1 if right < 0 else bisect_left(self.xs, symbol.right)
            y = self.ground.down.keys.index((standing.row, "axis", port.offset))
        end = self.ground.end(place, port)
        stub = Box(min(self.xs[x], end[0]), min(self.ys[y], end[1]), max(self.xs[x], end[0]), max(self.ys[y], end[1]))
        return None if stub.meets(label) else (x, y)

    def price(self, route: Route, ends: tuple[str, str]) -> int:
        """Return what a way costs by itself, whatever it crosses."""
        first, second = (self.places[tag] for tag in ends)
        length = sum(self._apart(a, b) for a, b in pairwise(route.nodes))
        bends = sum(how == "bent" for _, how in route.passes)
        at_ends = self.end_price(first, second, route.start) + self.end_price(second, first, route.end)
        return length + self.bend_price(first, second) * bends + at_ends

    def bend_price(self, first: Place, second: Place) -> int:
        """Return what a bend costs between two pieces."""
        one, other = first.standing, second.standing
        return BEND_IN_LINE if one.column == other.column or one.row == other.row else BEND

    def end_price(self, place: Place, other: Place, port: Port) -> int:
        """Return what it costs to end at a port of a piece when coming from another."""
        price = self._stub(place, port) + abs(port.offset) // 2
        below = other.standing.row - place.standing.row
        if port.side not in ENTRIES.get(place.standing.symbol, STEPS):
            price += WRONG_END
        if place.standing.symbol in WIDE and below:
            price += (SIDE_END, 0, WRONG_END)[STEPS[port.side][1] * (1 if below > 0 else -1)]
        return price

    def _stub(self, place: Place, port: Port) -> int:
        """Return how far it is from a port to the first node outside it."""
        (x, y), node = self.ground.end(place, port), self.outlets[place.standing.tag, port]
        return abs(x - self.xs[node[0]]) + abs(y - self.ys[node[1]])

    def onward(self, node: Node, side: Side) -> tuple[Node, int] | None:
        """Return the next node on a side and how far it is; None where no line may go on."""
        right, below = STEPS[side]
        x, y = node[0] + right, node[1] + below
        if not (0 <= x < len(self.xs) and 0 <= y < len(self.ys)):
            return None
        if (min(node[0], x), min(node[1], y)) in self.shut[way(side)]:
            return None
        return (x, y), self._apart(node, (x, y))

    def _apart(self, one: Node, other: Node) -> int:
        return abs(self.xs[one[0]] - self.xs[other[0]]) + abs(self.ys[one[1]] - self.ys[other[1]])

    def apart(self, node: Node, box: Box) -> tuple[int, int]:
        """Return how far a node is from a box, across and down: no way is shorter."""
        x, y = self.xs[node[0]], self.ys[node[1]]
        return max(box.left - x, 0, x - box.right), max(box.top - y, 0, y - box.bottom)


class _Step(NamedTuple):
    """Where a search has come to. No two have the same number, so nothing after it is ever compared."""

    estimate: int
    number: int
    price: int
    #: None once it has arrived
    node: Node | None
    side: Side
    #: where it began; once it has arrived, where it ended
    port: Port
    before: "_Step | None"


class _Search:
    def __init__(self, lattice: Lattice, used: Used, first: Place, second: Place, is_flow: bool) -> None:
        self.lattice = lattice
        self.used = used
        self.bend = lattice.bend_price(first, second)
        self.numbers = count()
        self.target = second.symbol_box.at(*lattice.ground.middle(second))
        self.goals = defaultdict[Node, list[tuple[Port, int]]](list)
        for port, price in self._ports(second, first, is_flow):
            self.goals[lattice.outlets[second.standing.tag, port]].append((port, price))
        self.heap: list[_Step] = []
        for port, price in self._ports(first, second, is_flow):
            node = lattice.outlets[first.standing.tag, port]
            self._add(price + self._entered(node, way(port.side)), node, port.side, port, None)

    def found(self) -> Route:
        done: set[tuple[Node, Side]] = set()
        while True:
            step = heappop(self.heap)
            if step.node is None:
                return _traced(step)
            if (step.node, step.side) not in done:
                done.add((step.node, step.side))
                self._arrive(step, step.node)
                self._go_on(step, step.node)

    def _arrive(self, step: _Step, node: Node) -> None:
        for port, price in self.goals.get(node, ()):
            if port.side != step.side:
                total = step.price + price + self._turned(node, step.side, OPPOSITE[port.side])
                heappush(self.heap, _Step(total, next(self.numbers), total, None, OPPOSITE[port.side], port, step))

    def _go_on(self, step: _Step, node: Node) -> None:
        for side in STEPS:
            if side != OPPOSITE[step.side] and (onward := self.lattice.onward(node, side)) is not None:
                reached, distance = onward
                price = distance + self._turned(node, step.side, side) + self._entered(reached, way(side))
                self._add(step.price + price, reached, side, step.port, step)

    def _add(self, price: int, node: Node, side: Side, port: Port, before: _Step | None) -> None:
        across, down = self.lattice.apart(node, self.target)
        estimate = price + across + down + (self.bend if across and down else 0)
        heappush(self.heap, _Step(estimate, next(self.numbers), price, node, side, port, before))

    def _entered(self, node: Node, here: Way) -> int:
        return sum(clash(here, each) for each in self.used.passed.get(node, {}).values())

    def _turned(self, node: Node, before: Side, after: Side) -> int:
        if before == after:
            return 0
        return self.bend + OVER * len(self.used.passed.get(node, {}))

    def _ports(self, place: Place, other: Place, is_flow: bool) -> Iterator[tuple[Port, int]]:
        tag = place.standing.tag
        for port in place.flow_ports if is_flow else place.other_ports:
            if (tag, port) in self.lattice.outlets:
                taken = OVER * len(self.used.ended.get((tag, port), ()))
                yield port, self.lattice.end_price(place, other, port) + taken


def cheapest(lattice: Lattice, used: Used, ends: tuple[str, str], *, is_flow: bool) -> Route:
    """Return the cheapest way between two pieces.

    Args:
        lattice: where lines may be led.
        used: what the other lines use.
        ends: the tags of the two pieces.
        is_flow: whether it ends where liquid runs in and out, or where other things are fixed.
    """
    first, second = (lattice.places[tag] for tag in ends)
    return _Search(lattice, used, first, second, is_flow).found()


def _traced(arrived: _Step) -> Route:
    nodes: list[Node] = []
    sides: list[Side] = [arrived.side]
    step = arrived.before
    assert step is not None
    start = step.port
    while step is not None and step.node is not None:
        nodes.append(step.node)
        sides.append(step.side)
        step = step.before
    # The side by which the first node was reached is the port's own.
    return Route(start, arrived.port, tuple(reversed(nodes)), tuple(reversed(sides[:-1])))

"""A plant simulated the slow and plain way, to compare the dry run with: one concrete state, nothing shared, no sets.

It works from equipment as its YAML file says it, with the rules of liquid in pipes written down a second time: ways by
trying every one, one volume for each vessel, each line mixed by pushing portions through it.
"""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import pairwise
from random import Random
from typing import Any

STORES = ("tank", "drum", "pail", "measure", "bottles")
#: where liquid comes to rest
ENDS = (*STORES, "drain", "supply")
PIPES = ("line", "hose")
LEADING = ("valve", "pump", "nozzle", "meter", *PIPES)
#: how full a pail or drum may get
RECEIVER = Fraction(3, 4)

Liquid = dict[str, Fraction]


def litres(text: str) -> Fraction:
    """Return a volume that is written in litres."""
    number, unit = text.split()
    assert unit == "L"
    return Fraction(number)


def volume(liquid: Liquid) -> Fraction:
    """Return how much it is."""
    return sum(liquid.values(), Fraction(0))


def taken_out(liquid: Liquid, amount: Fraction) -> Liquid:
    """Take so much out of what is mixed, and return it."""
    whole = volume(liquid)
    share = amount / whole if whole else Fraction(0)
    out = {material: part * share for material, part in liquid.items()}
    for material, part in out.items():
        liquid[material] -= part
    return out


def put_in(liquid: Liquid, more: Liquid) -> None:
    """Put more in."""
    for material, part in more.items():
        liquid[material] = liquid.get(material, Fraction(0)) + part


def _materials(liquid: Liquid) -> set[str]:
    return {material for material, part in liquid.items() if part}


@dataclass
class World:
    """What the plant is like at one moment."""

    open: set[str] = field(default_factory=set)
    running: set[str] = field(default_factory=set)
    #: lines under pressure
    pressed: set[str] = field(default_factory=set)
    #: loose end -> what it is joined to
    joined: dict[str, str] = field(default_factory=dict)
    inside: dict[str, Liquid] = field(default_factory=dict)
    #: what has touched the walls
    walls: dict[str, set[str]] = field(default_factory=dict)
    #: what has come into the plant and gone out of it so far [L]
    came: Fraction = Fraction(0)
    went: Fraction = Fraction(0)

    def copy(self) -> "World":
        """Return another world that is like this one."""
        return World(
            set(self.open),
            set(self.running),
            set(self.pressed),
            dict(self.joined),
            {tag: dict(liquid) for tag, liquid in self.inside.items()},
            {tag: set(found) for tag, found in self.walls.items()},
            self.came,
            self.went,
        )

    def volume(self, tag: str) -> Fraction:
        """Return how much stands in a piece."""
        return volume(self.inside[tag])

    def whole(self) -> Fraction:
        """Return what stands in all pieces together."""
        return sum(map(self.volume, self.inside), Fraction(0))


@dataclass(frozen=True)
class Flow:
    """Liquid that is to go somewhere."""

    #: None when it comes in a can or bag from outside
    source: str | None
    through: tuple[str, ...]
    target: str
    material: str
    #: the least and the most that may arrive; None for all but the heel, ANY for whatever somebody moves
    amount: tuple[Fraction, Fraction] | None


ANY = (Fraction(0), Fraction(-1))


class NaivePlant:
    """The pieces and the rules of what happens to them."""

    def __init__(self, equipment: Mapping[str, Any], hold_ups: Mapping[str, Fraction]) -> None:
        """Take the pieces as equipment.yaml says them; `hold_ups` is what each line with runs holds [L]."""
        self.pieces = equipment
        self.capacity = dict(hold_ups)
        self.around_for_good: dict[str, set[str]] = {tag: set() for tag in equipment}
        for tag, piece in equipment.items():
            if self.kind(tag) in STORES and "capacity" in piece and piece["kind"] != "bottles":
                self.capacity[tag] = litres(piece["capacity"])
            for other in piece.get("connects", ()):
                self.around_for_good[tag].add(other)
                self.around_for_good[other].add(tag)

    def kind(self, tag: str) -> str:
        """Return what a piece is; a measure in a pipe is a meter."""
        piece = self.pieces[tag]
        return "meter" if piece["kind"] == "measure" and piece.get("connects") else str(piece["kind"])

    def heel(self, tag: str) -> Fraction:
        """Return what stays behind."""
        return litres(self.pieces[tag].get("heel", "0 L"))

    def suction(self, pump: str) -> str:
        """Return what a pump draws from."""
        return str(self.pieces[pump]["connects"][0])

    def ports(self, vessel: str) -> set[str]:
        """Return the openings of a vessel."""
        return {tag for tag in self.around_for_good[vessel] if self.kind(tag) == "port"}

    def around(self, world: World, tag: str) -> set[str]:
        """Return what a piece is joined to now."""
        by_hand = {loose for loose, other in world.joined.items() if other == tag}
        return self.around_for_good[tag] | by_hand | ({world.joined[tag]} if tag in world.joined else set())

    def ends(self, world: World, tag: str, walked: tuple[str, ...]) -> set[str]:
        """Return where liquid comes to rest that comes to a piece over others, by trying every way."""
        kind = self.kind(tag)
        if kind in ENDS:
            return {tag}
        if kind not in LEADING or (kind == "valve" and tag not in world.open):
            return set()
        around = self.around(world, tag)
        found: set[str] = set()
        if kind == "nozzle" and not any(self.kind(other) in ENDS for other in around):
            found.add(tag)
        for other in around:
            if other not in walked and not (kind == "pump" and other == self.suction(tag)):
                found |= self.ends(world, other, (*walked, tag))
        return found

    def drawn_from(self, world: World, pump: str) -> set[str]:
        """Return what a pump can draw from now."""
        return self.ends(world, self.suction(pump), (pump,))

    def pressed_into(self, world: World, pump: str) -> set[str]:
        """Return what a pump can press into now."""
        onward = self.around(world, pump) - {self.suction(pump)}
        return set().union(*(self.ends(world, tag, (pump,)) for tag in onward))

    def ways(self, source: str, target: str) -> Iterator[tuple[str, ...]]:
        """Return every way on which liquid could ever go from one piece to another."""
        yield from self._ways((source,), target)

    def _ways(self, walked: tuple[str, ...], target: str) -> Iterator[tuple[str, ...]]:
        here = walked[-1]
        by_hand = {loose for loose, piece in self.pieces.items() if here in piece.get("joins", ())}
        for other in sorted(self.around_for_good[here] | by_hand | set(self.pieces[here].get("joins", ()))):
            if other == target:
                yield (*walked, other)
            elif other not in walked and self.kind(other) in LEADING:
                yield from self._ways((*walked, other), target)

    def settle(self, world: World) -> None:
        """Let the pressure come or go, as everything stands now."""
        for tag in self.pieces:
            if self.kind(tag) in PIPES:
                met = set(self._met(world, tag, (tag,)))
                if "pressing" in met:
                    world.pressed.add(tag)
                elif "relief" in met:
                    world.pressed.discard(tag)

    def _met(self, world: World, tag: str, walked: tuple[str, ...]) -> Iterator[str]:
        """Return what a line meets along open ways: something that presses, something that lets go."""
        for other in self.around(world, tag):
            kind = self.kind(other)
            if other in walked:
                continue
            if kind == "supply":
                yield "pressing"
            elif kind == "pump":
                if tag != self.suction(other):
                    yield from ("pressing",) if other in world.running else ()
                    yield from self._met(world, other, (*walked, other, self.suction(other)))
            elif kind in ("nozzle", "drain", *STORES):
                yield "relief"
            elif kind in PIPES or kind == "meter" or (kind == "valve" and other in world.open):
                yield from self._met(world, other, (*walked, other))

    def unrest(self, world: World, intended: set[str]) -> set[str]:
        """Return what is wrong when everybody rests."""
        rests = {tag for tag, piece in self.pieces.items() if "rest" in piece}
        found = {
            "left-open": world.open - rests - intended,
            "left-running": world.running - rests - intended,
            "left-pressure": world.pressed - intended,
        }
        return {code for code, tags in found.items() if tags}

    def loose_ends(self, world: World) -> set[str]:
        """Return what is wrong when everybody goes home."""
        is_carried = {tag for tag in self.pieces if self.kind(tag) in ("pail", "measure")}
        return {"left-joined"} if set(world.joined.values()) - is_carried else set()

    def running_faults(self, world: World) -> set[tuple[str, str]]:
        """Return what is wrong with what runs: with each pump, and with what runs out by itself; code and tag."""
        found = set()
        for pump in world.running:
            if self.kind(pump) == "pump":
                into = self.pressed_into(world, pump)
                if not any(self._gives(world, tag) for tag in self.drawn_from(world, pump)):
                    found.add(("runs-dry", pump))
                if not into:
                    found.add(("pump-shut", pump))
                found |= {("open-end", tag) for tag in into if self.kind(tag) == "nozzle"}
                found |= {("sprays-open", tag) for tag in into if self.ports(tag) & world.open}
        for source in self.pieces:
            if self.kind(source) in ("tank", "supply") and self._gives(world, source):
                for tag in self.around_for_good[source]:
                    ends = self.ends(world, tag, (source,))
                    found |= {("open-end", end) for end in ends if self.kind(end) == "nozzle"}
        return found

    def _gives(self, world: World, tag: str) -> bool:
        return self.kind(tag) == "supply" or (tag in world.inside and world.volume(tag) > self.heel(tag))

    def is_by_hand(self, flow: Flow) -> bool:
        """Return whether somebody pours it."""
        return flow.source is None or (not flow.through and self.kind(flow.source) in ("pail", "measure"))

    def way_faults(self, world: World, flow: Flow) -> set[str]:
        """Return what is wrong with the way of a flow, before it flows."""
        has_opening = bool(self.ports(flow.target) & world.open)
        if self.is_by_hand(flow):
            return {"no-way-in"} if self.ports(flow.target) and not has_opening else set()
        assert flow.source is not None
        path = (flow.source, *flow.through, flow.target)
        found = set()
        if any(other not in self.around(world, tag) for tag, other in pairwise(path)):
            found.add("path-not-joined")
        if any(self.kind(tag) == "valve" and tag not in world.open for tag in flow.through):
            found.add("path-shut")
        pumps = [tag for tag in flow.through if self.kind(tag) == "pump"]
        if set(pumps) - world.running:
            found.add("not-driven")
        if not found and self._is_branched(world, path, pumps):
            found.add("path-branches")
        # Of what a pump sprays, `running_faults` says so.
        is_spray = not pumps and any(self.kind(tag) == "nozzle" for tag in flow.through)
        if is_spray and has_opening and not found - {"path-branches"}:
            found.add("sprays-open")
        return found

    def _is_branched(self, world: World, path: tuple[str, ...], pumps: list[str]) -> bool:
        """Return whether it comes from somewhere else, too, or goes somewhere else."""
        source, first, target = path[0], path[1], path[-1]
        if not pumps:
            return bool(self.ends(world, first, (source,)) - {target})
        return bool(self.drawn_from(world, pumps[0]) - {source} or self.pressed_into(world, pumps[0]) - {target})

    def run(self, world: World, flow: Flow, chance: Random) -> set[str]:
        """Let it flow, and return what is wrong with how much it was."""
        found = set()
        lines = [tag for tag in flow.through if tag in self.capacity and self.kind(tag) in PIPES]
        room = sum((self.capacity[tag] - world.volume(tag) for tag in lines), Fraction(0))
        taken = self._taken(world, flow, room, chance)
        if flow.source in world.inside:
            assert flow.source is not None
            free = max(world.volume(flow.source) - self.heel(flow.source), Fraction(0))
            if taken > free:
                found.add("runs-dry")
                taken = free
            running = taken_out(world.inside[flow.source], taken)
            if flow.source != flow.target:
                # What goes round wets no wall of its vessel that it does not stand at.
                world.walls[flow.source] |= _materials(running)
        else:
            running = {flow.material: taken}
            world.came += taken
        for tag in flow.through:
            world.walls[tag] |= _materials(running)
            if tag in lines:
                running = self._led_through(world, tag, running, chance)
                world.walls[tag] |= _materials(running)
        found |= self._put(world, flow.target, running, has_moved=flow.source != flow.target)
        return found

    def _taken(self, world: World, flow: Flow, room: Fraction, chance: Random) -> Fraction:
        """Return how much is taken: what is to arrive, and first what fills the lines."""
        if flow.amount is not None and flow.amount != ANY:
            low, high = flow.amount
            return room + low + (high - low) * Fraction(chance.randint(0, 2), 2)
        assert flow.source is not None
        free = max(world.volume(flow.source) - self.heel(flow.source), Fraction(0))
        if flow.amount is None:
            return free
        # Who pumps until it is enough does not wait until nothing comes.
        most = 3 if any(self.kind(tag) == "pump" for tag in flow.through) else 4
        return free * Fraction(chance.randint(0, most), 4)

    def _led_through(self, world: World, line: str, running: Liquid, chance: Random) -> Liquid:
        """Fill a line, push the rest through it in portions that mix with what stands there, and return what comes."""
        here, capacity = world.inside[line], self.capacity[line]
        put_in(here, taken_out(running, min(volume(running), capacity - volume(here))))
        rest, out = volume(running), Liquid()
        portions = math.ceil(rest / capacity) + chance.randint(0, 2)
        for _ in range(portions):
            put_in(out, taken_out(here, rest / portions))
            put_in(here, {material: part / portions for material, part in running.items()})
        return out

    def _put(self, world: World, target: str, running: Liquid, *, has_moved: bool) -> set[str]:
        if has_moved:
            world.walls[target] |= _materials(running)
        if target not in world.inside:
            world.went += volume(running)
            return set()
        put_in(world.inside[target], running)
        most, full = world.volume(target), self.capacity[target]
        if most > full:
            return {"overflow"}
        is_receiver = self.kind(target) in ("pail", "drum")
        return {"receiver-too-full"} if has_moved and is_receiver and most > full * RECEIVER else set()

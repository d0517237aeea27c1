"""Legal procedures drawn at random on a small plant."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from itertools import pairwise
from random import Random
from typing import Any

from naive_plant import STORES, Flow, NaivePlant, World
from random_plants import HEAD, MATERIALS, QUARTER, Case, Fitter, Item, facts, hold_ups, said

#: what whatever is moved is called; it may be any mixture
MIXED = "mixed"
#: ways that are tried before nothing is moved
TRIED = 12

Bounds = dict[str, tuple[Fraction, Fraction]]


@dataclass
class Author:
    """Writes a legal procedure: opened before moved, stopped before shut, enough and room.

    It keeps book of the least and the most that may stand in each piece.
    """

    chance: Random
    plant: NaivePlant
    bounds: Bounds
    #: whether all amounts are exact
    is_exact: bool
    #: whether nothing comes from outside
    is_closed: bool = False
    #: whether much depends on what is answered
    is_branched: bool = False
    amounts: Item = field(default_factory=dict)
    count: int = 0

    def step(self, **says: Any) -> Item:
        """Return a step with a name of its own."""
        self.count += 1
        return {**{key.rstrip("_"): value for key, value in says.items()}, "step": f"step-{self.count}"}

    def blocks(self, most: int, depth: int = 0) -> list[Item]:
        """Return the steps of some pieces of work."""
        works = [self.transfer] * 9 + [self.poured, self.named, self.nothing, self.held, self.checked]
        works += [] if self.is_closed else [self.by_hand]
        if depth < 2:
            works += [lambda: self.choice(depth + 1), self.passes] * (5 if self.is_branched else 1)
        return [step for _ in range(self.chance.randint(1, most)) for step in self.chance.choice(works)()]

    def nothing(self) -> list[Item]:
        """Return a step that does nothing to the plant."""
        return [self.step(record="The time")]

    def held(self) -> list[Item]:
        """Return a hold at which all is at rest."""
        return [self.step(hold="All is at rest", released_by="lead", **self._found(1))]

    def _found(self, least: int) -> Item:
        known = self.true_claims()
        found = self.chance.sample(known, min(len(known), self.chance.randint(least, 2)))
        return _unless_empty("finds", found)

    def checked(self) -> list[Item]:
        """Return a check of what is so."""
        return [self.step(check="It is so", if_not="not-ready", **self._found(0))]

    def true_claims(self) -> list[str]:
        """Return claims that are so between two pieces of work."""
        found = [f"{tag} shut" for tag in self.of("valve", "port")] + [f"{tag} stopped" for tag in self.of("pump")]
        found += [f"{tag} joined to nothing" for tag, piece in self.plant.pieces.items() if "joins" in piece]
        if not self.is_exact:
            found += [f"{tag} at least {said(low)}" for tag, (low, _) in self.bounds.items() if low == round(low, 2)]
        return found

    def of(self, *kinds: str) -> list[str]:
        """Return the tags of pieces of these kinds."""
        return [tag for tag in self.plant.pieces if self.plant.kind(tag) in kinds]

    def choice(self, depth: int) -> list[Item]:
        """Return a choice after which either may be so."""
        before, after = self.bounds, list[Bounds]()
        split = None if self.is_exact or self.chance.random() < 0.5 else self._split()
        branches = []
        for number in range(2 if split else self.chance.randint(2, 3)):
            self.bounds = dict(before)
            branch: Item = {"if": f"Answer {number}"}
            if split is not None:
                tag, at = split
                branch["finds"] = [f"{tag} {('at least', 'at most')[number]} {said(at)}"]
                self.bounds[tag] = ((at, before[tag][1]), (before[tag][0], at))[number]
            steps = self.blocks(1, depth)
            if not steps and self.chance.random() < 0.3:
                branch["go_to"] = "not-ready"
            else:
                branch["steps"] = steps or self.nothing()
                after.append(self.bounds)
            branches.append(branch)
        self.bounds = _hull(after) if after else before
        if not after:
            branches[0] = {"if": "Answer 0", "steps": self.nothing(), **_only(branches[0], "finds")}
        return [self.step(choose="What is so", branches=branches)]

    def _split(self) -> tuple[str, Fraction] | None:
        wide = [tag for tag, (low, high) in self.bounds.items() if high - low > 2]
        if not wide:
            return None
        tag = self.chance.choice(wide)
        return tag, Fraction(round(sum(self.bounds[tag]) / 2))

    def passes(self) -> list[Item]:
        """Return something done up to three times."""
        most = self.chance.randint(1, 3)
        steps = self.transfer(times=most) or self.nothing()
        otherwise = {"if_not": "not-ready"} if self.chance.random() < 0.3 else {}
        return [self.step(repeat="Again", until="it is enough", at_most=str(most), steps=steps, **otherwise)]

    def named(self) -> list[Item]:
        """Return a step that gives what stands in a tank a name."""
        return [self.step(do="Hang a label on it", leaves=[f"{self.chance.choice(self.of('tank'))} holds {MIXED}"])]

    def _room(self, target: str) -> Fraction:
        if target not in self.bounds:
            return Fraction(1000)
        full = self.plant.capacity[target]
        limit = full * Fraction(3, 4) if self.plant.kind(target) in ("pail", "drum") else full
        return limit - self.bounds[target][1]

    def by_hand(self) -> list[Item]:
        """Return an addition from a can, over an opening where there is one."""
        target = self.chance.choice(self.of("tank", "pail"))
        amount = self._some(self._room(target))
        if amount is None:
            return []
        low, high, text = amount
        self._arrives(target, low, high)
        added = self.step(add=self.chance.choice(MATERIALS), to=target, amount=text)
        return self._opened(target, added)

    def poured(self) -> list[Item]:
        """Return a pail poured into something."""
        pails = [tag for tag in self.of("pail") if self.bounds[tag][1] > 0]
        targets = [tag for tag in self.of("tank", "drum", "drain") if self._room(tag) >= 20]
        if not pails or not targets:
            return []
        pail, target = self.chance.choice(pails), self.chance.choice(targets)
        self._arrives(target, *self.bounds[pail])
        self.bounds[pail] = (Fraction(0), Fraction(0))
        return self._opened(target, self.step(move=MIXED, path=[pail, target], leaves=[f"{pail} empty"]))

    def _opened(self, target: str, step: Item) -> list[Item]:
        ports = sorted(self.plant.ports(target))
        return [*(self.step(open=port) for port in ports), step, *(self.step(shut=port) for port in ports)]

    def _arrives(self, target: str, low: Fraction, high: Fraction) -> None:
        if target in self.bounds:
            before = self.bounds[target]
            self.bounds[target] = (before[0] + low, before[1] + high)

    def _some(self, most: Fraction) -> tuple[Fraction, Fraction, str] | None:
        """Return the least and the most that an amount comes to, and how a step says it."""
        whole = int(most * 4)
        if whole < 4:
            return None
        # Often as much as can be, so that a little more is too much.
        amount = QUARTER * (whole if self.chance.random() < 0.3 else self.chance.randint(1, min(whole, 40)))
        if self.is_exact or amount < 2 or amount + 1 > most or self.chance.random() < 0.5:
            return amount, amount, said(amount)
        name = f"a{len(self.amounts) + 1}"
        given = {"stock": "100 %v/v", "target": "50 %v/v", "make": said(amount * 2)}
        self.amounts[name] = {
            "title": "Some",
            "calculate": "dilute",
            "with": given,
            "result": "stock_volume",
            "measure_in": "jug",
            "tolerance": "1 L",
        }
        return amount - 1, amount + 1, f"<{name}>"

    def transfer(self, times: int = 1) -> list[Item]:
        """Return liquid moved along a way, up to so many times; nothing where there is not enough or no room."""
        for way in self.chance.sample(self.ways, min(TRIED, len(self.ways))):
            moves = self._moves(way, times)
            if moves:
                return self._worked(way, moves)
        return []

    def _moves(self, way: tuple[str, ...], times: int) -> list[Item]:
        source, *through, target = way
        lines = [tag for tag in through if tag in self.bounds]
        room = sum((self.plant.capacity[tag] - self.bounds[tag][0] for tag in lines), Fraction(0))
        low, high = self.bounds.get(source, (Fraction(500), Fraction(500)))
        heel = self.plant.heel(source)
        # The source must not be at its heel while a pump runs.
        free = low - heel - room - QUARTER
        says: Item = {"move": MIXED if source in self.bounds else "alpha", "path": list(way)}
        if source == target:
            return [self.step(**says, until="it is mixed")] if free > 0 else []
        is_all = source in self.bounds and times == 1 and self.chance.random() < 0.4
        if free <= 0 or (is_all and high > self._room(target)):
            return []
        if is_all:
            is_sure = self.is_exact or self.chance.random() < 0.5
            # Of what nobody has said how much it is, the dry run thinks that the heel may go, too.
            self._arrives(target, free + QUARTER if is_sure else Fraction(0), high - heel if is_sure else high)
            self.bounds[source] = (heel, heel) if is_sure else (Fraction(0), high)
            self._filled(lines, is_sure=is_sure)
            return [self.step(**says, **({"leaves": [f"{source} empty"]} if is_sure else {"until": "it is enough"}))]
        amount = self._some(min(free, self._room(target)) / times)
        if amount is None:
            return []
        least, most, text = amount
        self._arrives(target, least, most * times)
        if source in self.bounds:
            self.bounds[source] = (low - most * times - room, high - least)
        self._filled(lines, is_sure=True)
        is_read_off = text.startswith("<") and self.chance.random() < 0.5
        return [self.step(**says, **({"until": f"{text} is there"} if is_read_off else {"amount": text}))]

    def _filled(self, lines: list[str], *, is_sure: bool) -> None:
        for tag in lines:
            full = self.plant.capacity[tag]
            self.bounds[tag] = (full if is_sure else self.bounds[tag][0], full)

    def _worked(self, way: tuple[str, ...], moves: list[Item]) -> list[Item]:
        valves = [tag for tag in way if self.plant.kind(tag) == "valve"]
        pumps = [tag for tag in way if self.plant.kind(tag) == "pump"]
        joints = loose_joints(self.plant, way)
        return [
            *(self.step(do="Put it there", leaves=[f"{loose} joined to {other}"]) for loose, other in joints),
            *(self.step(open=tag) for tag in reversed(valves)),
            *(self.step(start=tag) for tag in pumps),
            *moves,
            *(self.step(stop=tag) for tag in pumps),
            *(self.step(shut=tag) for tag in valves),
            *(self.step(do="Take it away", leaves=[f"{loose} joined to nothing"]) for loose, _ in joints),
        ]

    @cached_property
    def ways(self) -> tuple[tuple[str, ...], ...]:
        """The ways on which something can be moved."""
        sources = [tag for tag in self.of(*STORES, "supply") if tag in self.bounds or self.plant.kind(tag) == "supply"]
        targets = self.of(*STORES, "drain")
        every = (way for source in sources for target in targets for way in self.plant.ways(source, target))
        return tuple(way for way in every if self.is_workable(way))

    def is_workable(self, way: tuple[str, ...]) -> bool:
        """Return whether liquid runs there and nowhere else, and the lines are without pressure afterwards."""
        kinds = [self.plant.kind(tag) for tag in way]
        if kinds.count("pump") > 1 or not {"valve", "pump"} & set(kinds) or (way[0] == way[-1] and way[1] == way[-2]):
            return False
        # What goes round does so by a pump, and past no line: the dry run does not mix what stands there.
        if way[0] == way[-1] and ("pump" not in kinds or any(tag in self.bounds for tag in way[1:-1])):
            return False
        if "pump" in kinds:
            at = kinds.index("pump")
            if kinds[0] == "supply" or self.plant.suction(way[at]) != way[at - 1]:
                return False
        valves = [tag for tag in way if self.plant.kind(tag) == "valve"]
        world = World(set(valves), {tag for tag in way if self.plant.kind(tag) == "pump"})
        world.joined = dict(loose_joints(self.plant, way))
        self.plant.settle(world)
        if self.plant.way_faults(world, Flow(way[0], way[1:-1], way[-1], MIXED, None)):
            return False
        world.running.clear()
        self.plant.settle(world)
        for valve in valves:
            world.open.discard(valve)
            self.plant.settle(world)
        return not world.pressed


def loose_joints(plant: NaivePlant, way: tuple[str, ...]) -> list[tuple[str, str]]:
    """Return what must be joined by hand on a way: loose end, and to what."""
    found = []
    for one, other in pairwise(way):
        if other not in plant.around_for_good[one]:
            found.append((one, other) if other in plant.pieces[one].get("joins", ()) else (other, one))
    return found


def _unless_empty(key: str, texts: list[str]) -> Item:
    return {key: texts} if texts else {}


def _hull(several: list[Bounds]) -> Bounds:
    return {tag: (min(each[tag][0] for each in several), max(each[tag][1] for each in several)) for tag in several[0]}


def _only(item: Item, key: str) -> Item:
    return {key: item[key]} if key in item else {}


def drawn(chance: Random, *, is_exact: bool, is_closed: bool = False, is_branched: bool = False) -> Case:
    """Return a plant and a legal procedure on it.

    Where it is exact, every volume is known from the start; where it is closed, nothing comes in or goes out; where it
    is branched, much depends on what is answered.
    """
    pieces = Fitter(chance, is_closed=is_closed).fitted()
    plant = NaivePlant(pieces, hold_ups(pieces))
    bounds = {tag: _start(chance, plant, tag, is_exact=is_exact) for tag in plant.capacity}
    author = Author(chance, plant, dict(bounds), is_exact, is_closed, is_branched)
    steps = author.blocks(4 if is_branched else 8) or author.nothing()
    means = [text for tag, found in bounds.items() for text in _claims(plant, tag, found)]
    means += [f"{tag} holds {MIXED}" for tag in bounds if "holds" in pieces[tag] and chance.random() < 0.2]
    procedure = {
        "steps": [*steps, *not_ready(author)],
        **_unless_empty("stop_leaves", stopping(plant)),
        **({"prerequisites": ["ready"]} if means else {}),
        **({"amounts": author.amounts} if author.amounts else {}),
    }
    return Case(facts(pieces, means), HEAD | procedure)


def _start(chance: Random, plant: NaivePlant, tag: str, *, is_exact: bool) -> tuple[Fraction, Fraction]:
    full = plant.capacity[tag]
    if "holds" not in plant.pieces[tag]:
        return Fraction(0), Fraction(0)
    some = sorted(Fraction(chance.randint(0, int(full * 4)), 4) for _ in range(2))
    if is_exact:
        return some[0], some[0]
    return chance.choice(((Fraction(0), full), (some[1], full), (Fraction(0), some[1]), (some[0], some[1])))


def _claims(plant: NaivePlant, tag: str, bounds: tuple[Fraction, Fraction]) -> Iterator[str]:
    low, high = bounds
    if low > 0:
        yield f"{tag} at least {said(low)}"
    if high < plant.capacity[tag] and "holds" in plant.pieces[tag]:
        yield f"{tag} at most {said(high)}"


def stopping(plant: NaivePlant) -> list[str]:
    """Return what stops safely: what drives first, then what presses, then the rest."""
    tags = list(plant.pieces)
    valves = [tag for tag in tags if plant.kind(tag) == "valve"]
    after_supply = {tag for tag in valves if _is_fed(plant, tag)}
    shut = [*sorted(after_supply), *(tag for tag in valves if tag not in after_supply)]
    shut += [tag for tag in tags if plant.kind(tag) == "port"]
    return [*(f"{tag} stopped" for tag in tags if plant.kind(tag) == "pump"), *(f"{tag} shut" for tag in shut)]


def _is_fed(plant: NaivePlant, valve: str) -> bool:
    before = plant.around_for_good[valve]
    meters = {tag for tag in before if plant.kind(tag) == "meter"}
    return any(plant.kind(tag) == "supply" for tag in before) or bool(meters)


def not_ready(author: Author) -> list[Item]:
    """Return the section where everything is put at rest."""
    plant = author.plant
    loose = [f"{tag} joined to nothing" for tag, piece in plant.pieces.items() if "joins" in piece]
    return [
        {"section": "not-ready", "title": "Not ready", "entered": "when sent here"},
        author.step(do="Put everything at rest", **_unless_empty("leaves", [*stopping(plant), *loose])),
        author.step(hold="The lead has decided", released_by="lead"),
    ]

"""Every way through a procedure, each walked by itself on a naive plant, from a start that is drawn at random.

It works from procedures as their YAML files say them and shares no code with the package.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from random import Random
from typing import Any

from naive_plant import ANY, Flow, NaivePlant, World, litres

Item = Mapping[str, Any]
_CLAIM = re.compile(
    r"(?P<tags>.+?) (?P<state>open|shut|running|stopped|under pressure|without pressure|joined to|holds|at most"
    r"|at least|empty)(?: (?P<rest>.+))?"
)


@dataclass(frozen=True)
class Claim:
    """A claim about one piece."""

    tag: str
    state: str
    rest: str


def claims(texts: Sequence[str]) -> Iterator[Claim]:
    """Return what texts claim, piece by piece."""
    for text in texts:
        found = _CLAIM.fullmatch(text)
        assert found is not None, text
        for tag in re.split(", | and ", found["tags"]):
            yield Claim(tag, found["state"], found["rest"] or "")


@dataclass(frozen=True)
class Taken:
    """A step taken: its name and what the plant was like right after it."""

    step: str
    after: World


@dataclass(frozen=True)
class Path:
    """One way through a procedure, to its end or to the first thing that is wrong."""

    steps: tuple[Taken, ...] = ()
    #: checks that were looked at, and those that were so
    looked_at: frozenset[str] = frozenset()
    was_so: frozenset[str] = frozenset()
    #: the step where something is wrong; empty when that is at the end
    wrong_at: str = ""
    codes: frozenset[str] = frozenset()
    #: True when it ends with the last step, False when somebody was sent away or stopped
    is_whole: bool = False

    def and_wrong(self, codes: set[str], at: str = "") -> "Path":
        """Return the path when it ends with something wrong."""
        return replace(self, codes=frozenset(codes), wrong_at=at)


class NaiveRun:
    """Walks one procedure of a book."""

    def __init__(self, book: Mapping[str, Any], procedure: Item, plant: NaivePlant, chance: Random) -> None:
        """Take the book's files by name, one of its procedures, and what draws whatever is not said."""
        self.book, self.procedure, self.plant, self.chance = book, procedure, plant, chance
        self.sections: dict[str, list[Item]] = {}
        self.main: list[Item] = []
        self._part()

    def _part(self) -> None:
        """Note what follows where somebody is sent; nobody comes to a section for those sent there by going on."""
        going_on: list[list[Item]] = [self.main]
        here = going_on
        for item in self.procedure["steps"]:
            if "section" in item:
                steps = self.sections[item["section"]] = []
                here = [steps] if "entered" in item else going_on
                if here is going_on:
                    going_on.append(steps)
            else:
                for each in here:
                    each.append(item)

    def apart(self, section: str) -> bool:
        """Return whether a section is entered only when somebody is sent there."""
        return any(item.get("section") == section and "entered" in item for item in self.procedure["steps"])

    def start(self) -> World:
        """Return one of the worlds in which the procedure may begin."""
        world = World()
        means = [text for name in self.procedure.get("prerequisites", ()) for text in self._condition(name)["means"]]
        said = list(claims(means))
        for tag, piece in self.plant.pieces.items():
            world.walls[tag] = set()
            if "rest" in piece:
                (world.open if piece["rest"] == "open" else world.running).add(tag)
            if tag in self.plant.capacity:
                world.inside[tag] = self._contents(tag, [claim for claim in said if claim.tag == tag])
        return world

    def _condition(self, name: str) -> Item:
        return self.book["equipment"]["conditions"][name]  # type: ignore[no-any-return]

    def _contents(self, tag: str, said: Sequence[Claim]) -> dict[str, Fraction]:
        """Return something that may stand in a piece of which this is said; nothing where no material is named."""
        low, high = Fraction(0), self.plant.capacity[tag]
        materials = list(self.plant.pieces[tag].get("holds", ()))
        for claim in said:
            if claim.state == "holds":
                materials = [claim.rest]
            elif claim.state == "at least":
                low = max(low, litres(claim.rest))
            elif claim.state == "at most":
                high = min(high, litres(claim.rest))
            elif claim.state == "empty":
                high = min(high, self.plant.heel(tag))
        if not materials:
            return {}
        whole = low + (high - low) * Fraction(self.chance.randint(0, 4), 4)
        parts = [self.chance.randint(0, 3) for _ in materials]
        parts[self.chance.randrange(len(parts))] += 1
        return {name: whole * part / sum(parts) for name, part in zip(materials, parts, strict=True)}

    def paths(self) -> Iterator[Path]:
        """Return every way through the procedure from one start."""
        yield from self._walk(self.start(), self.main, Path(), is_apart=False)

    def _walk(self, world: World, items: Sequence[Item], path: Path, *, is_apart: bool) -> Iterator[Path]:
        if not items:
            wrong = self.plant.unrest(world, set()) | (set() if is_apart else self.plant.loose_ends(world))
            yield path.and_wrong(wrong) if wrong else replace(path, is_whole=not is_apart)
            return
        item, rest = items[0], items[1:]
        if "go_to" in item and "step" not in item:
            yield from self._sent(world, item["go_to"], path)
            return
        world = world.copy()
        codes = self._step(world, item)
        if codes:
            yield path.and_wrong(codes, item["step"])
        elif "choose" in item:
            yield from self._choice(world, item, rest, path, is_apart=is_apart)
        elif "repeat" in item:
            path = self._noted(path, item, world)
            for count in range(1, int(item["at_most"]) + 1):
                inner = [each for _ in range(count) for each in item["steps"]]
                yield from self._walk(world, [*inner, *rest], path, is_apart=is_apart)
            if "if_not" in item:
                yield from self._walk(world, [*inner, {"go_to": item["if_not"]}], path, is_apart=is_apart)
        elif "if_not" in item:
            yield from self._look(world, item, rest, path, is_apart=is_apart)
        elif not self.is_so(world, item):
            yield path.and_wrong({"not-as-believed"}, item["step"])
        else:
            yield from self._walk(world, rest, self._noted(path, item, world), is_apart=is_apart)

    def _noted(self, path: Path, item: Item, world: World) -> Path:
        return replace(path, steps=(*path.steps, Taken(item["step"], world)))

    def _sent(self, world: World, section: str, path: Path) -> Iterator[Path]:
        yield from self._walk(world, self.sections[section], path, is_apart=self.apart(section))

    def _choice(self, world: World, item: Item, rest: Sequence[Item], path: Path, *, is_apart: bool) -> Iterator[Path]:
        answers = [branch for branch in item["branches"] if self.is_so(world, branch)]
        if not answers:
            yield path.and_wrong({"not-as-believed"}, item["step"])
        for branch in answers:
            onward = [{"go_to": branch["go_to"]}] if "go_to" in branch else rest
            yield from self._walk(world, [*branch.get("steps", ()), *onward], path, is_apart=is_apart)

    def _look(self, world: World, item: Item, rest: Sequence[Item], path: Path, *, is_apart: bool) -> Iterator[Path]:
        path = replace(path, looked_at=path.looked_at | {item["step"]})
        if self.is_so(world, item):
            so = replace(path, was_so=path.was_so | {item["step"]})
            yield from self._walk(world, rest, self._noted(so, item, world), is_apart=is_apart)
        else:
            yield from self._sent(world, item["if_not"], path)
        if "finds" not in item:
            yield from self._sent(world, item["if_not"], path)
        for claim in claims(item.get("finds", ())):
            yield from self._sent(self._denied(world, claim), item["if_not"], path)

    def is_so(self, world: World, item: Item) -> bool:
        """Return whether all that a step or an answer finds is so."""
        return all(self._is_true(world, claim) for claim in claims(item.get("finds", ())))

    def _is_true(self, world: World, claim: Claim) -> bool:
        tag, state = claim.tag, claim.state
        if state in ("open", "shut"):
            return (tag in world.open) == (state == "open")
        if state in ("running", "stopped"):
            return (tag in world.running) == (state == "running")
        if state in ("under pressure", "without pressure"):
            return (tag in world.pressed) == (state == "under pressure")
        if state == "joined to":
            return world.joined.get(tag, "nothing") == claim.rest
        if state == "empty":
            return world.volume(tag) <= self.plant.heel(tag)
        if state == "at most":
            return world.volume(tag) <= litres(claim.rest)
        assert state == "at least", f"{state} is not looked at here"
        return world.volume(tag) >= litres(claim.rest)

    def _denied(self, world: World, claim: Claim) -> World:
        """Return a world in which a claim turns out to be wrong."""
        world, tag = world.copy(), claim.tag
        opposite = {"open": "shut", "shut": "open", "running": "stopped", "stopped": "running"}
        opposite |= {"under pressure": "without pressure", "without pressure": "under pressure"}
        if claim.state in opposite:
            self._bring_about(world, Claim(tag, opposite[claim.state], ""))
        elif claim.state == "joined to":
            others = {"nothing", *self.plant.pieces[tag]["joins"]} - {claim.rest}
            self._bring_about(world, Claim(tag, "joined to", self.chance.choice(sorted(others))))
        else:
            world.inside[tag] = self._contents(tag, ())
        return world

    def _bring_about(self, world: World, claim: Claim) -> None:
        tag, state = claim.tag, claim.state
        if state in ("open", "shut"):
            (world.open.add if state == "open" else world.open.discard)(tag)
        elif state in ("running", "stopped"):
            (world.running.add if state == "running" else world.running.discard)(tag)
        elif state in ("under pressure", "without pressure"):
            (world.pressed.add if state == "under pressure" else world.pressed.discard)(tag)
        elif state == "joined to":
            world.joined.pop(tag, None)
            if claim.rest != "nothing":
                world.joined[tag] = claim.rest
        elif state == "holds":
            world.inside[tag] = {claim.rest: world.volume(tag)}
        self.plant.settle(world)

    def _step(self, world: World, item: Item) -> set[str]:
        """Do what a step says, and return what is wrong."""
        wrong: set[str] = set()
        before, flow = self.plant.running_faults(world), self._flow(item)
        for key, state in (("open", "open"), ("shut", "shut"), ("start", "running"), ("stop", "stopped")):
            if key in item:
                self._bring_about(world, Claim(item[key], state, ""))
        if flow is not None:
            wrong |= self.plant.way_faults(world, flow)
            if not wrong:
                wrong |= self.plant.run(world, flow, self.chance)
        if "hold" in item:
            wrong |= self._unrest_at(world, item)
        for claim in claims(item.get("leaves", ())):
            self._bring_about(world, claim)
        if flow is None or flow.amount not in (None, ANY):
            # What was wrong before this step is not its fault, but for a pump that nobody stops.
            after = self.plant.running_faults(world)
            wrong |= {code for code, tag in after if code == "runs-dry" or (code, tag) not in before}
        return wrong | self._stopped(world)

    def _unrest_at(self, world: World, item: Item) -> set[str]:
        """Return what is wrong while everybody waits at a hold, which may find something as it is."""
        return self.plant.unrest(world, {claim.tag for claim in claims(item.get("finds", ()))})

    def _stopped(self, world: World) -> set[str]:
        """Return what is wrong when everybody stops here; pressure may stay behind."""
        world = world.copy()
        for claim in claims(self.procedure.get("stop_leaves", ())):
            self._bring_about(world, claim)
        return {"stop-unsafe"} if self.plant.unrest(world, set()) - {"left-pressure"} else set()

    def _flow(self, item: Item) -> Flow | None:
        if "move" in item:
            first, *between, last = item["path"]
            return Flow(first, tuple(between), last, item["move"], self._moved(item))
        if "add" in item:
            by = (item["with"],) if "with" in item else ()
            way = self._way(item["from"], item["to"]) if "from" in item else by
            return Flow(item.get("from"), way, item["to"], item["add"], self._amount(item["amount"]))
        return None

    def _moved(self, item: Item) -> tuple[Fraction, Fraction] | None:
        if any(claim.state == "empty" for claim in claims(item.get("leaves", ()))):
            return None
        if "amount" in item:
            return self._amount(item["amount"])
        named = re.search("<.+>", item.get("until", ""))
        return ANY if named is None else self._amount(named[0])

    def _amount(self, text: str) -> tuple[Fraction, Fraction]:
        """Return the least and the most that an amount comes to: a dilution, give or take its tolerance."""
        if not text.startswith("<"):
            return litres(text), litres(text)
        amount = self.procedure["amounts"][text.strip("<>")]
        assert amount["calculate"] == "dilute"
        stock, target = (Fraction(amount["with"][name].split()[0]) for name in ("stock", "target"))
        middle, off = litres(amount["with"]["make"]) * target / stock, litres(amount["tolerance"])
        return middle - off, middle + off

    def _way(self, source: str, target: str) -> tuple[str, ...]:
        """Return what liquid passes on the shortest way."""
        return min(self.plant.ways(source, target), key=len)[1:-1]

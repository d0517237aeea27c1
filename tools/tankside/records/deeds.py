"""What the events of a working copy did to the plant, what they showed of it, and what they left in doubt.

Everything is taken from the edition that the copy follows. The page does alike (``board-deeds.js``).
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from functools import cache
from itertools import accumulate

from tankside.plant.effects import Effect, Flows
from tankside.plant.fold import Rules
from tankside.plant.volumes import ZERO, Interval, exactly
from tankside.records.copy import Copy, Visit
from tankside.records.folding import fold
from tankside.records.part_effects import asked, effects_in, effects_of, rules_in, seen_at
from tankside.records.worth import worth

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_MS = timedelta(milliseconds=1)
#: steps that lead elsewhere when what they look at is not so
LOOKING = ("check", "measure")


@dataclass(frozen=True)
class Reference:
    """The event of a working copy that something is known from."""

    copy: str
    seq: int
    at: str
    lot: str
    #: of the procedure or checklist
    id: str
    #: name of the step; empty at the start, and where the work was stopped
    step: str


@dataclass(frozen=True)
class Deed:
    """What came of one event."""

    reference: Reference
    rules: Rules
    #: in the order in which they happened
    done: tuple[Effect, ...] = ()
    #: what nobody knows whether it was done
    doubted: tuple[Effect, ...] = ()
    seen: tuple[Effect, ...] = ()


def ordered_deeds(copies: Iterable[Copy]) -> list[Deed]:
    """Return what came of all events, in the order of time.

    At one instant the ids of the copies decide. Within a copy nothing comes before what was entered before it: a clock
    that was set back does not turn the order round.
    """
    found = [(*moment, deed) for copy in copies for moment, deed in _timed(copy)]
    return [deed for *_, deed in sorted(found, key=lambda each: each[:3])]


def _timed(copy: Copy) -> Iterator[tuple[tuple[int, str, int], Deed]]:
    moments = list(accumulate((_instant(event["at"]) for event in copy.events), max))
    for deed in deeds(copy):
        about = deed.reference
        yield (moments[about.seq], about.copy, about.seq), deed


def _instant(at: str) -> int:
    """Return a time with its offset as milliseconds that are the same everywhere."""
    return (datetime.fromisoformat(at) - _EPOCH) // _MS


def deeds(copy: Copy) -> Iterator[Deed]:
    """Return what came of the events of a copy, in no order."""
    if not copy.is_started:
        return
    making = _Making(copy)
    yield from making.start()
    for visit in copy.trail:
        if visit.node >= 0:
            yield from making.visit(visit)
    yield from making.stops()


def reference(copy: Copy, seq: int, step: str = "") -> Reference:
    """Return the event with a number."""
    event, first = copy.events[seq], copy.events[0]
    return Reference(event["copy"], seq, event["at"], first.get("lot", ""), copy.script.id, step)


class _Making:
    """Makes the deeds of one copy."""

    def __init__(self, copy: Copy) -> None:
        self.copy = copy
        self.rules = cache(lambda number: rules_in(copy.script.parts[number]))

    def start(self) -> Iterator[Deed]:
        """People looked before they began, and found that what must be so was so."""
        confirmed = self.copy.events[0].get("confirmed", [])
        said = set[str]()
        for number, name in asked(self.copy.script):
            if name in confirmed and name not in said:
                said.add(name)
                seen = seen_at(self.copy.script.parts[number], name)
                yield Deed(reference(self.copy, 0), self.rules(number), seen=seen)

    def visit(self, visit: Visit) -> Iterator[Deed]:
        """Return what came of a step: at most one deed."""
        part, node = self.copy.part_of(visit), self.copy.node_of(visit)
        effects = () if visit.kind == "question" else effects_of(part, visit.name)
        at = _touched_at(visit)
        if visit.exit is None:
            if at is not None:
                yield self._unfinished(visit, effects, at)
            return
        assert visit.done is not None, "it is done"
        kind = self.copy.events[visit.done]["kind"]
        if kind == "skip":
            # What was begun before it was left out may have been done in part.
            if at is not None:
                yield self._deed(visit, at, doubted=effects)
        elif kind == "deviate":
            yield self._deed(visit, visit.done, doubted=effects)
        else:
            is_denied = visit.exit > 0 and node.kind in LOOKING
            doubted = effects_in(node.exits[0].seen) if is_denied else ()
            seen = effects_in(node.exits[visit.exit].seen)
            yield self._deed(visit, visit.done, done=self._measured(visit, effects), doubted=doubted, seen=seen)

    def _unfinished(self, visit: Visit, effects: tuple[Effect, ...], at: int) -> Deed:
        """Return what is known of a step that somebody is at: what was put in so far, and nothing of the rest."""
        if visit.kind != "add" or not visit.values:
            return self._deed(visit, at, doubted=effects)
        put = tuple(each for each in self._measured(visit, effects) if isinstance(each, Flows))
        rest = tuple(each for each in effects if not isinstance(each, Flows))
        return self._deed(visit, at, done=put, doubted=rest)

    def _measured(self, visit: Visit, effects: tuple[Effect, ...]) -> tuple[Effect, ...]:
        """Return effects with the amount that was really put in, or moved for what was chosen."""
        amount = self._amount(visit)
        if amount is None:
            return effects
        return tuple(
            replace(each, amount=amount) if isinstance(each, Flows) and each.amount is not None else each
            for each in effects
        )

    def _amount(self, visit: Visit) -> Interval | None:
        part = self.copy.part_of(visit)
        named = part.edition["volumes"].get(visit.name)
        if named is None:
            return None
        litres = Fraction(named["litres"])
        if visit.kind == "add":
            return exactly(visit.total * litres)
        amount = part.edition["amounts"][named["amount"]]
        wanted = worth(part, amount, self.copy.inputs)
        off = Fraction(amount["tolerance"]["value"]) if "tolerance" in amount else ZERO
        return Interval(max(wanted - off, ZERO) * litres, (wanted + off) * litres)

    def stops(self) -> Iterator[Deed]:
        """Return what stopping safely did, each time in the part where the work was then."""
        if all(event["kind"] != "stop" for event in self.copy.events):
            return
        again = Copy(self.copy.script)
        for event in self.copy.events:
            fold(again, event)
            if event["kind"] == "stop":
                visit = again.now or again.tip
                number = 0 if visit is None else visit.part
                stopping = effects_in(self.copy.script.parts[number].edition["stopping"])
                yield Deed(reference(self.copy, event["seq"]), self.rules(number), done=stopping)

    def _deed(
        self,
        visit: Visit,
        seq: int,
        *,
        done: tuple[Effect, ...] = (),
        doubted: tuple[Effect, ...] = (),
        seen: tuple[Effect, ...] = (),
    ) -> Deed:
        return Deed(reference(self.copy, seq, visit.name), self.rules(visit.part), done, doubted, seen)


def _touched_at(visit: Visit) -> int | None:
    """Return the last event by which a step was begun or something was entered for it, None when nobody was at it."""
    return visit.values[-1] if visit.values else visit.begun

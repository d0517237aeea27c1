"""Where the chain of a record does not hold, and the events that hang together before that."""

from collections import Counter, defaultdict
from dataclasses import dataclass, field
from itertools import pairwise

from tankside.problems import Problem
from tankside.quantities.portable import Portable
from tankside.records.chain import HASH, event_hash
from tankside.records.document import Document
from tankside.records.shape import name_of
from tankside.schema.records import EVENTS

_STRAY = "it is left out; find out how it came into this file"


@dataclass(frozen=True)
class Chain:
    """The events of a record as far as they hang together."""

    #: their places in the file, in the order of the chain
    sound: tuple[int, ...]
    problems: tuple[Problem, ...]
    #: how many there are of this chain; what stands twice counts once
    count: int


def chain_of(document: Document) -> Chain:
    """Return what hangs together in a record that has the shape of one, and where it breaks."""
    linking = _Linking(document)
    linking.follow()
    linking.compare_order()
    count = len(linking.events) - len(linking.idle - {*linking.order})
    return Chain(tuple(linking.sound), tuple(linking.problems), count)


@dataclass
class _Linking:
    document: Document
    problems: list[Problem] = field(default_factory=list)
    #: the places of the events on the chain, and of those before it first breaks
    order: list[int] = field(default_factory=list)
    sound: list[int] = field(default_factory=list)
    is_broken: bool = False

    def __post_init__(self) -> None:
        """Find out which events name which one as the one before them."""
        self.events: list[Portable] = self.document.value[EVENTS]
        self.hashes = [event_hash(event) for event in self.events]
        self.sort = self.document.sort
        self.copy = usual(self.events, self.sort.chain)
        self.about = usual(self.events, self.sort.about)
        self.behind: dict[str, list[int]] = defaultdict(list)
        self.taken = set[int]()
        #: what stands twice or belongs to another chain, so that nothing is lost without it
        self.idle = set[int]()
        self.places = iter(range(len(self.events)))
        first: dict[str, int] = {}
        for place, event in enumerate(self.events):
            if first.setdefault(self.hashes[place], place) == place:
                self.behind[event["previous"]].append(place)
            else:
                self.taken.add(place)
                self.idle.add(place)
                message = f"is event {first[self.hashes[place]] + 1} once more"
                self._say("event-twice", place, message, f"it counts once; {self.sort.save_again}")

    def follow(self) -> None:
        """Follow the chain from its beginning on; where it breaks, go on with what is left."""
        while (place := self._linked()) is not None or (place := self._left()) is not None:
            self.taken.add(place)
            self.order.append(place)
            if not self.is_broken:
                self.sound.append(place)

    def compare_order(self) -> None:
        """Say where events stand in another order than the chain has them."""
        for before, place in pairwise(self.order):
            if place < before:
                message = f"stands before event {before + 1}, which it follows"
                hint = f"the chain itself holds, and its order counts; {self.sort.save_again}"
                self._say("event-order", place, message, hint)

    def _linked(self) -> int | None:
        """Return the event that names the last one as the one before it."""
        links: tuple[str, ...] = (self.about if self.sort.is_rooted else "",)
        if self.order:
            # What was changed may have kept its hash or got a new one; the event behind it is not to blame.
            last = self.order[-1]
            links = (self.events[last][HASH], self.hashes[last])
        behind = (place for each in links for place in self.behind.get(each, ()))
        place = next((each for each in behind if each not in self.taken), None)
        if place is None:
            return None
        if self._is_changed(place):
            self._break("event-changed", place, "was changed after it was entered")
        elif (stray := self._stray(place)) is not None:
            self._say(*stray)
        elif self.events[place]["seq"] != self._expected() and not self._follows_change():
            self._break("event-number", place, f"has the number of event {self.events[place]['seq'] + 1}")
        return place

    def _left(self) -> int | None:
        """Return the first event that follows none of those that are here, and say what is wrong there."""
        for place in self.places:
            if place in self.taken:
                continue
            stray = self._stray(place)
            if stray is not None:
                self.idle.add(place)
            said = stray or self._beside(place)
            if said is None:
                self._say_break(place)
                return place
            self._say(*said)
        return None

    def _say_break(self, place: int) -> None:
        missing = self.events[place]["seq"] - self._expected()
        if self._is_changed(place):
            self._break("event-changed", place, "was changed after it was entered")
        elif missing > 0:
            what = "1 event is" if missing == 1 else f"{missing} events are"
            self._break("events-missing", place, f"follows none that is here: {what} missing before it")
        else:
            self._break("event-unlinked", place, "follows another event than the one before it here")

    def _stray(self, place: int) -> tuple[str, int, str, str] | None:
        """Return what is said of an event of another chain, or about something else."""
        event, sort = self.events[place], self.sort
        if event[sort.chain] != self.copy:
            return f"other-{sort.chain}", place, sort.foreign.format(value=event[sort.chain]), _STRAY
        if event[sort.about] != self.about:
            return f"other-{sort.about}", place, sort.astray.format(value=event[sort.about]), _STRAY
        return None

    def _beside(self, place: int) -> tuple[str, int, str, str] | None:
        """Return what is said of an event whose number another one has on the chain."""
        if self._is_changed(place) or self.events[place]["seq"] >= self._expected():
            return None
        message = "stands beside the chain: another event has its number"
        return "event-beside", place, message, f"it is left out; {self._compare()}"

    def _expected(self) -> int:
        return self.events[self.order[-1]]["seq"] + 1 if self.order else 0

    def _follows_change(self) -> bool:
        return bool(self.order) and self._is_changed(self.order[-1])

    def _is_changed(self, place: int) -> bool:
        return bool(self.events[place][HASH] != self.hashes[place])

    def _break(self, code: str, place: int, message: str) -> None:
        count = len(self.sound)
        holds = f"the {count} before it hold together" if count > 1 else "the one before it holds"
        before = holds if count else "nothing before it is left"
        self.is_broken = True
        self._say(code, place, message, f"{before}; {self._compare()}")

    def _compare(self) -> str:
        return f"compare with an earlier file of this {self.sort.thing}, or with what the device still has"

    def _say(self, what: str, place: int, message: str, hint: str) -> None:
        named = name_of(self.events[place], place)
        self.problems.append(self.document.error(self.sort.code(what), f"{named} {message}", hint, EVENTS, place))


def usual(events: list[Portable], key: str) -> str:
    """Return what most of the events have under a key."""
    return str(Counter(event[key] for event in events).most_common(1)[0][0])

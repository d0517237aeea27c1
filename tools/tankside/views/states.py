"""States of the plant in words; several states of one moment are told as what may be so."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, reduce
from itertools import product

from tankside.plant.gathering import hull
from tankside.plant.parts import LITRE, Part
from tankside.plant.setting import Setting
from tankside.plant.state import Piece, State
from tankside.plant.volumes import Contents, Interval
from tankside.texts import Words
from tankside.units import UNITS, Quantity
from tankside.views.numbers import range_text

#: field of a piece -> what it may be, and the key of its words
SAID: Mapping[str, Mapping[object, str]] = {
    "is_open": {True: "state-open", False: "state-shut"},
    "is_running": {True: "state-runs", False: "state-stopped"},
    "is_locked": {True: "state-locked", False: "state-unlocked"},
    "is_in_order": {True: "state-in-order", False: "state-out-of-order"},
    "is_under_pressure": {True: "state-pressure", False: "state-no-pressure"},
    "is_proved": {True: "state-proved", False: "state-not-proved"},
    "wash": {each: f"state-wash-{each}" for each in ("unknown", "dirty", "rinsed", "clean")},
    "label": {
        each: f"state-label-{each.replace(' ', '-')}"
        for each in ("unknown", "unlabelled", "in process", "released", "on hold")
    },
    "dissipated": {True: "state-dissipated", False: "state-not-dissipated"},
    "verified": {True: "state-verified", False: "state-not-verified"},
    "worn": {True: "state-on", False: "state-off"},
}
#: what can differ about a piece
FIELDS = (*(field for field in SAID if field != "worn"), "joined_to", "contents")
#: of which each subject has a sentence of its own
ALONE = ("is_running", "joined_to", "contents")
#: what does not stay behind: it is about the person, or says nothing of what others will find
PERSONAL = ("worn", "wash", "is_proved", "dissipated", "verified")
WORN, CONTENTS, JOINED = "worn", "contents", "joined_to"
#: what is at most this part of the whole is told with how much it may be
LITTLE = 2


@dataclass(frozen=True, order=True)
class Aspect:
    """Something that can be said: of a piece, of a source of energy of it, or of what is worn."""

    #: a tag, `tag.source`, or the id of protective equipment
    subject: str
    #: a field of a piece, or `worn`
    field: str

    @property
    def tag(self) -> str:
        """The piece; empty of what is worn."""
        return "" if self.field == WORN else self.subject.partition(".")[0]


@dataclass(frozen=True)
class StateWords:
    """Speaks of the states of one plant."""

    setting: Setting
    say: Words

    def changed(self, taken: Iterable[tuple[State, State]]) -> tuple[Aspect, ...]:
        """Return what differs in any pair of states before and after a step."""
        return tuple(dict.fromkeys(aspect for before, after in taken for aspect in self._differing(before, after)))

    def changes(self, taken: Collection[tuple[State, State]]) -> tuple[str, ...]:
        """Return what a step changes, given the states before and after it."""
        return self._said(self.changed(taken), [after for _, after in taken])

    def seen(self, before: Collection[State], after: Collection[State]) -> tuple[str, ...]:
        """Return what is known of the same moment once it has been looked at, given what was thought possible."""
        found = self.changed(product(before, after))
        differing = [each for each in found if self._values(each, before) != self._values(each, after)]
        return self._said(differing, after)

    def left(self, start: State, states: Collection[State], touched: Collection[Aspect]) -> tuple[str, ...]:
        """Return what steps have `touched` and is neither as at the start nor as at rest: what others would find."""
        behind = [
            each
            for each in self.changed(product((start,), states))
            if each in touched
            and each.field not in PERSONAL
            and self._values(each, states) not in (self._values(each, [start]), self._values(each, [self._rest]))
            and (each.field != CONTENTS or self._has_come(each.subject, start, states))
        ]
        return self._said(behind, states)

    def now(self, states: Collection[State], tags: Collection[str]) -> tuple[str, ...]:
        """Return all that is not as at rest about some pieces."""
        return self._said([each for each in self.changed(product((self._rest,), states)) if each.tag in tags], states)

    def fact(self, tag: str, field: str, state: State) -> str:
        """Return what a state says of one field of a piece; empty where there is nothing to say."""
        value = getattr(state[tag], field)
        if isinstance(value, frozenset):
            return f"{', '.join(sorted(value))} {self.say(SAID[field][True])}" if value else ""
        return self._words(Aspect(tag, field), [state])

    @cached_property
    def _rest(self) -> State:
        return self.setting.at_rest

    def _differing(self, before: State, after: State) -> Iterator[Aspect]:
        for tag, piece in after.pieces.items():
            if piece is not before[tag]:
                yield from _differing(tag, before[tag], piece)
        yield from (Aspect(name, WORN) for name in sorted(before.worn ^ after.worn))

    def _values(self, aspect: Aspect, states: Iterable[State]) -> frozenset[object]:
        return frozenset(_value(aspect, state) for state in states)

    def _has_come(self, tag: str, start: State, states: Collection[State]) -> bool:
        """Return whether a piece may hold something that it did not hold at the start, or more."""
        was, now = start[tag].contents, held_in([each[tag] for each in states])
        if was is None or now is None or now.is_empty:
            return False
        is_more = now.volume.low > was.volume.low or now.volume.high > was.volume.high
        return is_more or not set(now.materials) <= set(was.materials)

    def _said(self, aspects: Iterable[Aspect], states: Collection[State]) -> tuple[str, ...]:
        subjects: dict[str, list[str]] = {}
        for aspect in aspects:
            words = self._words(aspect, states)
            key = f"{aspect.subject} {words}" if aspect.field in ALONE else words
            subjects.setdefault(key, []).append("" if aspect.field in ALONE else aspect.subject)
        return tuple(f"{', '.join(found)} {words}".strip() for words, found in subjects.items())

    def _words(self, aspect: Aspect, states: Collection[State]) -> str:
        if aspect.field == CONTENTS:
            held = held_in([state[aspect.subject] for state in states])
            return "" if held is None else self._held(aspect.subject, held)
        values = self._values(aspect, states)
        if aspect.field == JOINED:
            joined = sorted(str(each) for each in values if each is not None)
            each = [self.say("state-joined", other=other) for other in joined]
            return self._either([*each, *([self.say("state-not-joined")] if None in values else [])])
        return self._either([self.say(key) for value, key in SAID[aspect.field].items() if value in values])

    def _either(self, words: Sequence[str]) -> str:
        *first, last = words
        return self.say("state-or").join((", ".join(first), last)) if first else last

    def _held(self, tag: str, held: Contents) -> str:
        if held.is_empty:
            return self.say("state-empty")
        part, volume = self.setting.plant.parts[tag], self._range(held.volume)
        if is_anything(part, held):
            return self.say("state-holds-anything", volume=volume)
        words = self.say("state-holds", volume=volume, materials=self._materials(held))
        return self.say("state-heel", held=words) if held.volume.high <= part.heel else words

    def _materials(self, held: Contents) -> str:
        sure = [name for name, found in held.parts if found.low > 0]
        perhaps = [(name, found.high) for name, found in held.parts if found.low == 0]
        if not sure:
            return self._either([name for name, _ in perhaps])
        words = self.say("state-and").join(sure)
        much = [name for name, most in perhaps if most * LITTLE > held.volume.high]
        little = [name for name, most in perhaps if name not in much]
        if much:
            words = self.say("state-perhaps", sure=words, perhaps=self._either(much))
        if little:
            most = max(most for name, most in perhaps if name in little)
            bound = self._range(Interval(most, most))
            words = self.say("state-little", sure=words, most=bound, little=self._either(little))
        return words

    def _range(self, volume: Interval) -> str:
        low, high = (Quantity(each * LITRE, UNITS["L"]) for each in volume)
        return range_text(low, high, str(self.setting.facts.facts.units), self.say)


def _differing(tag: str, before: Piece, after: Piece) -> Iterator[Aspect]:
    for field in FIELDS:
        one, other = getattr(before, field), getattr(after, field)
        if one is other or one == other:
            continue
        if isinstance(one, frozenset):
            yield from (Aspect(f"{tag}.{source}", field) for source in sorted(one ^ other))
        else:
            yield Aspect(tag, field)


def _value(aspect: Aspect, state: State) -> object:
    if aspect.field == WORN:
        return aspect.subject in state.worn
    tag, _, source = aspect.subject.partition(".")
    value: object = getattr(state[tag], aspect.field)
    return source in value if isinstance(value, frozenset) else value


def held_in(pieces: Iterable[Piece]) -> Contents | None:
    """Return what may stand in a piece in any of several states; None where nothing stands."""
    return reduce(hull, (each.contents for each in pieces))


def is_anything(part: Part, held: Contents) -> bool:
    """Return whether nothing is known of what stands in a piece."""
    return len(part.holds) > 1 and part.holds <= set(held.materials) and all(found.low == 0 for _, found in held.parts)

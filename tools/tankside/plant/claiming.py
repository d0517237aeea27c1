"""What a claim means for a state: whether it agrees, what is then known, what else may be so, and what it does."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from tankside.compute.facts import quantity
from tankside.loading.values import Text
from tankside.model.claims import ENERGY, Claim, read_claim
from tankside.plant.effects import Effect, Energy, Joins, Names, Sees, Wears, sets
from tankside.plant.fold import Rules, folded
from tankside.plant.naming import Naming
from tankside.plant.parts import Plant, litres
from tankside.plant.state import UNKNOWN, Piece, State
from tankside.plant.volumes import FAR, ZERO, Contents, Interval, anything_of, contents

#: claims of the simple sort: state -> field of a piece and the value it then has
SIMPLE: dict[str, tuple[str, bool | str]] = {
    "open": ("is_open", True),
    "shut": ("is_open", False),
    "running": ("is_running", True),
    "stopped": ("is_running", False),
    "proved": ("is_proved", True),
    "locked": ("is_locked", True),
    "unlocked": ("is_locked", False),
    "under pressure": ("is_under_pressure", True),
    "without pressure": ("is_under_pressure", False),
    "in order": ("is_in_order", True),
    "out of order": ("is_in_order", False),
    "clean": ("wash", "clean"),
    "rinsed": ("wash", "rinsed"),
    "dirty": ("wash", "dirty"),
    "released": ("label", "released"),
    "in process": ("label", "in process"),
    "on hold": ("label", "on hold"),
    "unlabelled": ("label", "unlabelled"),
}


@cache
def claim_of(text: Text) -> Claim:
    """Return the claim that a text of a sound book says."""
    return read_claim(text)


@dataclass(frozen=True)
class Claiming:
    """Judges and applies claims on one plant."""

    plant: Plant
    naming: Naming
    rules: Rules
    #: what a procedure lists under `wear`, for claims that say `wear on`
    wear: frozenset[str]

    def narrowed(self, state: State, claim: Claim) -> State | None:
        """Return the state with what is known when the claim is true, None when it cannot be true."""
        if claim.is_worn:
            return state if self._is_worn(state, claim) else None
        for subject in claim.subjects:
            after = self._narrowed(state, str(subject), claim)
            if after is None:
                return None
            state = after
        return state

    def assumed(self, state: State, claim: Claim) -> State:
        """Return the state in which the claim is true, whatever was known before: a start."""
        if claim.is_worn:
            return state.with_worn(state.worn | self._worn(claim))
        for subject in claim.subjects:
            tag = str(subject)
            found = self._narrowed(state, tag, claim)
            if found is None:
                for effect in self._effects_on(str(subject), claim):
                    state = folded(self.rules, state, effect)
            else:
                state = found
        return state

    def denied(self, state: State, claim: Claim) -> Iterator[State]:
        """Return what the plant may be like when the claim turns out not to be so, one fault at a time."""
        if claim.is_worn:
            for name in sorted(self._worn(claim)):
                yield state.with_worn(state.worn - {name} if claim.state == "on" else state.worn | {name})
            return
        for subject in claim.subjects:
            yield from self._denied(state, str(subject), claim)

    def effects(self, claim: Claim) -> tuple[Effect, ...]:
        """Return what a claim under `leaves` does to the plant."""
        return tuple(self._effects(claim))

    def seen(self, claim: Claim) -> tuple[Effect, ...]:
        """Return what is known of the plant once somebody has seen that a claim is so."""
        if claim.state == "holds" and len(claim.materials) > 1:
            # An effect cannot say how much of each there is, and one name for all of them would be wrong.
            return ()
        if claim.is_worn or claim.state not in ("empty", "at most", "at least"):
            return self.effects(claim)
        tags = tuple(map(str, claim.subjects))
        return tuple(Sees("sees", tag, self._limits(tag, claim)) for tag in tags)

    def _limits(self, tag: str, claim: Claim) -> Interval:
        """Return the volumes that agree with a claim about how much there is."""
        if claim.state == "empty":
            return Interval(ZERO, self.plant.parts[tag].heel)
        assert claim.quantity is not None, f"{claim.state} names a volume"
        said = litres(quantity(claim.quantity, "volume"))
        return Interval(ZERO, said) if claim.state == "at most" else Interval(said, FAR)

    def _is_worn(self, state: State, claim: Claim) -> bool:
        worn = self._worn(claim)
        return worn <= state.worn if claim.state == "on" else not worn & state.worn

    def _worn(self, claim: Claim) -> frozenset[str]:
        return frozenset(
            name for subject in claim.subjects for name in (self.wear if subject == "wear" else (str(subject),))
        )

    def _narrowed(self, state: State, tag: str, claim: Claim) -> State | None:
        tag, _, source = tag.partition(".")
        piece = state[tag]
        if claim.state in ENERGY:
            return state if source in getattr(piece, claim.state) else None
        if claim.state == "joined to":
            return state if piece.joined_to == _other(claim) else None
        if claim.state in SIMPLE:
            return self._simply(state, tag, claim)
        found = self._contents(piece, tag, claim)
        return None if found is None else state.with_piece(tag, contents=found)

    def _simply(self, state: State, tag: str, claim: Claim) -> State | None:
        field, wanted = SIMPLE[claim.state]
        known = getattr(state[tag], field)
        if known == UNKNOWN or (field == "wash" and wanted == "rinsed" and known == "clean"):
            return state.with_piece(tag, **{field: wanted if known == UNKNOWN else known})
        return state if known == wanted else None

    def _contents(self, piece: Piece, tag: str, claim: Claim) -> Contents | None:
        held = piece.contents
        if held is None:
            return Contents(Interval(ZERO, ZERO))
        if claim.state == "holds":
            return self._holding(held, claim, self.plant.parts[tag].heel)
        volume = held.volume.within(self._limits(tag, claim))
        return None if volume is None else contents(volume, {name: _cut(part, volume) for name, part in held.parts})

    def _holding(self, held: Contents, claim: Claim, heel: Fraction) -> Contents | None:
        wanted = set(map(str, claim.materials))
        if len(wanted) == 1:
            (name,) = wanted
            return held.renamed(name) if self.naming.is_called(held, name, heel) else None
        if any(found.low > 0 and name not in wanted for name, found in held.parts):
            return None
        missing = wanted - set(held.materials)
        return None if missing else contents(held.volume, {n: p for n, p in held.parts if n in wanted})

    def _denied(self, state: State, tag: str, claim: Claim) -> Iterator[State]:
        tag, _, source = tag.partition(".")
        piece, part = state[tag], self.plant.parts[tag]
        if claim.state in ENERGY:
            yield state.with_piece(tag, **{claim.state: getattr(piece, claim.state) - {source}})
        elif claim.state == "joined to":
            for to in (None, *part.joins):
                if to != _other(claim):
                    yield folded(self.rules, state, Joins("joins", tag, to))
        elif claim.state in SIMPLE:
            field, value = SIMPLE[claim.state]
            other: bool | str = UNKNOWN if field == "label" else "dirty" if field == "wash" else not value
            yield folded(self.rules, state, sets(tag, field, other))
        elif piece.contents is not None and part.capacity is not None:
            yield state.with_piece(tag, contents=anything_of(part.holds | set(piece.contents.materials), part.capacity))

    def _effects(self, claim: Claim) -> Iterator[Effect]:
        if claim.is_worn:
            yield Wears("wears", tuple(sorted(self._worn(claim))), claim.state == "on")
            return
        for subject in claim.subjects:
            yield from self._effects_on(str(subject), claim)

    def _effects_on(self, subject: str, claim: Claim) -> Iterator[Effect]:
        tag, _, source = subject.partition(".")
        if claim.state in ENERGY:
            yield Energy("energy", tag, source, claim.state)
        elif claim.state == "joined to":
            yield Joins("joins", tag, _other(claim))
        elif claim.state == "holds":
            yield Names("names", tag, str(claim.materials[0]))
        elif claim.state in SIMPLE:
            yield sets(tag, *SIMPLE[claim.state])


def _other(claim: Claim) -> str | None:
    return None if claim.other is None else str(claim.other)


def _cut(part: Interval, volume: Interval) -> Interval:
    return Interval(min(part.low, volume.high), min(part.high, volume.high))

"""The board: what is in each tank, line and drum now, as far as it was recorded. The page folds alike (``board.js``).

It says what somebody entered. It never replaces looking.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, fields, replace
from fractions import Fraction

from tankside.plant.effects import Effect, Energy, Flows, Joins, Names, Sees, Sets
from tankside.plant.fold import Rules, folded
from tankside.plant.pressure import PressureRule
from tankside.plant.state import Piece, State
from tankside.plant.volumes import Contents, Interval
from tankside.records.copy import Copy
from tankside.records.deeds import Deed, Reference, ordered_deeds

#: what stands in a piece of which nothing is known, not even what it may hold
UNKNOWN_MATERIAL = "unknown"
_FIELDS = tuple(each.name for each in fields(Piece))


@dataclass(frozen=True)
class Board:
    """What was recorded of the plant; what has no `since` is not known."""

    state: State
    #: tag -> field of the piece -> the event that last said it
    since: Mapping[str, Mapping[str, Reference]]
    #: tag -> the event after which nobody can be sure of the piece
    unsure: Mapping[str, Reference]

    def known(self, tag: str, field: str) -> Reference | None:
        """Return the event from which a field of a piece is known, None when it is not."""
        return self.since.get(tag, {}).get(field)


def board(rest: State, copies: Iterable[Copy]) -> Board:
    """Return what working copies say of the plant.

    Args:
        rest: the plant while nobody works; a piece that it does not know is a new one.
        copies: whatever was recorded, in any order.
    """
    folding = _Folding(State(rest.pieces))
    for deed in ordered_deeds(copies):
        folding.take(deed)
    return Board(folding.state, folding.since, folding.unsure)


class _Folding:
    def __init__(self, rest: State) -> None:
        self.state = rest
        self.since: dict[str, dict[str, Reference]] = {}
        self.unsure: dict[str, Reference] = {}

    def take(self, deed: Deed) -> None:
        """Fold what came of one event: what was done, what nobody can be sure of, what was seen in the end."""
        self.state = with_all(self.state, deed.rules, (*deed.done, *deed.doubted, *deed.seen))
        for effect in deed.done:
            self._fold(deed, effect)
        self._doubt(deed)
        for effect in deed.seen:
            self._fold(deed, effect)
            for tag in touched(deed.rules, effect):
                self.unsure.pop(tag, None)

    def _fold(self, deed: Deed, effect: Effect) -> None:
        before, self.state = self.state, folded(deed.rules, self.state, effect)
        for tag, field in (*_set_by(self.state, effect), *_changed(before, self.state)):
            self.since.setdefault(tag, {})[field] = deed.reference

    def _doubt(self, deed: Deed) -> None:
        """Make unsure what effects name, and what they would change by the way: pressure that rises or goes."""
        if_done = self.state
        for effect in deed.doubted:
            if_done = folded(deed.rules, if_done, effect)
            self.unsure.update(dict.fromkeys(touched(deed.rules, effect), deed.reference))
        self.unsure.update({tag: deed.reference for tag, _ in _changed(self.state, if_done)})


def touched(rules: Rules, effect: Effect) -> tuple[str, ...]:
    """Return the pieces that an effect is about; a supply stays as it is."""
    if isinstance(effect, Flows):
        tags = filter(None, (effect.source, *effect.through, effect.target))
        return tuple(tag for tag in tags if tag not in rules.supplies)
    return (effect.tag,) if isinstance(effect, (Sets, Joins, Energy, Names, Sees)) else ()


def _set_by(state: State, effect: Effect) -> Iterator[tuple[str, str]]:
    """Return what an effect says outright, whether or not it was so before."""
    match effect:
        case Sets():
            yield effect.tag, effect.field
        case Joins():
            yield effect.tag, "joined_to"
        case Energy():
            yield effect.tag, effect.stage
        case Names() | Sees():
            if state[effect.tag].contents is not None:
                yield effect.tag, "contents"


def _changed(before: State, after: State) -> Iterator[tuple[str, str]]:
    for tag, piece in after.pieces.items():
        was = before[tag]
        if piece is not was:
            yield from ((tag, field) for field in _FIELDS if getattr(piece, field) != getattr(was, field))


def with_all(state: State, rules: Rules, effects: Iterable[Effect]) -> State:
    """Return the state with every piece that these effects, and the rules for them, are about."""
    named = {tag for effect in effects for tag in _tags(effect)}
    named |= {tag for rule in rules.pressure for tag in _under(rule)}
    named |= {machine for sources in rules.isolated_at.values() for machine, _ in sources}
    missing = {tag: Piece() for tag in sorted(named | rules.held.keys()) if tag not in state.pieces}
    pieces = {**state.pieces, **missing}
    for tag, held in rules.held.items():
        if held.capacity is not None and pieces[tag].contents is None:
            pieces[tag] = replace(pieces[tag], contents=_anything(held.capacity))
    return State(pieces)


def _anything(capacity: Fraction) -> Contents:
    most = Interval(Fraction(0), capacity)
    return Contents(most, ((UNKNOWN_MATERIAL, most),))


def _tags(effect: Effect) -> Iterator[str]:
    if isinstance(effect, Flows):
        yield from filter(None, (effect.source, *effect.through, effect.target))
    elif isinstance(effect, (Sets, Joins, Energy, Names, Sees)):
        yield effect.tag


def _under(rule: PressureRule) -> Iterator[str]:
    yield rule.line
    for way in (*rule.fed, *rule.relieved):
        yield from way.open
        yield from (loose for loose, _ in way.joined)
        yield from filter(None, [way.driver])

"""Sets of states at one place, kept small: equal states are one, and what another state covers is dropped.

When more than a few states differ only in how much there is, they are taken together as one that covers them all; when
that one goes on growing, as in a loop, it is widened to all that its vessels hold. Nothing that can happen is lost;
what is then found of amounts may be more than can really happen, never less.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from fractions import Fraction

from tankside.plant.state import Piece, State
from tankside.plant.volumes import ZERO, Contents, Interval

#: states that differ only in amounts and are kept apart at one place
APART = 6
#: how often a state that covers others may grow before it is widened
GROWTHS = 6


@dataclass
class _Alike:
    """States at one place that differ only in amounts."""

    states: list[State] = field(default_factory=list)
    grown: int = 0


@dataclass
class Gathered:
    """The states that have come to one place."""

    #: how much each piece holds [L]; None without end
    capacity: Callable[[str], Fraction | None]
    alike: dict[object, _Alike] = field(default_factory=dict)

    def taken_in(self, state: State) -> State | None:
        """Return the state to go on with; None when what is known already covers it."""
        group = self.alike.setdefault(_outline(state), _Alike())
        if any(covers(each, state) for each in group.states):
            return None
        if len(group.states) >= APART:
            state = _together((*group.states, state))
            group.grown += 1
            if group.grown > GROWTHS:
                state = self._widened(state)
            group.states = []
        group.states.append(state)
        return state

    def keeps(self, state: State) -> bool:
        """Return whether a state that was taken in still stands by itself; else one that covers it is gone on with."""
        return any(each is state for each in self.alike[_outline(state)].states)

    def _widened(self, state: State) -> State:
        for tag, piece in state.pieces.items():
            capacity = self.capacity(tag)
            if (
                piece.contents is not None
                and piece.contents.volume.low != piece.contents.volume.high
                and capacity is not None
            ):
                most = Interval(ZERO, max(capacity, piece.contents.volume.high))
                parts = tuple((name, most) for name, _ in piece.contents.parts)
                state = state.with_piece(tag, contents=Contents(most, parts))
        return state


def covers(wide: State, narrow: State) -> bool:
    """Return whether all that may be in one state may be in the other; they differ in amounts only."""
    if wide is narrow:
        return True
    return all(_covers(piece, narrow[tag]) for tag, piece in wide.pieces.items() if piece is not narrow[tag])


def _covers(wide: Piece, narrow: Piece) -> bool:
    if not narrow.traces <= wide.traces:
        return False
    held, other = wide.contents, narrow.contents
    if held is other or held is None or other is None:
        return held is other
    names = {*held.materials, *other.materials}
    return _inside(held.volume, other.volume) and all(_inside(held.amount(name), other.amount(name)) for name in names)


def _inside(wide: Interval, narrow: Interval) -> bool:
    return wide.low <= narrow.low and narrow.high <= wide.high


def _together(states: Iterable[State]) -> State:
    first, *others = states
    for other in others:
        for tag, piece in other.pieces.items():
            if piece != first[tag]:
                both = hull(first[tag].contents, piece.contents)
                first = first.with_piece(tag, contents=both, traces=first[tag].traces | piece.traces)
    return first


def hull(one: Contents | None, other: Contents | None) -> Contents | None:
    """Return what may stand in a piece in either of two states: surely only what is in both."""
    if one is None or other is None or one is other:
        return one
    names = sorted({*one.materials, *other.materials})
    parts = tuple((name, _span(one.amount(name), other.amount(name))) for name in names)
    return Contents(_span(one.volume, other.volume), parts)


def _span(one: Interval, other: Interval) -> Interval:
    return Interval(min(one.low, other.low), max(one.high, other.high))


def taken_together(states: Iterable[State]) -> tuple[State, ...]:
    """Return one state for all that differ only in amounts, which covers them."""
    alike: dict[object, list[State]] = {}
    for state in states:
        alike.setdefault(_outline(state), []).append(state)
    return tuple(_together(group) for group in alike.values())


def _outline(state: State) -> object:
    """Return all of a state but the amounts."""
    return (state.worn, tuple([piece.outline for piece in state.pieces.values()]))

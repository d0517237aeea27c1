"""What steps put into vessels, as the dry run saw it: which material, how much, and what stood there before."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from tankside.audit.audited import Audited, placed
from tankside.loading.values import Text
from tankside.model.procedures import Procedure
from tankside.model.steps import Add, Move, Step
from tankside.plant.effects import Flows
from tankside.plant.state import State
from tankside.plant.volumes import EMPTY, Contents, Interval


@dataclass(frozen=True)
class Filling:
    """A step that puts something into a vessel."""

    step: Step
    material: Text
    into: str
    #: what arrives [L]; None when the source is emptied
    amount: Interval | None
    #: every state in which it was taken
    before: tuple[State, ...]

    @property
    def most(self) -> Fraction:
        """How much arrives at most [L]; nothing is known of a source that is emptied."""
        return Fraction(0) if self.amount is None else self.amount.high

    def standing(self) -> Iterator[Contents]:
        """Return what stood in the vessel before, in each of the states."""
        return (state[self.into].contents or EMPTY for state in self.before)

    def present(self) -> frozenset[str]:
        """Return what may be in the vessel or on its walls, in any of the states."""
        return frozenset[str]().union(*(state[self.into].present for state in self.before))


def fillings(audited: Audited, procedure: Procedure) -> Iterator[Filling]:
    """Return the steps of a procedure that put something into a vessel, in reading order."""
    rehearsal = audited.rehearsal
    stepping = rehearsal.rehearsing.stepping(procedure)
    taken = rehearsal.of(str(procedure.procedure)).taken
    for each in placed(procedure):
        step = each.step
        if isinstance(step, Add | Move):
            before = tuple(dict.fromkeys(state for state, _ in taken.get(str(step.name), ())))
            for effect in stepping.effects(step):
                if isinstance(effect, Flows):
                    yield Filling(step, step.material, effect.target, effect.amount, before)

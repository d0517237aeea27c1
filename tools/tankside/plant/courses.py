"""Checklists and days rehearsed: one procedure after the other, each beginning as the one before it ended."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from tankside.loading.values import Text
from tankside.model.procedures import Checklist, Procedure
from tankside.plant.claiming import claim_of
from tankside.plant.gathering import taken_together
from tankside.plant.judging.faults import Fault
from tankside.plant.running import Finding, Leg, Rehearsing, Run
from tankside.plant.state import State

#: carries states through a procedure, or through one section of it
Runner = Callable[[Procedure, tuple[State, ...], str | None], Run]


def course(
    rehearsing: Rehearsing, checklists: Iterable[Checklist], run: Runner, *, is_day: bool, start: State | None = None
) -> Run:
    """Return the dry run of checklists one after the other, each item carried through by `run`.

    In a day whatever a procedure asks for must have been brought about before; a checklist by itself may count on
    what it asks for.
    """
    states: tuple[State, ...] = (rehearsing.setting.at_rest if start is None else start,)
    whole = Run(starts=states)
    for checklist in checklists:
        walk = _Walk(rehearsing, run, str(checklist.checklist), whole, is_day)
        for item in checklist.items:
            states = walk.item(item.procedure, None if item.section is None else str(item.section), states)
    whole.ends = dict.fromkeys(states)
    return whole


@dataclass(frozen=True)
class _Walk:
    rehearsing: Rehearsing
    run: Runner
    checklist: str
    whole: Run
    is_day: bool

    def item(self, name: Text, section: str | None, states: tuple[State, ...]) -> tuple[State, ...]:
        """Add an item of the checklist, and return the states that it ends in."""
        procedure = self.rehearsing.procedures[name]
        if section is None:
            states = tuple(self._begun(procedure, state, name) for state in states)
        run = self.run(procedure, tuple(dict.fromkeys(states)), section)
        whole = self.whole
        whole.legs.append(Leg(self.checklist, procedure, section, run))
        whole.findings += [replace(each, within=(self.checklist, *each.within)) for each in run.findings]
        whole.reached = {**run.reached, **whole.reached}
        whole.visited += run.visited
        whole.ways += run.ways
        return taken_together(run.ends)

    def _begun(self, procedure: Procedure, state: State, at: Text) -> State:
        """Return the state in which an item of a checklist begins; say what it asks for and nobody brought about."""
        claiming = self.rehearsing.stepping(procedure).claiming
        for name in procedure.prerequisites:
            for text in self.rehearsing.setting.facts.equipment.conditions[name].means:
                claim = claim_of(text)
                if self.is_day and claiming.narrowed(state, claim) != state:
                    message = f"'{procedure.procedure}' asks for '{name}' here, and '{text}' is not sure"
                    hint = "put what brings it about before it in the day, or let a check find it"
                    fault = Fault("prerequisite-unmet", message, hint)
                    self.whole.findings.append(Finding(at.span, str(procedure.procedure), "", fault, ()))
                state = claiming.assumed(state, claim)
        return state

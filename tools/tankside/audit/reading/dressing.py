"""When protective equipment is on: what steps put on and take off, along every way that a procedure has."""

from collections.abc import Callable, Iterator, Mapping

from tankside.audit.audited import Audited
from tankside.audit.reading.wearing import exposing
from tankside.model.procedures import Procedure
from tankside.model.steps import Step
from tankside.plant.claiming import claim_of
from tankside.plant.program import Program, Target, program_of


def put_on(procedure: Procedure, step: Step) -> frozenset[str]:
    """Return the protective equipment that is on after a step because of it."""
    return _changed(procedure, step, "on")


def taken_off(procedure: Procedure, step: Step) -> frozenset[str]:
    """Return the protective equipment that is off after a step because of it."""
    return _changed(procedure, step, "off")


def _changed(procedure: Procedure, step: Step, state: str) -> frozenset[str]:
    claims = (claim_of(text) for text in step.leaves)
    subjects = (subject for claim in claims if claim.state == state for subject in claim.subjects)
    names = (name for subject in subjects for name in (procedure.wear if subject == "wear" else (subject,)))
    return frozenset(map(str, names))


def worn_at_start(audited: Audited, procedure: Procedure) -> frozenset[str]:
    """Return what the conditions of a procedure say is on when it begins."""
    return audited.rehearsal.rehearsing.start_of(procedure).worn


def never_on(audited: Audited, procedure: Procedure) -> Mapping[str, tuple[str, ...]]:
    """Return the exposing steps that can be come to before all that is worn has been put on, each with what lacks."""
    program, at_start = program_of(procedure), worn_at_start(audited, procedure)
    found: dict[str, list[str]] = {}
    for name in (str(each) for each in procedure.wear if each not in at_start):
        for step in _exposed_before(audited, program, program.start, name):
            found.setdefault(str(step.name), []).append(name)
    return {step: tuple(names) for step, names in found.items()}


def exposed_after(audited: Audited, procedure: Procedure, step: Step) -> Mapping[str, str]:
    """Return what a step takes off, each with an exposing step that follows before it is on again."""
    program = program_of(procedure)
    found: dict[str, str] = {}
    for name in sorted(taken_off(procedure, step).intersection(procedure.wear)):
        for node in program.nodes:
            for exit_ in node.exits if node.item is step and not node.is_question else ():
                for exposed in _exposed_before(audited, program, exit_.target, name):
                    found.setdefault(name, str(exposed.name))
    return found


def _exposed_before(audited: Audited, program: Program, start: Target, name: str) -> Iterator[Step]:
    """Return the exposing steps that can be come to from a place before something is put on."""
    exposed = exposing(audited, program.procedure)
    for step in _come_to(program, start, lambda each: name in put_on(program.procedure, each)):
        if str(step.name) in exposed:
            yield step


def _come_to(program: Program, start: Target, is_last: Callable[[Step], bool]) -> Iterator[Step]:
    """Return the steps that can be come to from a place, and none beyond one that is last."""
    todo = list(_entered(program, start))
    seen = set(todo)
    for number in todo:
        node = program.nodes[number]
        if not node.is_question:
            yield node.item
        if node.is_question or not is_last(node.item):
            new = {each for exit_ in node.exits for each in _entered(program, exit_.target)} - seen
            seen |= new
            todo += sorted(new)


def _entered(program: Program, target: Target) -> Iterator[int]:
    """Return the node that a way leads to; none where it leads out of the procedure, or to its end."""
    while isinstance(target, str) and target in program.entries:
        target = program.entries[target]
    if isinstance(target, int) and target >= 0:
        yield target

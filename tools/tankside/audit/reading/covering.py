"""Which steps a caution covers, which of them stand beside it, and what a step can do to people who are not warned."""

from collections.abc import Iterator, Mapping

from tankside.audit.audited import Audited, Placed, placed
from tankside.model.procedures import Procedure
from tankside.model.steps import Caution, Drive, Section, Step, TurnValve, every
from tankside.plant.judging.exposure import OPEN_KINDS, near
from tankside.plant.setting import Setting
from tankside.plant.state import State
from tankside.plant.ways import reached

#: the cautions that are about people; a notice is about equipment and product
FOR_PEOPLE = ("danger", "warning", "caution")


def is_covered(each: Placed) -> bool:
    """Return whether a caution about people stands before a step and names it."""
    return any(caution.kind in FOR_PEOPLE for caution in each.cautions)


def uncovered(procedure: Procedure) -> Iterator[Step]:
    """Return the steps of a procedure that no caution about people names."""
    yield from (each.step for each in placed(procedure) if not is_covered(each))


def standing(procedure: Procedure) -> Iterator[tuple[Caution, frozenset[str]]]:
    """Return each caution with the sections that it stands in, or directly before; "" is before the first heading."""
    section = ""
    waiting: list[tuple[Caution, set[str]]] = []
    for item in every(procedure.steps):
        if isinstance(item, Section):
            section = str(item.section)
            for _, sections in waiting:
                sections.add(section)
        elif isinstance(item, Caution):
            waiting.append((item, {section}))
        elif isinstance(item, Step):
            yield from ((caution, frozenset(sections)) for caution, sections in waiting)
            waiting = []
    yield from ((caution, frozenset(sections)) for caution, sections in waiting)


def sections_of_steps(procedure: Procedure) -> Mapping[str, str]:
    """Return the section of each step, by its name."""
    return {
        str(each.step.name): "" if each.section is None else str(each.section.section) for each in placed(procedure)
    }


def pressed(audited: Audited, procedure: Procedure, step: Step) -> frozenset[str]:
    """Return the hazardous materials on either side of a pump that a step starts."""
    if not (isinstance(step, Drive) and step.kind == "start" and _kind(audited, str(step.target)) == "pump"):
        return frozenset()
    setting = audited.rehearsal.setting
    met = (near(setting, before, str(step.target)) for before, _ in _taken(audited, procedure, step))
    return _hazardous(audited, met)


def let_out(audited: Audited, procedure: Procedure, step: Step) -> frozenset[str]:
    """Return the hazardous materials that may run out into the open through a valve that a step opens."""
    if not (isinstance(step, TurnValve) and step.kind == "open" and _kind(audited, str(step.target)) == "valve"):
        return frozenset()
    setting = audited.rehearsal.setting
    met = (_outflow(setting, after, str(step.target)) for _, after in _taken(audited, procedure, step))
    return _hazardous(audited, met)


def _outflow(setting: Setting, state: State, valve: str) -> frozenset[str]:
    passed, ends = reached(setting.plant, state, valve, "")
    outlets = {tag for tag in ends if setting.plant.parts[tag].kind in (*OPEN_KINDS, "nozzle", "drain")}
    behind = {tag for tag in (passed | ends) - outlets if tag in setting.rules.held}
    return frozenset[str]().union(*(state[tag].present for tag in behind)) if outlets else frozenset()


def _taken(audited: Audited, procedure: Procedure, step: Drive | TurnValve) -> tuple[tuple[State, State], ...]:
    """Return the states before and after a step; where the dry run never comes to it, the plant is taken at rest."""
    taken = audited.rehearsal.of(str(procedure.procedure)).taken.get(str(step.name))
    if taken is not None:
        return tuple(taken)
    rest = audited.rehearsal.setting.at_rest
    turned = rest.with_piece(str(step.target), is_open=True) if isinstance(step, TurnValve) else rest
    return ((rest, turned),)


def _hazardous(audited: Audited, met: Iterator[frozenset[str]]) -> frozenset[str]:
    return frozenset[str]().union(*met) & audited.rehearsal.setting.hazardous


def _kind(audited: Audited, tag: str) -> str:
    return audited.rehearsal.setting.plant.parts[tag].kind

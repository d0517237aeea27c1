"""The six elements of a lockout procedure (29 CFR 1910.147(d)): where each of them stands in it."""

from collections.abc import Iterator

from tankside.audit.reading.energy import ELECTRICAL, LET_GO, is_stored
from tankside.audit.reading.lockout_words import ISOLATING, SOURCES, TRY, names, says
from tankside.audit.reading.lockouts import Lockout, Machine, left
from tankside.model.facts import EnergySource
from tankside.model.steps import Check, Do, Notify, Step, TurnValve


def told(lockout: Lockout) -> tuple[int, ...]:
    """Return where somebody is told, before the work."""
    return lockout.before(lambda each: isinstance(each, Notify), lockout.work)


def known(lockout: Lockout) -> tuple[int, ...]:
    """Return where the sources of energy are compared with what is listed, before the work."""
    return lockout.before(lambda each: isinstance(each, Check) and says(each, SOURCES), lockout.work)


def first_stop(lockout: Lockout) -> int:
    """Return where the first machine is stopped; where none is, where the first lock goes on or hands go in."""
    stops = [at for one in lockout.machines for at in lockout.stops(one)]
    places: tuple[int, ...] = (*(stops or lockout.locks()), lockout.work)
    return min(places)


def isolates(lockout: Lockout, point: str) -> tuple[int, ...]:
    """Return where what a lock at a point keeps is brought into its place: switched off, unplugged, shut."""
    return lockout.before(lambda each: _isolates(lockout, each, point))


def lets_go(lockout: Lockout, one: Machine) -> tuple[int, ...]:
    """Return where something stored in a machine is let go."""
    stored = {one.named(source) for source in one.sources if is_stored(source)}
    return lockout.before(lambda each: bool(stored & left(each, "dissipated")), lockout.work_at(one))


def lets_go_after_locks(one: Machine) -> Iterator[EnergySource]:
    """Return the sources of a machine that are let go only when it is locked."""
    return (each for each in one.sources if each.form is not None and str(each.form) in LET_GO)


def tries(lockout: Lockout, one: Machine) -> tuple[int, ...]:
    """Return where the start of a machine is tried."""
    return lockout.before(lambda each: isinstance(each, Do) and _tries(lockout, each, one), lockout.work_at(one))


def _isolates(lockout: Lockout, step: Step, point: str) -> bool:
    valves = set(lockout.plant.valves_at(point))
    if not valves:
        return isinstance(step, Do) and _switches_off(lockout, step, point)
    is_shut = isinstance(step, TurnValve) and step.kind == "shut" and str(step.target) in valves
    return is_shut or bool(valves & left(step, "shut"))


def _switches_off(lockout: Lockout, step: Do, point: str) -> bool:
    fed = lockout.plant.sources_at(point)
    ends = left(step, "dissipated") & {f"{tag}.{source}" for tag, source in fed if _is_electrical(lockout, tag, source)}
    return bool(ends) or (says(step, ISOLATING) and any(names(step, tag) for tag in (point, *(tag for tag, _ in fed))))


def _is_electrical(lockout: Lockout, tag: str, name: str) -> bool:
    sources = (each for one in lockout.machines if one.tag == tag for each in one.sources)
    return any(each.name == name and each.form == ELECTRICAL for each in sources)


def _tries(lockout: Lockout, step: Do, one: Machine) -> bool:
    electrical = {one.named(each) for each in one.sources if each.form == ELECTRICAL}
    is_named = len([each for each in lockout.machines if each.is_driven]) == 1 or names(step, one.tag)
    return bool(electrical & left(step, "verified")) or (says(step, TRY) and is_named)

"""An element of a lockout procedure in the wrong place."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.lockout_elements import (
    first_stop,
    isolates,
    known,
    lets_go,
    lets_go_after_locks,
    told,
    tries,
)
from tankside.audit.reading.lockouts import Lockout, Machine, left, lockouts
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.problems import quoted


@rule(
    Family.LOCKOUT,
    Weight.MUST,
    read("29 CFR 1910.147", "(d)", "the six elements are done in their order"),
    read("29 CFR 1910.147", "(d)(5)(i)", "stored energy is let go after the locks are on"),
)
def lockout_order(audited: Audited) -> Iterator[Found]:
    """The six elements of a lockout procedure stand in their order.

    People are told and the sources are looked at before the first stop; each machine is stopped before it is switched
    off or unplugged; each point is isolated before its lock goes on; what is stored is let go after the lock is on; the
    start is tried after the last lock and after all stored energy is gone. A shaft that runs down by itself may do so
    before the lock, and whether a valve may be shut while a pump runs is for the dry run to say.

    A lock on a switch that is still on holds nothing, and a try before the last lock proves nothing of what that lock
    keeps.

    Fails:
        # procedures/lockout/example.yaml
        steps:
          - stop: P1
          - lock: P1-plug
          - do: Pull the plug of P1.
          - do: Look at the seal of P1.
            works_on: [P1]

    Passes:
        # procedures/lockout/example.yaml
        steps:
          - stop: P1
          - do: Pull the plug of P1.
          - lock: P1-plug
          - do: Look at the seal of P1.
            works_on: [P1]
    """
    for lockout in lockouts(audited):
        for at, message, hint in dict.fromkeys(_misplaced(lockout)):
            yield Found(lockout.name, lockout.steps[at].span, message, hint)


def _misplaced(lockout: Lockout) -> Iterator[tuple[int, str, str]]:
    stop = first_stop(lockout)
    for places, what in ((told(lockout), "people are told"), (known(lockout), "the energy sources are looked at")):
        if places and places[0] > stop:
            yield places[0], f"{what} after something was stopped", "prepare before the first stop"
    for one in lockout.machines:
        yield from _of_isolation(lockout, one)
        yield from _of_release(lockout, one)
        yield from _of_try(lockout, one)


def _of_isolation(lockout: Lockout, one: Machine) -> Iterator[tuple[int, str, str]]:
    stops = lockout.stops(one)
    for point in one.points:
        isolated, locked = isolates(lockout, point), lockout.locks(point)
        if stops and isolated and isolated[-1] < stops[0] and not lockout.plant.valves_at(point):
            yield isolated[-1], f"{quoted(one.tag)} is isolated before it is stopped", f"stop {one.tag} first"
        if isolated and locked and locked[0] < isolated[0]:
            message = f"{quoted(point)} is locked before anything is shut, unplugged or switched off there"
            yield locked[0], message, "isolate first, then lock"


def _of_release(lockout: Lockout, one: Machine) -> Iterator[tuple[int, str, str]]:
    for source in lets_go_after_locks(one):
        name, locked = one.named(source), lockout.locks(str(source.isolate_at))
        gone = lockout.before(lambda each, name=name: name in left(each, "dissipated"))  # type: ignore[misc]
        if gone and locked and gone[-1] < locked[0]:
            yield gone[-1], f"{quoted(name)} is let go before {quoted(source.isolate_at)} is locked", "lock first"


def _of_try(lockout: Lockout, one: Machine) -> Iterator[tuple[int, str, str]]:
    tried = tries(lockout, one)
    if not tried:
        return
    if any(at > tried[-1] for point in one.points for at in lockout.locks(point)):
        yield tried[-1], f"the start of {quoted(one.tag)} is tried before the last lock is on", "try it after all locks"
    if any(at > tried[-1] for at in lets_go(lockout, one)):
        message = f"the start of {quoted(one.tag)} is tried before what is stored in it is let go"
        yield tried[-1], message, "let it go first, then try"

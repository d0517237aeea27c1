"""An element of a lockout procedure that is missing."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.energy import is_stored
from tankside.audit.reading.lockout_elements import isolates, known, lets_go, told, tries
from tankside.audit.reading.lockout_words import LOCK, TAG, says
from tankside.audit.reading.lockouts import Lockout, Machine, lockouts
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.model.steps import Do, Isolate
from tankside.problems import Span, quoted


@rule(
    Family.LOCKOUT,
    Weight.MUST,
    read("29 CFR 1910.147", "(d)(1) to (d)(6)", "prepare, shut down, isolate, lock, let stored energy go, verify"),
    memory("29 CFR 1910.147", "(c)(9)", "people who are affected are told before the locks go on"),
    memory("29 CFR 1910.147", "(c)(5)(ii)", "a lock or its tag says whose it is"),
)
def lockout_element_missing(audited: Audited) -> Iterator[Found]:
    """A lockout procedure has all six elements before hands go in.

    It is a procedure that locks a point of isolation, or in which hands go into a machine (`works_on`). Looked for are
    a `notify` and a check of the energy sources (prepare); a stop of each pump and mixer (shut down); before each lock
    a step that shuts, unplugs or switches off what it locks (isolate); a lock, with a tag (lock and tag); a step that
    leaves stored energy dissipated, where the machine has any (let it go); a `do` step that tries the start (verify).

    Whether every single source is taken care of is asked by `energy-source-forgotten`, the order by `lockout-order`.

    Fails:
        # procedures/lockout/example.yaml
        steps:
          - stop: P1
          - lock: P1-plug
          - do: Look at the seal of P1.
            works_on: [P1]

    Passes:
        # procedures/lockout/example.yaml
        steps:
          - notify: second-person
            about: that P1 is going to be locked out
          - check: The energy sources listed for P1 are those you see.
          - stop: P1
          - do: Pull the plug of P1.
          - lock: P1-plug
            how: own padlock, tag with name and date
          - do: Press the start button of P1, then its stop button.
          - do: Look at the seal of P1.
            works_on: [P1]
    """
    for lockout in lockouts(audited):
        begun = "hands go in" if lockout.machines else "a lock goes on"
        for span, lack, hint in _lacks(lockout):
            yield Found(lockout.name, span, f"{begun}, and {lack}", hint)


def _lacks(lockout: Lockout) -> Iterator[tuple[Span, str, str]]:
    here = lockout.place
    if not told(lockout):
        yield here, "nobody is told before", "prepare: write a 'notify' step before the first stop"
    if not known(lockout):
        yield here, "nobody looks at the energy sources before", "prepare: check them against the card of the machine"
    if not lockout.locks():
        yield here, "no lock is put on before", "lock: write a 'lock' step for each point of isolation"
    for one in lockout.machines:
        yield from _lacks_of(lockout, one)
    yield from _lacks_of_locks(lockout)


def _lacks_of(lockout: Lockout, one: Machine) -> Iterator[tuple[Span, str, str]]:
    here = lockout.place_of(one)
    if one.is_driven and not lockout.stops(one):
        yield here, f"{quoted(one.tag)} is not stopped before", f"shut down: write 'stop: {one.tag}'"
    if any(map(is_stored, one.sources)) and not lets_go(lockout, one):
        lack = f"nothing stored in {quoted(one.tag)} is let go before"
        yield here, lack, "let go: say in 'leaves' which source a step leaves dissipated"
    if one.is_driven and not tries(lockout, one):
        lack = f"the start of {quoted(one.tag)} is not tried before"
        yield here, lack, "verify: press start in a 'do' step after the locks, with everybody clear"


def _lacks_of_locks(lockout: Lockout) -> Iterator[tuple[Span, str, str]]:
    is_tagged = bool(lockout.before(lambda each: isinstance(each, Do) and says(each, TAG, LOCK)))
    for at in lockout.locks():
        step = lockout.steps[at]
        assert isinstance(step, Isolate), "a lock is put on"
        if not isolates(lockout, str(step.target)):
            lack = f"nothing is shut, unplugged or switched off at {quoted(step.target)} before its lock"
            yield step.span, lack, "isolate: write the step that does it, in front of the lock"
        if not (is_tagged or says(step, TAG)):
            lack = f"the lock at {quoted(step.target)} has no tag"
            yield step.span, lack, "lock and tag: say under 'how' that a tag with the name goes on"

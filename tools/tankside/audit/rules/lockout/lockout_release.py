"""A lockout that ends before it is safe."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.lockout_words import CLEAR, OWN_LOCK, PEOPLE, TOOLS, WHOLE, says
from tankside.audit.reading.lockouts import Lockout, lockouts
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.model.steps import Check, Drive, Isolate, Notify, Step
from tankside.problems import quoted


@rule(
    Family.LOCKOUT,
    Weight.MUST,
    read("29 CFR 1910.147", "(e)(1)", "before a lock comes off, tools are away and the machine is whole"),
    read("29 CFR 1910.147", "(e)(2)", "people are clear; they are told after the locks are off and before a start"),
    read("29 CFR 1910.147", "(e)(3)", "a lock is taken off by the person who put it on"),
)
def lockout_release(audited: Audited) -> Iterator[Found]:
    """A machine returns to service in order: tools away and parts whole, people clear, locks off, people told, start.

    Looked for, after hands have been in for the last time: before the first `unlock` a check of tools and of guards or
    parts, and a check that everybody is clear; with each `unlock` the words that only the person who put the lock on
    takes it off; after the last `unlock`, and before a machine starts, a `notify`.

    Fails:
        # procedures/lockout/example.yaml
        steps:
          - lock: P1-plug
          - do: Look at the seal of P1.
            works_on: [P1]
          - unlock: P1-plug

    Passes:
        # procedures/lockout/example.yaml
        steps:
          - lock: P1-plug
          - do: Look at the seal of P1.
            works_on: [P1]
          - check: Tools are away, covers are on.
          - check: Everybody stands clear of P1.
          - unlock: P1-plug
            how: only the person who put it on
          - notify: second-person
            about: that the lock is off and P1 can start
    """
    for lockout in lockouts(audited):
        unlocks = lockout.after(_is_unlock)
        if unlocks:
            for at, message, hint in (
                *_before(lockout, unlocks[0]),
                *_by_whom(lockout, unlocks),
                *_told(lockout, unlocks[-1]),
            ):
                yield Found(lockout.name, lockout.steps[at].span, message, hint)


def _before(lockout: Lockout, first: int) -> Iterator[tuple[int, str, str]]:
    checks = [each for each in lockout.steps[lockout.until : first] if isinstance(each, Check)]
    if not any(says(each, TOOLS) for each in checks):
        yield first, "a lock comes off before anybody looks for tools", "write a check of tools and parts before it"
    if not any(says(each, WHOLE) for each in checks):
        message = "a lock comes off before anybody looks whether guards and parts are back"
        yield first, message, "write a check of tools and parts before it"
    if not any(says(each, PEOPLE, CLEAR) for each in checks):
        yield first, "a lock comes off before people are clear", "write a check that everybody stands clear before it"


def _by_whom(lockout: Lockout, unlocks: tuple[int, ...]) -> Iterator[tuple[int, str, str]]:
    for at in unlocks:
        step = lockout.steps[at]
        if isinstance(step, Isolate) and not says(step, OWN_LOCK):
            message = f"it is not said who takes the lock off {quoted(step.target)}"
            yield at, message, "write under 'how' that only the person who put it on does"


def _told(lockout: Lockout, last: int) -> Iterator[tuple[int, str, str]]:
    told = [at for at in lockout.after(lambda each: isinstance(each, Notify)) if at > last]
    starts = lockout.after(_is_start)
    if not told:
        yield last, "nobody is told that the locks are off", "write a 'notify' step after the last lock, before a start"
    elif starts and starts[0] < told[0]:
        message = "a machine starts before people are told that the locks are off"
        yield starts[0], message, "write the 'notify' step before the start"


def _is_unlock(step: Step) -> bool:
    return step.kind == "unlock"


def _is_start(step: Step) -> bool:
    return isinstance(step, Drive) and step.kind == "start"

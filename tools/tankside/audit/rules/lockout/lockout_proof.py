"""A lockout that is ticked off and not proved."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.energy import ELECTRICAL, PRESSURE, within_reach
from tankside.audit.reading.lockout_elements import tries
from tankside.audit.reading.lockout_words import KEPT, KEY, OFF, RELIEVED, STILL, TRIED, says
from tankside.audit.reading.lockouts import Lockout, Machine, found, lockouts
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.model.steps import Check, Do, Drive, Hold, Step
from tankside.problems import Span, quoted

Lack = tuple[Span, str, str]


@rule(
    Family.LOCKOUT,
    Weight.MUST,
    read("29 CFR 1910.147", "(d)(6)", "isolation is verified before the work begins"),
    read("29 CFR 1910.147", "App. A", "the start is tried with nobody exposed, then the control goes back to off"),
    practice("three proofs stand in place of a tick: the key in the pocket, the start tried, the gauge at zero"),
)
def lockout_proof(audited: Audited) -> Iterator[Found]:
    """The proofs of a lockout are steps, and the hold before the work repeats them.

    Looked for, before hands go in: a step that keeps the keys with the person; after the try of the start, a check that
    nothing moves, and the control back at stop or off; where the machine has a source of form `pressure`, a check that
    finds its line `without pressure`, or that source `verified`; and then a hold that finds each point `locked` and
    says key, try and, where there is any, pressure again.

    "Locked out: yes" proves nothing. A key in the pocket cannot be lent, and a machine that was tried has answered.

    Fails:
        # procedures/lockout/example.yaml
        steps:
          - lock: P1-plug
          - do: Press the start button of P1.
          - hold: Everything is locked.
            released_by: second-person
          - do: Look at the seal of P1.
            works_on: [P1]

    Passes:
        # procedures/lockout/example.yaml
        steps:
          - lock: P1-plug
          - do: Put the key into your own pocket.
          - do: Press the start button of P1, then its stop button.
          - check: Nothing moved, hummed or lit up.
          - hold: P1-plug and V2 are locked, the keys are in the pocket, the start was tried.
            finds:
              - P1-plug and V2 locked
            released_by: second-person
          - do: Look at the seal of P1.
            works_on: [P1]
    """
    for lockout in lockouts(audited):
        if lockout.machines:
            for span, message, hint in dict.fromkeys((*_key(lockout), *_tried(lockout), *_held(lockout))):
                yield Found(lockout.name, span, message, hint)


def _key(lockout: Lockout) -> Iterator[Lack]:
    if lockout.locks() and not lockout.before(_keeps_key, lockout.work):
        hint = "write a 'do' step after the locks: the key goes into the pocket of the person who works"
        yield lockout.place, "hands go in, and no step says where the keys are kept", hint


def _tried(lockout: Lockout) -> Iterator[Lack]:
    for one in lockout.machines:
        held, tried = _hold(lockout), tries(lockout, one)
        if tried:
            step, after = lockout.steps[tried[-1]], lockout.steps[tried[-1] : held]
            if not any(_is_still(each, one) for each in after):
                yield step.span, "no check after the try says that nothing moves", "write it right after the try"
            if not any(map(_is_off, after)):
                yield step.span, "the control is not put back to off after the try", "press stop after the try"
        if _has_pressure(one) and not any(_finds_no_pressure(each, lockout, one) for each in lockout.steps[:held]):
            message = f"hands go into {quoted(one.tag)}, and no check finds it without pressure"
            yield lockout.place_of(one), message, "write a check that finds the line 'without pressure'"


def _held(lockout: Lockout) -> Iterator[Lack]:
    last = max((at for one in lockout.machines for at in tries(lockout, one)), default=0)
    at = _hold(lockout)
    if at == lockout.work or at < last:
        yield lockout.place, "no hold stands before the work", "write one that repeats what was proved"
        return
    hold = lockout.steps[at]
    points = sorted({point for one in lockout.machines for point in one.points} - found(hold, "locked"))
    if points:
        yield hold.span, f"the hold does not find {quoted(points[0])} locked", "name every point under 'finds'"
    wanted = [("the keys", KEY), ("the try of the start", TRIED)]
    wanted += [("the pressure", RELIEVED)] if any(map(_has_pressure, lockout.machines)) else []
    for what, words in wanted:
        if not says(hold, words):
            yield hold.span, f"the hold does not say {what} again", "let the hold repeat each proof in its text"


def _hold(lockout: Lockout) -> int:
    """Return where the last hold before the work stands, or else where the work begins."""
    return max(lockout.before(lambda each: isinstance(each, Hold), lockout.work), default=lockout.work)


def _keeps_key(step: Step) -> bool:
    return not isinstance(step, Hold) and says(step, KEY, KEPT)


def _is_still(step: Step, one: Machine) -> bool:
    names = {one.named(each) for each in one.sources if each.form == ELECTRICAL}
    return isinstance(step, Check) and bool(says(step, STILL) or names & found(step, "verified"))


def _is_off(step: Step) -> bool:
    return (isinstance(step, Drive) and step.kind == "stop") or (isinstance(step, Do | Check) and says(step, OFF))


def _has_pressure(one: Machine) -> bool:
    return any(each.form == PRESSURE for each in one.sources)


def _finds_no_pressure(step: Step, lockout: Lockout, one: Machine) -> bool:
    names = {one.named(each) for each in one.sources if each.form == PRESSURE}
    near = within_reach(lockout.plant, str(one.tag))
    return isinstance(step, Check) and bool(near & found(step, "without pressure") or names & found(step, "verified"))

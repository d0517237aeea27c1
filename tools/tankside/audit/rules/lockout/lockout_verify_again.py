"""Energy that can build up again between the proof and the work."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.energy import BUILDS_UP, within_reach
from tankside.audit.reading.lockouts import Lockout, Machine, found, lockouts
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.model.facts import EnergySource
from tankside.model.steps import Check, Hold, Step
from tankside.problems import quoted


@rule(
    Family.LOCKOUT,
    Weight.MUST,
    read(
        "29 CFR 1910.147", "(d)(5)(ii)", "what can build up again is verified until the work ends or it no longer can"
    ),
)
def lockout_verify_again(audited: Audited) -> Iterator[Found]:
    """What can build up again is looked at once more right before hands go in.

    Liquid and pressure come back: a valve weeps, hypochlorite gives off gas. For each machine with a source of form
    `liquid` or `pressure`, a check stands between the last hold and the hands. It finds the source `verified`, or of
    what the machine is joined to, up to the nearest vessels, a line `without pressure`, a vessel or line `empty`, or a
    valve `open` that lets out what comes. A valve that the hold finds `open` will do, too: it is kept open.

    Fails:
        # procedures/plant/equipment.yaml
        equipment:
          P2:
            kind: pump
            name: Second pump
            connects: [tank-60]
            energy_sources:
              - name: left-in-it
                form: liquid
                source: Liquid left in pump and hose
                magnitude: About 0.5 L
                isolate_at: P1-plug
                release: The hose is held up until it is empty.
                verify: No drop comes for 1 min.
        # procedures/lockout/example.yaml
        steps:
          - hold: P1-plug is locked.
            released_by: second-person
          - do: Look at the seal of P2.
            works_on: [P2]

    Passes:
        # procedures/plant/equipment.yaml
        equipment:
          P2:
            kind: pump
            name: Second pump
            connects: [tank-60]
            energy_sources:
              - name: left-in-it
                form: liquid
                source: Liquid left in pump and hose
                magnitude: About 0.5 L
                isolate_at: P1-plug
                release: The hose is held up until it is empty.
                verify: No drop comes for 1 min.
        # procedures/lockout/example.yaml
        steps:
          - hold: P1-plug is locked.
            released_by: second-person
          - check: No drop has come from the hose.
            finds:
              - P2.left-in-it verified
          - do: Look at the seal of P2.
            works_on: [P2]
    """
    for lockout in lockouts(audited):
        for one in lockout.machines:
            sources = [each for each in one.sources if each.form is not None and str(each.form) in BUILDS_UP]
            again = [source for source in sources if not _is_seen_again(lockout, one, source)]
            if again:
                name = one.named(again[0])
                message = f"{quoted(name)} can build up again, and nobody looks at it right before hands go in"
                hint = "write a check between the hold and the work, or let the hold find a valve open that lets it out"
                yield Found(lockout.name, lockout.place_of(one), message, hint)


def _is_seen_again(lockout: Lockout, one: Machine, source: EnergySource) -> bool:
    work = lockout.work_at(one)
    hold = max(lockout.before(lambda each: isinstance(each, Hold), work), default=0)
    near = within_reach(lockout.plant, str(one.tag))
    return any(_shows(each, one.named(source), near) for each in lockout.steps[hold:work])


def _shows(step: Step, name: str, near: frozenset[str]) -> bool:
    if isinstance(step, Hold):
        return bool(near & found(step, "open"))
    is_gone = near & (found(step, "open") | found(step, "without pressure") | found(step, "empty"))
    return isinstance(step, Check) and bool(is_gone or name in found(step, "verified"))

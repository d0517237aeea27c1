"""A source of energy that nobody takes care of before hands go in."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.lockouts import Lockout, Machine, left, lockouts
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.model.facts import EnergySource
from tankside.model.steps import Hold, Record, Step
from tankside.problems import quoted


@rule(
    Family.LOCKOUT,
    Weight.MUST,
    read(
        "29 CFR 1910.147", "(d)(3) to (d)(6)", "every point is isolated and locked, what is stored let go, all verified"
    ),
)
def energy_source_forgotten(audited: Audited) -> Iterator[Found]:
    """Every energy source of a machine is locked, let go and proved to be gone before hands go into it.

    For each source that the machine lists in equipment.yaml, when hands go in for the first time (`works_on`): the lock
    at `isolate_at` is on, a step before leaves the source `dissipated`, and a step before leaves it `verified`. A hold
    or a record does not verify: it is proved at the step where somebody looks or tries.

    The dry run refuses the same, but takes any step's word for it.

    Fails:
        # procedures/lockout/example.yaml
        steps:
          - lock: P1-plug
          - do: Look at the seal of P1.
            works_on: [P1]

    Passes:
        # procedures/lockout/example.yaml
        steps:
          - do: Pull the plug of P1.
            leaves:
              - P1.mains dissipated
          - lock: P1-plug
          - lock: V2
          - wait: 10 s
            for: a drop from N1
            if_late: Longer is safer.
            leaves:
              - P1.head and P1.run-back dissipated
              - P1.head and P1.run-back verified
          - do: Press start of P1, then its stop.
            leaves:
              - P1.mains verified
          - do: Look at the seal of P1.
            works_on: [P1]
    """
    for lockout in lockouts(audited):
        for one in lockout.machines:
            for source in one.sources:
                lacks = " or ".join(_lacks(lockout, one, source))
                if lacks:
                    message = f"hands go into {quoted(one.tag)}, and {quoted(one.named(source))} is not {lacks}"
                    hint = f"lock {source.isolate_at}, let it go in a step, and prove it in another: {source.verify}"
                    yield Found(lockout.name, lockout.place_of(one), message, hint)


def _lacks(lockout: Lockout, one: Machine, source: EnergySource) -> Iterator[str]:
    name, work = one.named(source), lockout.work_at(one)
    if not lockout.is_locked(str(source.isolate_at), work):
        yield f"locked at '{source.isolate_at}'"
    if not lockout.before(lambda each: name in left(each, "dissipated"), work):
        yield "let go"
    if not lockout.before(lambda each: _verifies(each, name), work):
        yield "verified"


def _verifies(step: Step, name: str) -> bool:
    return not isinstance(step, Hold | Record) and name in left(step, "verified")

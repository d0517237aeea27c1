"""Hands that go into a machine without a caution."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.covering import uncovered
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.model.steps import Do
from tankside.problems import quoted


@rule(
    Family.CAUTIONS,
    Weight.MUST,
    read("IEC/IEEE 82079-1", "as quoted by others", "a warning stands where the danger that it is about may arise"),
    memory("DOE-STD-1029-92", "section 4", "a warning stands immediately before the step it protects"),
)
def lockout_work_not_covered(audited: Audited) -> Iterator[Found]:
    """Each step that puts hands into a machine is covered by a caution before it.

    Looked at is each step with `works_on`, whatever stands in the machine. Locked, a machine still has weight, edges
    and what is left in it, and one lock in the wrong place is enough to lose a hand. A notice does not count.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - do: Do the work on P1.
            works_on: [P1]

    Passes:
        # procedures/filling/example.yaml
        steps:
          - warning: A pump that is not isolated starts while hands are in it.
            harm: It crushes fingers.
            avoid: Every lock on, both keys in the own pocket, start tried before.
            if_it_happens: splash
            covers: [work]
          - do: Do the work on P1.
            step: work
            works_on: [P1]
    """
    for procedure in audited.procedures:
        for step in uncovered(procedure):
            if isinstance(step, Do) and step.works_on:
                machines = ", ".join(quoted(tag) for tag in step.works_on)
                yield Found(
                    str(procedure.procedure),
                    step.span,
                    f"no caution covers step {quoted(step.name)}, where hands go into {machines}",
                    "write a caution before it and name the step under 'covers'",
                )

"""A valve that is opened into the open air without a caution."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.covering import let_out, uncovered
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.problems import quoted


@rule(
    Family.CAUTIONS,
    Weight.MUST,
    read("IEC/IEEE 82079-1", "as quoted by others", "a warning stands where the danger that it is about may arise"),
    memory("DOE-STD-1029-92", "section 4", "a warning stands immediately before the step it protects"),
)
def opening_not_covered(audited: Audited) -> Iterator[Found]:
    """Each valve that lets a hazardous liquid out into the open is covered by a caution before it.

    Looked at is each `open` of a valve, in every state in which the dry run comes to it. It counts when what stands
    behind it can then run out of a nozzle, or into a pail, a drum, a bottle or a drain. A material counts when its
    label has a signal word. Hatches, and joints that are parted, are seen to by `exposure-not-covered`. A notice does
    not count.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - open: V3

    Passes:
        # procedures/filling/example.yaml
        steps:
          - warning: What is left in the line runs out of N1.
            harm: It burns eyes and skin and can blind.
            avoid: Goggles on, the end of N1 low, body to the side.
            if_it_happens: splash
            covers: [open-v3]
          - open: V3
    """
    for procedure in audited.procedures:
        for step in uncovered(procedure):
            materials = let_out(audited, procedure, step)
            if materials:
                met = ", ".join(sorted(materials))
                yield Found(
                    str(procedure.procedure),
                    step.span,
                    f"no caution covers step {quoted(step.name)}, which may let {met} out into the open",
                    "write a caution before it and name the step under 'covers'",
                )

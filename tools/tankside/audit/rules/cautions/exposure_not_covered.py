"""An exposure that no caution covers."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.covering import uncovered
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.problems import quoted


@rule(
    Family.CAUTIONS,
    Weight.MUST,
    read("IEC/IEEE 82079-1", "as quoted by others", "a warning stands before the action it is about"),
    memory("DOE-STD-1029-92", "section 4", "a warning stands immediately before the step it protects"),
)
def exposure_not_covered(audited: Audited) -> Iterator[Found]:
    """Each step that may bring a hazardous material to a person is covered by a caution before it.

    The dry run knows what may reach the person at each step: what is poured, what runs where it is open to the air,
    what stands behind a joint or a hatch. A material counts when its label has a signal word. The caution must name the
    step under `covers`; naming a `repeat` names none of the steps in it. A notice does not count, it is not about
    people.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - do: Pour the concentrate off into its drum.
            exposes: [sample-concentrate]

    Passes:
        # procedures/filling/example.yaml
        steps:
          - warning: The concentrate splashes.
            harm: It burns eyes and skin and can blind.
            avoid: Face away from the stream, goggles on.
            if_it_happens: splash
            covers: [pour-off]
          - do: Pour the concentrate off into its drum.
            step: pour-off
            exposes: [sample-concentrate]
    """
    for procedure in audited.procedures:
        exposed = audited.exposed(procedure)
        for step in uncovered(procedure):
            materials = exposed.get(str(step.name))
            if materials:
                met = ", ".join(sorted(materials))
                yield Found(
                    str(procedure.procedure),
                    step.span,
                    f"no caution covers step {quoted(step.name)}, where {met} may reach the person",
                    "write a caution before it and name the step under 'covers'",
                )

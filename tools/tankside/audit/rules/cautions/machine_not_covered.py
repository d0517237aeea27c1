"""A machine that is started without a caution."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.covering import pressed, uncovered
from tankside.audit.rule import Family, Found, Weight, memory, practice, read, rule
from tankside.model.procedures import Procedure
from tankside.model.steps import Drive, Step
from tankside.problems import quoted


@rule(
    Family.CAUTIONS,
    Weight.MUST,
    read("IEC/IEEE 82079-1", "as quoted by others", "a warning stands where the danger that it is about may arise"),
    memory("DOE-STD-1029-92", "section 4", "a warning stands immediately before the step it protects"),
    practice(
        "a shaft that begins to turn catches hands, sleeves and hair; a pump sprays out of a joint that gives way"
    ),
)
def machine_not_covered(audited: Audited) -> Iterator[Found]:
    """Each start of a mixer, and of a pump with a hazardous liquid, is covered by a caution before it.

    Looked at is each `start`. A mixer turns whatever stands in its tank. A pump turns inside its housing, so what
    counts is the liquid: the dry run knows what may stand on either side of it, and a material counts when its label
    has a signal word. A pump with nothing but water needs no caution, nor does an exhaust. A notice does not count.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - start: P1

    Passes:
        # procedures/filling/example.yaml
        steps:
          - warning: Cleaner under pressure sprays from a loose joint.
            harm: It burns eyes and skin and can blind.
            avoid: Goggles on, body to the side of the joints.
            if_it_happens: splash
            covers: [start-p1]
          - start: P1
    """
    for procedure in audited.procedures:
        for step in uncovered(procedure):
            danger = _danger(audited, procedure, step)
            if danger:
                yield Found(
                    str(procedure.procedure),
                    step.span,
                    f"no caution covers step {quoted(step.name)}, where {danger}",
                    "write a caution before it and name the step under 'covers'",
                )


def _danger(audited: Audited, procedure: Procedure, step: Step) -> str:
    if not (isinstance(step, Drive) and step.kind == "start"):
        return ""
    if audited.plant.equipment.equipment[step.target].kind == "mixer":
        return f"the shaft of {quoted(step.target)} begins to turn"
    materials = pressed(audited, procedure, step)
    return f"{quoted(step.target)} puts {', '.join(sorted(materials))} under pressure" if materials else ""

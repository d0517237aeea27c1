"""A caution that hides a step."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.caution_words import steps_in
from tankside.audit.reading.wording import cautions
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.problems import quoted


@rule(
    Family.CAUTIONS,
    Weight.SHOULD,
    memory("DOE-STD-1029-92", "section 4", "warnings and cautions contain no action"),
    read("IEC/IEEE 82079-1", "as quoted by others", "a warning is short and does not take the place of instructions"),
)
def caution_holds_step(audited: Audited) -> Iterator[Found]:
    """A caution holds no step of the procedure.

    Looked at are the sentences of hazard, harm and avoid, and what follows a comma in them. A step begins with a verb
    of a closed list, such as open, shut, start, stop, add, record, check, and a tag or an object: 'Shut V2 first',
    'Open the hatch slowly'. How something stands ('V2 shut', 'hatch clamped') and how one keeps out of the way ('face
    shield down', 'body to the side', 'turn your face away') is what belongs there.

    A caution is not ticked off, and nobody is asked whether its step was done. Nor does the dry run see it.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - caution: The line is under pressure.
            harm: It irritates the eyes.
            avoid: Goggles on. Shut V2 first.
            covers: [look]
          - do: Look at the end of the line.
            step: look

    Passes:
        # procedures/filling/example.yaml
        steps:
          - caution: The line is under pressure.
            harm: It irritates the eyes.
            avoid: Goggles on, V2 shut.
            covers: [look]
          - do: Look at the end of the line.
            step: look
    """
    tags = frozenset(map(str, audited.plant.equipment.equipment))
    for at, caution in cautions(audited):
        for text in (caution.hazard, caution.harm, caution.avoid):
            for step in steps_in(text, tags):
                yield Found(
                    at,
                    text.span,
                    f"this {caution.kind} holds a step: {quoted(step)}",
                    "make it a step of its own, and say here only how things stand then",
                )

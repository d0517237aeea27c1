"""A caution that stands in another section than its step."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.covering import sections_of_steps, standing
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.problems import quoted


@rule(
    Family.CAUTIONS,
    Weight.MUST,
    read("IEC/IEEE 82079-1", "as quoted by others", "a warning stands where the danger that it is about may arise"),
    memory("DOE-STD-1029-92", "section 4", "a warning stands immediately before its step, on the same page"),
)
def caution_far(audited: Audited) -> Iterator[Found]:
    """A caution stands in the section of each step that it covers, or directly before that section.

    Looked at is each name under `covers`. Sections are sent to, left out, and put on checklists by themselves: whoever
    begins in the second section has never seen what was said in the first. And what was read a page ago is forgotten.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - section: first
            title: First
          - caution: The pail is slippery.
            harm: It irritates the skin.
            avoid: Gloves on.
            covers: [look, lift]
          - do: Look at the pail.
            step: look
          - section: second
            title: Second
          - do: Lift the pail.
            step: lift

    Passes:
        # procedures/filling/example.yaml
        steps:
          - section: first
            title: First
          - do: Look at the tank.
            step: look
          - caution: The pail is slippery.
            harm: It irritates the skin.
            avoid: Gloves on.
            covers: [lift]
          - section: second
            title: Second
          - do: Lift the pail.
            step: lift
    """
    for procedure in audited.procedures:
        sections = sections_of_steps(procedure)
        for caution, around in standing(procedure):
            for name in caution.covers:
                if sections.get(name, "") not in around:
                    yield Found(
                        str(procedure.procedure),
                        name.span,
                        f"this {caution.kind} covers step {quoted(name)} of section {quoted(sections[name])}"
                        " and does not stand there",
                        "say it again at the head of that section, for the steps of that section",
                    )

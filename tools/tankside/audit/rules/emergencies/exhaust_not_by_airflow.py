"""An exhaust that is called proved because its fan runs."""

import re
from collections.abc import Iterator

from tankside.audit.audited import Audited, Placed, placed
from tankside.audit.reading.wording import in_english
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.model.claims import read_claim
from tankside.model.procedures import Procedure
from tankside.model.steps import Check, Drive, Measure
from tankside.problems import quoted

#: words of a check that looks at moving air
AIR = re.compile(
    r"\b(?:air|airflow|draught|draft|flow|velocity|suction|strip|ribbon|streamer|tissue|thread|smoke"
    r"|pulled|pulls|drawn|draws|sucked|sucks)\b",
    re.IGNORECASE,
)


@rule(
    Family.EMERGENCIES,
    Weight.MUST,
    read("MMWR 1991", "", "chlorine stayed in a room whose exhaust was dead, behind sealed windows"),
    practice(
        "a strip of paper at the hood shows that air moves; a humming fan with a loose belt or a full filter does not"
    ),
)
def exhaust_not_by_airflow(audited: Audited) -> Iterator[Found]:
    """An exhaust counts as proved only after somebody has looked at the air moving at its hood.

    Where a step claims that an exhaust is `proved`, a check or a reading of the air must stand before it or be that
    step, in the same section, and after the exhaust was started there. Its words must be about air: a strip, a
    ribbon or smoke that is pulled or drawn, a flow, a velocity. A condition that means it must name under `from`
    what brings it about.

    That the fan runs, hums or shows a lamp says nothing about the hood. A loose belt, a full filter or a shut
    damper leaves everything in the room.

    Fails:
        # procedures/plant/equipment.yaml
        equipment:
          exhaust-1:
            kind: exhaust
            name: Exhaust of the hood
        # procedures/safety/begin.yaml
        steps:
          - start: exhaust-1
          - check: The fan runs and its lamp is lit.
          - record: Time and initials
            leaves:
              - exhaust-1 proved

    Passes:
        # procedures/plant/equipment.yaml
        equipment:
          exhaust-1:
            kind: exhaust
            name: Exhaust of the hood
        # procedures/safety/begin.yaml
        steps:
          - start: exhaust-1
          - check: The paper strip is pulled into the hood.
          - record: Time and initials
            leaves:
              - exhaust-1 proved
    """
    for procedure in in_english(audited):
        for tag, each in _unproved(procedure):
            yield Found(
                str(procedure.procedure),
                each.step.span,
                f"{quoted(tag)} is called proved, and nobody has looked at the air at its hood after it was started",
                "check before it that a paper strip is pulled into the hood",
            )
    for name, condition in audited.plant.equipment.conditions.items():
        for text in condition.means:
            if condition.from_ is None and read_claim(text).state == "proved":
                message = f"{quoted(name)} means {quoted(text)}, and no procedure brings it about"
                yield Found(str(name), text.span, message, "name under 'from' the section that looks at the air")


def _unproved(procedure: Procedure) -> Iterator[tuple[str, Placed]]:
    """Return each exhaust that is claimed to be proved with the step, where no look at its air stands before it."""
    section, looked = None, -1
    started: dict[str, int] = {}
    for each in placed(procedure):
        if each.section is not section:
            section, looked = each.section, -1
        if _is_look(each):
            looked = each.number
        if isinstance(each.step, Drive) and each.step.kind == "start":
            started[str(each.step.target)] = each.number
        for claim in map(read_claim, (*each.step.leaves, *each.step.finds)):
            if claim.state == "proved":
                yield from ((str(tag), each) for tag in claim.subjects if looked <= started.get(str(tag), -1))


def _is_look(each: Placed) -> bool:
    return isinstance(each.step, Check | Measure) and AIR.search(each.step.text) is not None

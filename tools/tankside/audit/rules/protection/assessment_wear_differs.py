"""Protective equipment that a procedure lists, and no hazard assessment of it."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.problems import quoted


@rule(
    Family.PROTECTION,
    Weight.MUST,
    read("29 CFR 1910.132", "(d)(1)(i)", "what is worn is selected against the hazards that the assessment found"),
    law="US",
)
def assessment_wear_differs(audited: Audited) -> Iterator[Found]:
    """The hazard assessments of a procedure list all that the procedure lists under `wear`.

    Where several assessments name a procedure, they count together. An assessment may list more: not every procedure of
    a place meets each of its hazards. What stands in a procedure alone was chosen against a hazard that nobody has
    written down.

    Fails:
        # procedures/plant/book.yaml
        hazard_assessments:
          tank:
            place: The tank
            procedures: [rinse-tank]
            hazards:
              - Cleaner burns eyes and skin.
            controls:
              - kind: engineering
                says: The water runs in by a pipe.
            wear: [goggles]
            certifies: This certifies that the hazards of the tank were assessed.
            certified_by: workshop-lead
            date: 2026-11-26

    Passes:
        # procedures/plant/book.yaml
        hazard_assessments:
          tank:
            place: The tank
            procedures: [rinse-tank]
            hazards:
              - Cleaner burns eyes and skin.
            controls:
              - kind: engineering
                says: The water runs in by a pipe.
            wear: [apron, goggles, gloves]
            certifies: This certifies that the hazards of the tank were assessed.
            certified_by: workshop-lead
            date: 2026-11-26
    """
    assessments = audited.plant.facts.hazard_assessments
    for name, assessment in assessments.items():
        for own in assessment.procedures:
            known = {wearable for each in assessments.values() if own in each.procedures for wearable in each.wear}
            lacking = [wearable for wearable in audited.book.procedures[own].wear if wearable not in known]
            if lacking:
                yield Found(
                    str(name),
                    own.span,
                    f"{quoted(own)} lists under 'wear' what its assessment does not: {', '.join(lacking)}",
                    "add it to 'wear' of the assessment, with the hazard that it is against",
                )

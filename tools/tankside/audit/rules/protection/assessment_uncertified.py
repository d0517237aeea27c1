"""A hazard assessment that does not say that it is certified."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.problems import quoted


@rule(
    Family.PROTECTION,
    Weight.MUST,
    read("29 CFR 1910.132", "(d)(2)", "it names place, person and date, and says that it is the certification"),
    law="US",
)
def assessment_uncertified(audited: Audited) -> Iterator[Found]:
    """Each hazard assessment says in a sentence that it certifies that the hazards were assessed.

    Place, role and date cannot be left out, so only the sentence under `certifies` is looked at: it must contain
    `certify`, `certifies`, `certified` or `certification`.

    Fails:
        # procedures/plant/book.yaml
        hazard_assessments:
          filling-bench:
            place: Filling bench
            procedures: [rinse-tank]
            hazards:
              - Cleaner burns eyes and skin.
            controls:
              - kind: engineering
                says: A splash guard at the nozzle.
            certifies: Looked at, all is well.
            certified_by: workshop-lead
            date: 2026-11-26

    Passes:
        # procedures/plant/book.yaml
        hazard_assessments:
          filling-bench:
            place: Filling bench
            procedures: [rinse-tank]
            hazards:
              - Cleaner burns eyes and skin.
            controls:
              - kind: engineering
                says: A splash guard at the nozzle.
            certifies: This certifies that the hazards of the filling bench were assessed.
            certified_by: workshop-lead
            date: 2026-11-26
    """
    for name, assessment in audited.plant.facts.hazard_assessments.items():
        if "certif" not in assessment.certifies.lower():
            yield Found(
                str(name),
                assessment.certifies.span,
                f"{quoted(assessment.certifies)} does not say that it certifies the assessment",
                "write 'This certifies that the hazards of this place were assessed.'",
            )

"""A hazard assessment that is older than three years, or than what is done there."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.dates import day_of, years_after
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.model.facts import HazardAssessment
from tankside.problems import quoted

YEARS = 3


@rule(
    Family.PROTECTION,
    Weight.SHOULD,
    practice("a place is assessed again when the work there changes, and every three years"),
)
def assessment_old(audited: Audited) -> Iterator[Found]:
    """Each hazard assessment is younger than three years, and not older than the procedures that it names.

    The `date` of the assessment is compared with today, and with `effective` of each of its procedures. When a
    procedure has changed since, somebody looks at the place again, and the date shows it.

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
            certifies: This certifies that the hazards of the filling bench were assessed.
            certified_by: workshop-lead
            date: 2022-03-01

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
        for message in _older(audited, assessment):
            hint = "look at the place again, correct what has changed, write the new date"
            yield Found(str(name), assessment.date.span, message, hint)


def _older(audited: Audited, assessment: HazardAssessment) -> Iterator[str]:
    if years_after(day_of(assessment.date), YEARS) < audited.day:
        yield f"{quoted(assessment.date)} is more than {YEARS} years ago"
    for name in assessment.procedures:
        effective = audited.book.procedures[name].effective
        if day_of(assessment.date) < day_of(effective):
            yield f"{quoted(assessment.date)} is before {quoted(name)} came into effect on {quoted(effective)}"

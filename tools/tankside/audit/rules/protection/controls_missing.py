"""A hazard assessment that begins with what people do or wear."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.controls import ADMINISTRATIVE
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.problems import quoted


@rule(
    Family.PROTECTION,
    Weight.MUST,
    read("Directive 89/656/EEC", "article 3", "gear is for what technical means and organisation do not keep away"),
    read("29 CFR 1910.134", "(a)(1)", "bad air is kept away by engineering first, respirators are for the rest"),
    practice("elimination, substitution and engineering come before rules, and rules before gear"),
)
def controls_missing(audited: Audited) -> Iterator[Found]:
    """Each hazard assessment names a control that does not depend on what people do or wear.

    One of the `controls` must be of the kind elimination, substitution or engineering. A rule that somebody forgets, or
    a glove that has a hole, must not be all that stands between a person and a burn.

    Fails:
        # procedures/plant/book.yaml
        hazard_assessments:
          filling-bench:
            place: Filling bench
            procedures: [rinse-tank]
            hazards:
              - Cleaner burns eyes and skin.
            controls:
              - kind: administrative
                says: Everybody is careful.
            certifies: This certifies that the hazards of the filling bench were assessed.
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
        if all(control.kind == ADMINISTRATIVE for control in assessment.controls):
            yield Found(
                str(name),
                name.span,
                f"{quoted(name)} names only controls that people have to remember",
                "name what eliminates, substitutes or keeps away the hazard, before rules and gear",
            )

"""A hazard assessment that names a stronger control behind a weaker one."""

from collections.abc import Iterator
from itertools import pairwise

from tankside.audit.audited import Audited
from tankside.audit.reading.controls import KINDS
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.problems import quoted


@rule(
    Family.PROTECTION,
    Weight.SHOULD,
    practice("controls are thought of, and named, from the strongest to the weakest"),
)
def controls_out_of_order(audited: Audited) -> Iterator[Found]:
    """The controls of a hazard assessment stand in the order of their strength.

    First elimination, then substitution, engineering, and administrative ones last. Whoever writes them in this order
    asks first whether the hazard has to be there at all.

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
                says: One person fills, nobody else stands there.
              - kind: engineering
                says: A splash guard at the nozzle.
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
              - kind: administrative
                says: One person fills, nobody else stands there.
            certifies: This certifies that the hazards of the filling bench were assessed.
            certified_by: workshop-lead
            date: 2026-11-26
    """
    for name, assessment in audited.plant.facts.hazard_assessments.items():
        for before, after in pairwise(assessment.controls):
            if KINDS.index(after.kind) < KINDS.index(before.kind):
                yield Found(
                    str(name),
                    after.says.span,
                    f"{quoted(after.says)} is {after.kind}, and stands behind what is {before.kind}",
                    f"put them in the order {', '.join(KINDS)}",
                )

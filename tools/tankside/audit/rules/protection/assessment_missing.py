"""A procedure that no hazard assessment is about."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.wearing import exposing
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.loading.values import Text
from tankside.model.procedures import Procedure
from tankside.model.steps import Step, every
from tankside.problems import quoted


@rule(
    Family.PROTECTION,
    Weight.MUST,
    read("29 CFR 1910.132", "(d)(1)", "the workplace is assessed for hazards that make protective equipment necessary"),
    read("29 CFR 1910.132", "(d)(2)", "the assessment is certified in writing, with place, person and date"),
    memory("Directive 89/656/EEC", "article 5", "protective equipment is chosen after an assessment of the risks"),
)
def assessment_missing(audited: Audited) -> Iterator[Found]:
    """Each procedure in which something is worn, or may reach the person, stands in a hazard assessment.

    Assessments are written down in `book.yaml` under `hazard_assessments`, place by place: what can hurt there, what
    keeps it from people, what is worn against the rest, who certified it and when. What is worn then follows from the
    hazards and not from habit.

    Fails:
        # procedures/filling/example.yaml
        wear: [apron, goggles, gloves]

    Passes:
        # procedures/filling/example.yaml
        wear: [apron, goggles, gloves]
        # procedures/plant/book.yaml
        hazard_assessments:
          filling-bench:
            place: Filling bench
            procedures: [example]
            hazards:
              - Cleaner burns eyes and skin.
            controls:
              - kind: engineering
                says: A splash guard at the nozzle.
            wear: [apron, goggles, gloves]
            certifies: This certifies that the hazards of the filling bench were assessed.
            certified_by: workshop-lead
            date: 2026-11-26
    """
    assessed = {name for each in audited.plant.facts.hazard_assessments.values() for name in each.procedures}
    for procedure in audited.procedures:
        places = (*procedure.wear, *_exposing_steps(audited, procedure))
        if places and procedure.procedure not in assessed:
            yield Found(
                str(procedure.procedure),
                places[0].span,
                f"no hazard assessment names {quoted(procedure.procedure)}, which needs protective equipment",
                "name it under 'hazard_assessments' of book.yaml, after the place has been looked at",
            )


def _exposing_steps(audited: Audited, procedure: Procedure) -> tuple[Text | Step, ...]:
    exposed = exposing(audited, procedure)
    return tuple(each for each in every(procedure.steps) if isinstance(each, Step) and str(each.name) in exposed)

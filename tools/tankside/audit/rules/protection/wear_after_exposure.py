"""Protective equipment that is not on when a material may first reach the person."""

from collections.abc import Iterator

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.dressing import never_on, put_on, worn_at_start
from tankside.audit.reading.wearing import exposing, handled
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.model.procedures import Procedure
from tankside.problems import quoted


@rule(
    Family.PROTECTION,
    Weight.MUST,
    read("29 CFR 1910.132", "(a)", "protective equipment is used wherever a hazard makes it necessary"),
    read("29 CFR 1910.132", "(d)(1)(i)", "people are made to use what was selected, it is not only provided"),
    practice("a step or a condition says when it is on, so that nobody has to remember"),
)
def wear_after_exposure(audited: Audited) -> Iterator[Found]:
    """All that a procedure lists under `wear` is on before a material may reach the person.

    A condition under `prerequisites` says so when it means `wear on`, or a step before says under `leaves` that it is
    on. Every way through the procedure is followed, also into sections that one is sent to. An exposure is a step at
    which something may reach the person that has a signal word or asks for protective equipment: the dry run knows it,
    or the step says so.

    Where no step is known to expose but materials stand under `handles`, it is enough that the condition or a step puts
    it on at all; who learns, and a rescue, are left out.

    Fails:
        # procedures/filling/example.yaml
        wear: [apron, goggles, gloves]
        steps:
          - do: Pour the concentrate off into its drum.
            exposes: [sample-concentrate]
          - do: Put on apron, goggles and gloves.
            leaves:
              - wear on

    Passes:
        # procedures/filling/example.yaml
        wear: [apron, goggles, gloves]
        steps:
          - do: Put on apron, goggles and gloves.
            leaves:
              - wear on
          - do: Pour the concentrate off into its drum.
            exposes: [sample-concentrate]
    """
    for procedure in audited.procedures:
        yield from _at_first_exposure(audited, procedure)
        if handled(audited, procedure) and not exposing(audited, procedure):
            yield from _at_all(audited, procedure)


def _at_first_exposure(audited: Audited, procedure: Procedure) -> Iterator[Found]:
    lacking = never_on(audited, procedure)
    first = next((each.step for each in placed(procedure) if str(each.step.name) in lacking), None)
    if first is not None:
        names = ", ".join(lacking[str(first.name)])
        met = ", ".join(sorted(exposing(audited, procedure)[str(first.name)]))
        yield Found(
            str(procedure.procedure),
            first.span,
            f"nothing puts {names} on before step {quoted(first.name)}, where {met} may reach the person",
            "ask under 'prerequisites' for a condition that means 'wear on', or say 'wear on' in a step before",
        )


def _at_all(audited: Audited, procedure: Procedure) -> Iterator[Found]:
    on = worn_at_start(audited, procedure).union(*(put_on(procedure, each.step) for each in placed(procedure)))
    lacking = [name for name in procedure.wear if name not in on]
    if lacking:
        yield Found(
            str(procedure.procedure),
            lacking[0].span,
            f"nothing puts {', '.join(lacking)} on, and what stands under 'handles' may reach the person",
            "ask under 'prerequisites' for a condition that means 'wear on', or say 'wear on' in a step",
        )

"""Cautions so many that none is read."""

from collections.abc import Iterator
from fractions import Fraction

from tankside.audit.audited import Audited, placed
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.model.steps import Caution, every
from tankside.problems import quoted

#: of the steps; common practice, no source
MOST = Fraction(1, 3)
#: one or two are never too many
FEW = 2


@rule(
    Family.CAUTIONS,
    Weight.SHOULD,
    practice("what stands everywhere is read nowhere; one statement to three steps is a rule of thumb"),
)
def wallpaper(audited: Audited) -> Iterator[Found]:
    """A procedure has at most one caution statement to three steps.

    Counted are all caution statements, notices included, against all steps; one or two are never too many. A caution
    may cover several steps that follow each other, and what threatens all the time is kept off by guards, by what is
    worn, or by another way of doing it.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - caution: The floor is wet.
            harm: A fall bruises.
            avoid: Small steps.
            covers: [look]
          - do: Look at the tank.
            step: look
          - caution: The lid is heavy.
            harm: It bruises fingers.
            avoid: Both hands at the rim.
            covers: [lift]
          - do: Lift the lid.
            step: lift
          - caution: The rim is sharp.
            harm: It cuts fingers.
            avoid: Gloves on.
            covers: [lay]
          - do: Lay the lid down.
            step: lay

    Passes:
        # procedures/filling/example.yaml
        steps:
          - caution: The floor is wet, the lid is heavy and its rim is sharp.
            harm: It bruises and cuts fingers.
            avoid: Gloves on, both hands at the rim, small steps.
            covers: [lift, lay]
          - do: Look at the tank.
          - do: Lift the lid.
            step: lift
          - do: Lay the lid down.
            step: lay
    """
    for procedure in audited.procedures:
        statements = sum(isinstance(item, Caution) for item in every(procedure.steps))
        steps = len(placed(procedure))
        if statements > FEW and statements > steps * MOST:
            yield Found(
                str(procedure.procedure),
                procedure.procedure.span,
                f"{quoted(procedure.procedure)} has {statements} caution statements for {steps} steps",
                "let one cover all steps that follow each other with the same hazard, or take the hazard away",
            )

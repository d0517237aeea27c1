"""Protective equipment that is taken off before the last exposure."""

from collections.abc import Iterator

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.dressing import exposed_after
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.problems import quoted


@rule(
    Family.PROTECTION,
    Weight.MUST,
    read("29 CFR 1910.132", "(a)", "protective equipment is used wherever a hazard makes it necessary"),
    practice("it comes off after the last liquid is shut away, not before"),
)
def wear_off_before_end(audited: Audited) -> Iterator[Found]:
    """Nothing that a procedure lists under `wear` is taken off while something may still reach the person.

    A step takes off what it says under `leaves`: `gloves off`, `wear off`. From there every way through the procedure
    is followed until the piece is on again. No step on the way may expose the person, also none in a section that one
    is sent to. What the procedure does not list under `wear` may come off at any time.

    Fails:
        # procedures/filling/example.yaml
        wear: [apron, goggles, gloves]
        prerequisites: [dressed]
        steps:
          - do: Take the gloves off.
            leaves:
              - gloves off
          - do: Close the can of concentrate.
            exposes: [sample-concentrate]

    Passes:
        # procedures/filling/example.yaml
        wear: [apron, goggles, gloves]
        prerequisites: [dressed]
        steps:
          - do: Close the can of concentrate.
            exposes: [sample-concentrate]
          - do: Take the gloves off.
            leaves:
              - gloves off
    """
    for procedure in audited.procedures:
        for each in placed(procedure):
            for name, exposed in exposed_after(audited, procedure, each.step).items():
                yield Found(
                    str(procedure.procedure),
                    each.step.span,
                    f"{quoted(name)} comes off at {quoted(each.step.name)}, and {quoted(exposed)} still exposes",
                    f"move it behind {quoted(exposed)}, or put {quoted(name)} on again before",
                )

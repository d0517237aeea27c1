"""A safe stop that is not read at a glance."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.problems import quoted

#: characters; about a line and a half of a sheet, read from where people stand (common practice, no source)
LONGEST = 120


@rule(
    Family.STOPPING,
    Weight.SHOULD,
    read("ASD-STE100", "rule 5.1", "a sentence of a procedure has 20 words at most"),
    practice("the safe stop is one line, in view at every step, read while something goes wrong"),
)
def stop_safely_long(audited: Audited) -> Iterator[Found]:
    """`stop_safely` has 120 characters at most.

    It stands at the top of every sheet and stays in view on the tablet. Whoever needs it has no time to read. Name
    what is switched off and shut, then who is told. What belongs to one step goes to its caution, what is done
    about a fault to `if_it_goes_wrong`. The rule `sentence-long` counts the words of each of its sentences.

    Fails:
        # procedures/filling/example.yaml
        stop_safely: >-
          Press the stop of P1 at the tank or at the bench. Shut V1, V2 and V3 one after the other. Hang up N1.
          Step back, tell the second person.

    Passes:
        # procedures/filling/example.yaml
        stop_safely: P1 off, V1, V2 and V3 shut, step back, tell the second person.
    """
    for procedure in audited.procedures:
        text = procedure.stop_safely
        if len(text) > LONGEST:
            message = f"'stop_safely' has {len(text)} characters, more than {LONGEST}: {quoted(text)}"
            yield Found(
                str(procedure.procedure), text.span, message, "say what is off and shut, and who is told, no more"
            )

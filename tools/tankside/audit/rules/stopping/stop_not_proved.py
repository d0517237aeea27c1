"""A safe stop of which nobody knows whether it makes safe."""

from collections.abc import Iterator

from tankside.audit.audited import Audited, placed
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.model.claims import read_claim
from tankside.model.procedures import Procedure
from tankside.model.steps import Step
from tankside.problems import quoted

#: kinds of step after which something may be open, running, flowing or locked
ACTING = ("open", "start", "move", "add", "lock")
#: what the dry run calls a stop after which something is open or running
UNSAFE = "stop-unsafe"


@rule(
    Family.STOPPING,
    Weight.MUST,
    read("29 CFR 1910.119", "(f)", "operating procedures say how the plant is shut down in an emergency"),
    practice("people may stop after any step, and what they leave behind is safe"),
)
def stop_not_proved(audited: Audited) -> Iterator[Found]:
    """A safe stop leaves nothing open or running, after whichever step it is done.

    A procedure with a step that opens, starts, moves, adds or locks something says under `stop_leaves` what its
    `stop_safely` brings about. The dry run stops after each of its steps, in every state that the plant may then be
    in; what stays open or running is a finding. Emergency procedures are left out: people leave.

    Pressure that stays shut in a line is not counted. Pages name it beside the step.

    Fails:
        # procedures/filling/example.yaml
        stop_leaves:
          - P1 stopped
          - V1 and V2 shut
        steps:
          - open: V3
          - shut: V3

    Passes:
        # procedures/filling/example.yaml
        stop_leaves:
          - P1 stopped
          - V1, V2 and V3 shut
        steps:
          - open: V3
          - shut: V3
    """
    for procedure in audited.procedures:
        if not procedure.is_emergency and not procedure.stop_leaves:
            acting = next((each.step for each in placed(procedure) if _acts(each.step)), None)
            if acting is not None:
                yield _unclaimed(procedure, acting)
    written = {each.span.path: str(each.procedure) for each in audited.procedures}
    for problem in audited.rehearsal.problems():
        if problem.code == UNSAFE:
            yield Found(written[problem.span.path], problem.span, problem.message, problem.hint)


def _acts(step: Step) -> bool:
    states = {read_claim(text).state for text in step.leaves}
    return step.kind in ACTING or bool(states & {"open", "running", "locked"})


def _unclaimed(procedure: Procedure, acting: Step) -> Found:
    message = f"nothing says what 'stop_safely' leaves, and {quoted(acting.name)} changes the plant"
    hint = "write under 'stop_leaves' what is off and shut after it, as claims: 'P1 stopped', 'V1 and V2 shut'"
    return Found(str(procedure.procedure), procedure.stop_safely.span, message, hint)

"""An emergency procedure with something before it."""

from collections.abc import Iterator

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.emergency import emergencies
from tankside.audit.reading.wording import in_english
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.loading.values import Text
from tankside.model.facts import Role
from tankside.model.procedures import Procedure
from tankside.model.steps import Hold, Step, Wait
from tankside.problems import Span, quoted

#: words of a role that everybody has
ANYBODY = ("anyone", "anybody", "everyone", "everybody", "whoever")


@rule(
    Family.EMERGENCIES,
    Weight.MUST,
    read("29 CFR 1910.151", "(c)", "the water is there for immediate use"),
    practice("an emergency procedure is done at once, by whoever is there, without leave"),
)
def emergency_gated(audited: Audited) -> Iterator[Found]:
    """Nothing stands before or within an emergency procedure that keeps people waiting.

    It has no prerequisites and asks for no input. None of its steps is a hold, a wait or a second-person check; how
    long eyes are rinsed is said in words, because help is called meanwhile. It is done by a role that everybody
    has: its id or name says anyone, anybody, everyone, everybody or whoever.

    Fails:
        # procedures/safety/splash.yaml
        prerequisites: [eyewash-clear]

    Passes:
        # procedures/safety/splash.yaml
        needs: [eyewash-1]
    """
    roles = audited.plant.roles.roles
    for procedure in emergencies(audited):
        for span, message, hint in _gates(procedure):
            yield Found(str(procedure.procedure), span, message, hint)
        if in_english(audited) and not _is_anybody(procedure.done_by, roles[procedure.done_by]):
            message = f"an emergency procedure is done by {quoted(procedure.done_by)}, and not by anyone"
            hint = "let a role do it that everybody has, such as 'anyone'"
            yield Found(str(procedure.procedure), procedure.done_by.span, message, hint)


def _gates(procedure: Procedure) -> Iterator[tuple[Span, str, str]]:
    for text in procedure.prerequisites:
        yield text.span, f"an emergency procedure asks for {quoted(text)} first", "take the prerequisite out"
    for name in procedure.inputs:
        yield name.span, f"an emergency procedure asks for the input {quoted(name)}", "take the input out"
    for each in placed(procedure):
        yield from _gate(each.step)


def _gate(step: Step) -> Iterator[tuple[Span, str, str]]:
    if isinstance(step, Hold):
        yield step.span, f"an emergency procedure is held at {quoted(step.name)}", "take the hold out"
    if isinstance(step, Wait):
        yield step.span, f"an emergency procedure waits at {quoted(step.name)}", "say how long it is done, in a 'do'"
    if step.second_person == "yes":
        message = f"an emergency procedure asks for a second person's check at {quoted(step.name)}"
        yield step.span, message, "take 'second_person' out of the step"


def _is_anybody(name: Text, role: Role) -> bool:
    said = f"{name} {role.name}".lower()
    return any(word in said for word in ANYBODY)

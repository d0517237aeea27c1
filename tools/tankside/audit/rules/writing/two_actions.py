"""A step that asks for more than one action."""

from collections.abc import Iterator

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.actions import actions
from tankside.audit.reading.wording import in_english
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.model.steps import Do
from tankside.problems import quoted


@rule(
    Family.WRITING,
    Weight.SHOULD,
    read("ASD-STE100", "rule 5.2", "one instruction a sentence, unless actions happen at the same time"),
    read("HSE HSG48", "as a checklist of it says", "one action a step"),
)
def two_actions(audited: Audited) -> Iterator[Found]:
    """A step asks for one action.

    Looked at is each `do`, except in emergencies, where nobody ticks steps off. A second action begins after a full
    stop, a comma, 'and' or 'then', with a verb and what it acts on. What happens at the same time is one action: say
    so with 'while' or 'with'. So is what goes on with the same thing in hand, 'and hang it in its clip'; but to open,
    shut, start, stop, lock and unlock are steps of their own.

    Whoever is called away between two actions finds one tick for both, and one of them is left out or done twice.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - do: Take the pail away and wipe the bench.

    Passes:
        # procedures/filling/example.yaml
        steps:
          - do: Take the pail away.
          - do: Wipe the bench, with the lid on the pail.
          - do: Unhook the hose and hang it in its clip.
    """
    for procedure in in_english(audited):
        for each in placed(procedure):
            if procedure.is_emergency or not isinstance(each.step, Do):
                continue
            asked = actions(each.step.text)
            if len(asked) > 1:
                yield Found(
                    str(procedure.procedure),
                    each.step.text.span,
                    f"{quoted(each.step.text)} asks for {len(asked)} actions, the last is {quoted(asked[-1])}",
                    "make a step of each, or write 'while' or 'with' when both happen at once",
                )

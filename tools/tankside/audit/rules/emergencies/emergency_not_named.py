"""An emergency procedure that nothing leads to."""

from collections.abc import Iterator

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.emergency import emergencies
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.model.procedures import Procedure
from tankside.model.steps import Caution, Check, Choose, Measure, Repeat, Step, every
from tankside.problems import quoted


@rule(
    Family.EMERGENCIES,
    Weight.SHOULD,
    practice("the work names the emergency that it can lead to, so that the way there is in view before it is needed"),
)
def emergency_not_named(audited: Audited) -> Iterator[Found]:
    """Each emergency procedure is named by another procedure.

    It is named under `if_it_happens` of a caution, under `go_to` of what is done when it goes wrong, or where a
    check, a reading, a choice or a repeat leads on when it is not so. One that nothing names is either missing
    where it is needed, or not needed.

    Fails:
        # procedures/safety/burst.yaml
        emergency: yes

    Passes:
        # procedures/safety/burst.yaml
        emergency: yes
        # procedures/filling/example.yaml
        if_it_goes_wrong:
          - sign: A bottle bulges
            do: Step back.
            go_to: burst
    """
    named = {each for procedure in audited.procedures for each in _named_in(procedure) if each != procedure.procedure}
    for procedure in emergencies(audited):
        name = procedure.procedure
        if name not in named:
            message = f"no other procedure leads to {quoted(name)}"
            yield Found(str(name), name.span, message, "name it where the work can lead to it, or delete it")


def _named_in(procedure: Procedure) -> Iterator[str]:
    yield from (str(remedy.go_to) for remedy in procedure.if_it_goes_wrong if remedy.go_to is not None)
    for item in every(procedure.steps):
        if isinstance(item, Caution) and item.if_it_happens is not None:
            yield str(item.if_it_happens)
    for each in placed(procedure):
        yield from _led_to(each.step)


def _led_to(step: Step) -> Iterator[str]:
    if isinstance(step, Measure):
        yield str(step.if_outside)
    elif isinstance(step, Check | Repeat) and step.if_not is not None:
        yield str(step.if_not)
    elif isinstance(step, Choose):
        yield from (str(branch.go_to) for branch in step.branches if branch.go_to is not None)

"""A procedure that nobody is led to."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.leading import led_to
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.problems import quoted


@rule(
    Family.UPKEEP,
    Weight.SHOULD,
    practice("a procedure is used when the work itself leads to it"),
)
def orphan(audited: Audited) -> Iterator[Found]:
    """Each procedure is on a checklist, or something on a checklist leads to it.

    Followed are the items of all checklists, and from there what a procedure leads to: the procedures that bring about
    its prerequisites, those under `if_it_happens`, `if_not`, `if_outside` and `go_to`. Emergency procedures are in
    reach from everywhere, so they are not found, and what they lead to is not either.

    A procedure for a rare event that only the lead knows of is not followed when the event comes. Let the place where
    it begins to be needed lead there: the sign under `if_it_goes_wrong`, the check that fails.

    Fails:
        # procedures/filling/example.yaml
        title: Nobody knows of me

    Passes:
        # procedures/filling/example.yaml
        title: The eyewash leads here
        # procedures/safety/splash.yaml
        if_it_goes_wrong:
          - sign: The eyewash does not run
            do: Use any clean running water, at a gentle flow.
            go_to: example
    """
    reached = led_to(audited)
    for procedure in audited.procedures:
        if str(procedure.procedure) not in reached:
            yield Found(
                str(procedure.procedure),
                procedure.procedure.span,
                f"no checklist, check or sign leads to {quoted(procedure.procedure)}",
                "put it on a checklist, or name it under 'go_to' where it begins to be needed",
            )

"""An emergency procedure that nobody practises."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.emergency import emergencies
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.problems import quoted


@rule(
    Family.EMERGENCIES,
    Weight.SHOULD,
    read("29 CFR 1910.38", "(f)", "the plan is gone through with everybody when it is new and when it changes"),
    practice("what is done in an emergency is practised; what was only read is not remembered"),
)
def drill_missing(audited: Audited) -> Iterator[Found]:
    """Each emergency procedure has a drill.

    Under `drills` in book.yaml stands the procedure with the day of its next drill. Go through it with everybody:
    walk to the water with shut eyes, take up water with the kit, walk out and count.

    Fails:
        # procedures/safety/leave-now.yaml
        emergency: yes

    Passes:
        # procedures/plant/book.yaml
        drills:
          - procedure: leave-now
            next: 2027-03-01
        # procedures/safety/leave-now.yaml
        emergency: yes
    """
    drilled = {str(drill.procedure) for drill in audited.plant.facts.drills}
    for procedure in emergencies(audited):
        name = procedure.procedure
        if name not in drilled:
            message = f"no drill of {quoted(name)} is planned"
            yield Found(str(name), name.span, message, f"plan one: 'procedure: {name}' under 'drills' in book.yaml")

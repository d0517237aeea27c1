"""A drill whose day has passed."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.dates import day_of, years_after
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.problems import quoted


@rule(
    Family.EMERGENCIES,
    Weight.SHOULD,
    practice("every emergency procedure is practised at least once a year"),
)
def drill_overdue(audited: Audited) -> Iterator[Found]:
    """No drill is overdue, and none lies more than a year ahead.

    Looked at is `next` of each entry under `drills` in book.yaml. After a drill, write its day under `last` and
    plan the next one.

    Fails:
        # procedures/plant/book.yaml
        drills:
          - procedure: splash
            next: 2026-11-30

    Passes:
        # procedures/plant/book.yaml
        drills:
          - procedure: splash
            next: 2026-12-01
    """
    for drill in audited.plant.facts.drills:
        name, planned = str(drill.procedure), day_of(drill.next)
        if planned < audited.day:
            message = f"the drill of {quoted(name)} was due on {quoted(drill.next)}"
            yield Found(
                name, drill.next.span, message, "practise it, then write down the day under 'last' and the next one"
            )
        elif planned > years_after(audited.day, 1):
            message = f"the next drill of {quoted(name)} is on {quoted(drill.next)}, more than a year ahead"
            yield Found(name, drill.next.span, message, "plan it within a year")

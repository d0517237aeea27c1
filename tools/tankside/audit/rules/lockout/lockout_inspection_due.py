"""A yearly inspection of a lockout procedure that comes up."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.dates import SOON, day_of, years_after
from tankside.audit.reading.lockout_inspections import first_issue, last_sound
from tankside.audit.reading.lockouts import lockouts
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.problems import quoted


@rule(
    Family.LOCKOUT,
    Weight.SHOULD,
    read("29 CFR 1910.147", "(c)(6)", "each procedure is inspected at least every year"),
)
def lockout_inspection_due(audited: Audited) -> Iterator[Found]:
    """A lockout procedure that was never inspected, or whose year ends within 30 days, is planned for.

    A new procedure is best inspected when it is followed for the first time. When the year has passed,
    `lockout-inspection` finds it.

    Fails:
        # procedures/plant/book.yaml
        inspections:
          - procedure: lock-out-pump
            date: 2025-12-10
            by: workshop-lead
            of: authorised-person
            found: Followed as written.

    Passes:
        # procedures/plant/book.yaml
        inspections:
          - procedure: lock-out-pump
            date: 2026-11-27
            by: workshop-lead
            of: authorised-person
            found: Followed as written.
    """
    for lockout in lockouts(audited):
        last = last_sound(audited, lockout.procedure)
        since = first_issue(lockout.procedure) if last is None else last.date
        due = years_after(day_of(since), 1)
        if audited.day <= due and (last is None or due - audited.day <= SOON):
            message = f"{quoted(lockout.name)} has to be inspected by {due}"
            hint = "watch it being followed, and write that under 'inspections' in book.yaml"
            yield Found(lockout.name, since.span, message, hint)

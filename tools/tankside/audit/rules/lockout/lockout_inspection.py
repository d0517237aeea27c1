"""A lockout procedure that nobody else has looked at for a year."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.dates import day_of, years_after
from tankside.audit.reading.lockout_inspections import first_issue, inspections, last_sound
from tankside.audit.reading.lockouts import lockouts
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.problems import quoted


@rule(
    Family.LOCKOUT,
    Weight.MUST,
    read(
        "29 CFR 1910.147", "(c)(6)", "each procedure is inspected every year by another authorised person, in writing"
    ),
    law="US",
)
def lockout_inspection(audited: Audited) -> Iterator[Found]:
    """Each lockout procedure was inspected within a year, by another than the one who follows it.

    Somebody watches it being followed, and writes it under `inspections` in book.yaml: the day, who judged (`by`), who
    was watched (`of`), what was found. `by` and `of` are two roles. A procedure that is new has a year from its first
    revision on; `lockout-inspection-due` says until when. Inspections that lie ahead do not count.

    Fails:
        # procedures/plant/book.yaml
        inspections:
          - procedure: lock-out-pump
            date: 2025-11-01
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
        for each in inspections(audited, lockout.procedure):
            if each.by == each.of and last is None:
                message = f"{quoted(lockout.name)} was inspected by {quoted(each.by)}, who also followed it"
                yield Found(lockout.name, each.by.span, message, "let another authorised person inspect it")
        since = first_issue(lockout.procedure) if last is None else last.date
        if years_after(day_of(since), 1) < audited.day:
            what = "was never inspected, and was issued" if last is None else "was inspected last"
            message = f"{quoted(lockout.name)} {what} on {quoted(since)}, more than a year ago"
            hint = "watch it being followed, and write that under 'inspections' in book.yaml"
            yield Found(lockout.name, since.span, message, hint)

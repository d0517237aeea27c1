"""An exception that has expired while what it excepted is still so."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.exceptions import counting, expired, is_still_found
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.problems import quoted


@rule(
    Family.UPKEEP,
    Weight.SHOULD,
    practice("a deviation ends on its day, or is decided anew"),
)
def exception_expired(audited: Audited) -> Iterator[Found]:
    """What was put off until a day is done by then, or decided again.

    Looked at is `until` of each exception in book.yaml, the last day on which it counts. Found is one that has expired
    while its rule still finds the same, and no other exception counts for it. The finding itself counts again, too.
    Once it is mended, the old exception stays listed, and nobody need look at it any more.

    Fails:
        # procedures/plant/book.yaml
        exceptions:
          - rule: orphan
            at: lock-out-pump
            reason: It hangs at the pump; the checklist for it is being written.
            approved: workshop-lead
            since: 2026-10-01
            until: 2026-11-30

    Passes:
        # procedures/plant/book.yaml
        exceptions:
          - rule: orphan
            at: lock-out-pump
            reason: It hangs at the pump; the checklist for it is being written.
            approved: workshop-lead
            since: 2026-10-01
            until: 2026-12-01
    """
    again = {(str(each.rule), str(each.at)) for each in counting(audited)}
    for each in expired(audited):
        # An exception from this very rule puts off a reminder, and reminds of nothing when it ends.
        is_own = each.rule == "exception-expired"
        if not is_own and (str(each.rule), str(each.at)) not in again and is_still_found(each, audited):
            yield Found(
                str(each.at),
                each.until.span,
                f"the exception from {quoted(each.rule)} expired on {quoted(each.until)}, and it is still so",
                "do what was put off, or decide again and write a new exception with its own reason and end",
            )

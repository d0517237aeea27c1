"""An exception that lasts too long."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.dates import day_of, years_after
from tankside.audit.reading.exceptions import counting
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.problems import quoted

#: years
LONGEST = 1


@rule(
    Family.UPKEEP,
    Weight.SHOULD,
    practice("a deviation is looked at again within a year"),
)
def exception_long(audited: Audited) -> Iterator[Found]:
    """An exception ends within a year.

    Compared are `since` and `until` of each exception in book.yaml that still counts. An exception puts something off
    until it can be done. One that ends in ten years is a rule switched off, and nobody is asked again.

    Fails:
        # procedures/plant/book.yaml
        exceptions:
          - rule: orphan
            at: lock-out-pump
            reason: It hangs at the pump; the checklist for it is being written.
            approved: workshop-lead
            since: 2026-11-01
            until: 2027-11-02

    Passes:
        # procedures/plant/book.yaml
        exceptions:
          - rule: orphan
            at: lock-out-pump
            reason: It hangs at the pump; the checklist for it is being written.
            approved: workshop-lead
            since: 2026-11-01
            until: 2027-11-01
    """
    for each in counting(audited):
        if day_of(each.until) > years_after(day_of(each.since), LONGEST):
            yield Found(
                str(each.at),
                each.until.span,
                f"the exception from {quoted(each.rule)} lasts more than a year, until {quoted(each.until)}",
                "let it end within a year, and decide again then",
            )

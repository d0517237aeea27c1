"""An exception without a reason."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.exceptions import counting
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.problems import quoted

#: words in a reason
FEWEST_WORDS = 4


@rule(
    Family.UPKEEP,
    Weight.SHOULD,
    practice("a deviation is written down with its reason and with what is done instead"),
)
def exception_without_reason(audited: Audited) -> Iterator[Found]:
    """An exception says why, and what is done instead, in four words or more.

    Looked at is `reason` of each exception in book.yaml that still counts. 'Not needed' or 'see lead' is no reason
    that anybody can judge next year. Whether the reason is a good one, no rule can know; it stays in the list of
    exceptions for all to read.

    Fails:
        # procedures/plant/book.yaml
        exceptions:
          - rule: orphan
            at: lock-out-pump
            reason: Not needed here.
            approved: workshop-lead
            since: 2026-11-01
            until: 2027-02-01

    Passes:
        # procedures/plant/book.yaml
        exceptions:
          - rule: orphan
            at: lock-out-pump
            reason: It hangs at the pump; the checklist for it is being written.
            approved: workshop-lead
            since: 2026-11-01
            until: 2027-02-01
    """
    for each in counting(audited):
        if len(each.reason.split()) < FEWEST_WORDS:
            yield Found(
                str(each.at),
                each.reason.span,
                f"{quoted(each.reason)} is no reason that anybody can judge",
                "say why the rule is not kept, and what is done instead",
            )

"""A review that lies too far ahead."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.dates import day_of, years_after
from tankside.audit.reading.written import all_written
from tankside.audit.rule import Family, Found, Weight, memory, rule
from tankside.problems import quoted

#: the longest that a procedure goes unread, in years
LONGEST = 2


@rule(
    Family.UPKEEP,
    Weight.SHOULD,
    memory("EPA QA/G-6", "section on review", "procedures are reviewed every one or two years"),
)
def review_far(audited: Audited) -> Iterator[Found]:
    """A review comes two years after the effective date at the latest.

    Compared are `review` and `effective` of each procedure and checklist. A later review is as good as none: whoever
    wrote the procedure may have left by then.

    Fails:
        # procedures/filling/example.yaml
        effective: 2026-11-01
        review: 2028-11-02

    Passes:
        # procedures/filling/example.yaml
        effective: 2026-11-01
        review: 2028-11-01
    """
    for name, written in all_written(audited):
        if day_of(written.review) > years_after(day_of(written.effective), LONGEST):
            yield Found(
                name,
                written.review.span,
                f"its review {quoted(written.review)} is more than two years after {quoted(written.effective)}",
                "set the review one or two years after 'effective'",
            )

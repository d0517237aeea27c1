"""A procedure or checklist that is to be reviewed soon."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.dates import is_soon
from tankside.audit.reading.written import all_written
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.problems import quoted


@rule(
    Family.UPKEEP,
    Weight.SHOULD,
    practice("what is due within 30 days is planned now"),
)
def review_soon(audited: Audited) -> Iterator[Found]:
    """A review that is due within 30 days is planned.

    Looked at is `review` of each procedure and checklist: found are those due today or in the next 30 days. Reviewing
    a whole book takes weeks, and many dates fall on the same day. Once the day has passed, nobody may work by them.

    Fails:
        # procedures/filling/example.yaml
        review: 2026-12-31

    Passes:
        # procedures/filling/example.yaml
        review: 2027-01-01
    """
    for name, written in all_written(audited):
        if is_soon(written.review, audited.day):
            yield Found(
                name,
                written.review.span,
                f"its review is due on {quoted(written.review)}, in 30 days or less",
                "agree on a day to read it beside the work, with who does it",
            )

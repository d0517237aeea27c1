"""A procedure or checklist whose review is overdue."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.dates import day_of
from tankside.audit.reading.written import all_written
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.problems import quoted


@rule(
    Family.UPKEEP,
    Weight.MUST,
    memory("EPA QA/G-6", "section on review", "procedures are reviewed every one or two years, so that they stay true"),
    read("29 CFR 1910.119", "(f)(3)", "where it applies, procedures are certified each year; elsewhere good practice"),
)
def review_overdue(audited: Audited) -> Iterator[Found]:
    """No procedure and no checklist is in use after the day of its review.

    Looked at is `review`, the last day by which somebody reads it again beside the work. The day itself is still in
    time. A workshop changes little by little: a valve is replaced, a drum is bought elsewhere, a short cut becomes a
    habit. What nobody has compared with the work for years describes a workshop that is no longer there, its cautions
    too.

    Read it at the place where it is done, with who does it. When nothing has changed, that is a new revision as well:
    a later `review`, and a line of the history that says so.

    Fails:
        # procedures/filling/example.yaml
        effective: 2025-11-01
        review: 2026-11-30

    Passes:
        # procedures/filling/example.yaml
        effective: 2025-12-01
        review: 2026-12-01
    """
    for name, written in all_written(audited):
        if day_of(written.review) < audited.day:
            yield Found(
                name,
                written.review.span,
                f"its review was due on {quoted(written.review)}",
                "read it beside the work, then raise its revision with what changed and the day of the next review",
            )

"""A procedure or checklist that is not in force yet."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.dates import day_of
from tankside.audit.reading.written import all_written
from tankside.audit.rule import Family, Found, Weight, memory, practice, rule
from tankside.problems import quoted


@rule(
    Family.UPKEEP,
    Weight.MUST,
    memory("EPA QA/G-6", "section on document control", "revision and effective date stand on each procedure"),
    practice("nobody works by a revision before its effective date"),
)
def effective_later(audited: Audited) -> Iterator[Found]:
    """No procedure and no checklist in the book takes effect later than today.

    Looked at is `effective`. A later date mostly waits for something: a valve that is still to be fitted, people who
    are still to be shown. Who follows the new steps before that turns valves that are not there. So until its day it
    is stamped as not for use, and the finding goes away by itself on that day.

    When the revision before it still counts, publish that one, and put the new one into the book on its day.

    Fails:
        # procedures/filling/example.yaml
        effective: 2026-12-02

    Passes:
        # procedures/filling/example.yaml
        effective: 2026-12-01
    """
    for name, written in all_written(audited):
        if day_of(written.effective) > audited.day:
            yield Found(
                name,
                written.effective.span,
                f"it takes effect on {quoted(written.effective)}, and is not in force yet",
                "put it into the book on that day, or set the day from which it really counts",
            )

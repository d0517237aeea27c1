"""A revision that was in force before it was written."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.dates import day_of
from tankside.audit.reading.written import all_written
from tankside.audit.rule import Family, Found, Weight, memory, practice, rule
from tankside.problems import quoted


@rule(
    Family.UPKEEP,
    Weight.SHOULD,
    memory("EPA QA/G-6", "section on document control", "a revised procedure gets a new date"),
    practice("a revision takes effect on the day it was written, or later"),
)
def effective_before_change(audited: Audited) -> Iterator[Found]:
    """A revision takes effect on the day of its line in the history, or later.

    Compared are `effective` and the date of the newest line of the history. Later is fine: people are shown the new
    steps first. Earlier cannot be: on the days between, another revision was followed, and a record of these days
    would name the wrong one.

    Fails:
        # procedures/filling/example.yaml
        effective: 2026-11-01
        history:
          - revision: 1
            date: 2026-11-20
            change: First issue.

    Passes:
        # procedures/filling/example.yaml
        effective: 2026-11-24
        history:
          - revision: 1
            date: 2026-11-20
            change: First issue.
    """
    for name, written in all_written(audited):
        newest = written.history[-1].date
        if day_of(written.effective) < day_of(newest):
            yield Found(
                name,
                written.effective.span,
                f"it takes effect on {quoted(written.effective)}, before its newest change of {quoted(newest)}",
                "set 'effective' to the day from which this revision is followed",
            )

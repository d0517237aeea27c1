"""A history whose dates run backwards."""

from collections.abc import Iterator
from itertools import pairwise

from tankside.audit.audited import Audited
from tankside.audit.reading.dates import day_of
from tankside.audit.reading.written import all_written
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.problems import quoted


@rule(
    Family.UPKEEP,
    Weight.SHOULD,
    practice("a later revision has the same date as the one before it, or a later one"),
)
def history_backwards(audited: Audited) -> Iterator[Found]:
    """The dates in a history do not run backwards.

    Looked at is each line of the history of a procedure or checklist, against the line before it. Two revisions on a
    day are fine. With a date that is wrong nobody can say which revision was followed on the day of an accident.

    Fails:
        # procedures/filling/example.yaml
        revision: 2
        history:
          - revision: 1
            date: 2026-10-20
            change: First issue.
          - revision: 2
            date: 2026-10-02
            change: V3 is shut before P1 is stopped.

    Passes:
        # procedures/filling/example.yaml
        revision: 2
        history:
          - revision: 1
            date: 2026-10-02
            change: First issue.
          - revision: 2
            date: 2026-10-20
            change: V3 is shut before P1 is stopped.
    """
    for name, written in all_written(audited):
        for before, after in pairwise(written.history):
            if day_of(after.date) < day_of(before.date):
                yield Found(
                    name,
                    after.date.span,
                    f"revision {quoted(after.revision)} of {quoted(after.date)} is older than the one before it",
                    "correct the date that is wrong; the newest line comes last",
                )

"""A history with a revision missing."""

from collections.abc import Iterator
from itertools import pairwise

from tankside.audit.audited import Audited
from tankside.audit.reading.written import all_written
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.problems import quoted


@rule(
    Family.UPKEEP,
    Weight.SHOULD,
    read("EPA QA/G-6", "as a form built on it says", "the revision history is a complete list of revisions"),
    practice("revisions are counted up by one"),
)
def history_gap(audited: Audited) -> Iterator[Found]:
    """The revisions in a history count up by one.

    Looked at is each line of the history of a procedure or checklist, against the line before it. It may begin with
    any revision, for what was written elsewhere before. A number that is left out makes people look for a sheet that
    never was; a number that stands twice makes two different sheets look the same.

    Fails:
        # procedures/filling/example.yaml
        revision: 3
        history:
          - revision: 1
            date: 2026-10-01
            change: First issue.
          - revision: 3
            date: 2026-11-01
            change: V3 is shut before P1 is stopped.

    Passes:
        # procedures/filling/example.yaml
        revision: 2
        history:
          - revision: 1
            date: 2026-10-01
            change: First issue.
          - revision: 2
            date: 2026-11-01
            change: V3 is shut before P1 is stopped.
    """
    for name, written in all_written(audited):
        for before, after in pairwise(written.history):
            if int(after.revision) != int(before.revision) + 1:
                yield Found(
                    name,
                    after.revision.span,
                    f"revision {quoted(after.revision)} follows {quoted(before.revision)} in the history",
                    "write a line for each revision, one more than the line before it",
                )

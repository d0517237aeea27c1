"""A history that does not say what changed."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.histories import is_silent
from tankside.audit.reading.written import all_written
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.problems import quoted


@rule(
    Family.UPKEEP,
    Weight.SHOULD,
    read("EPA QA/G-6", "as a form built on it says", "the revision history names what was modified, and why"),
    practice("who knows the last revision reads only what is different"),
)
def history_silent(audited: Audited) -> Iterator[Found]:
    """The newest line of the history says what changed.

    Looked at is the newest line of each procedure and checklist from revision 2 on. Found is one that repeats the
    title, or has no word besides those such as 'changed', 'updated', 'minor', 'revision'. Older lines are left as they
    are: a history is not rewritten.

    Whoever has done the work a hundred times does not read it a hundred and first time. That one line is where they
    learn that V3 is shut first from now on.

    Fails:
        # procedures/filling/example.yaml
        revision: 2
        history:
          - revision: 2
            date: 2026-11-01
            change: Various minor updates.

    Passes:
        # procedures/filling/example.yaml
        revision: 2
        history:
          - revision: 2
            date: 2026-11-01
            change: V3 is shut before P1 is stopped.
    """
    for name, written in all_written(audited):
        newest = written.history[-1]
        if newest.revision != "1" and is_silent(newest.change, written.title):
            yield Found(
                name,
                newest.change.span,
                f"{quoted(newest.change)} does not say what changed",
                "say it to who knows the last revision: what is done differently now, and why",
            )

"""What an audit finds that it did not find in an earlier commit."""

from dataclasses import replace
from pathlib import Path

from tankside.audit.auditing import Audit, audit_of
from tankside.catalogue import load
from tankside.compute.amounts import WorkedBook
from tankside.loading.sources import GitTree
from tankside.plant.rehearsal import rehearsal_of


def new_since(audit: Audit, folder: Path, revision: str) -> Audit:
    """Return an audit with those findings only that the same rules on the same day do not have in a commit.

    Lines may have moved; a finding is the same when rule, subject and message are. A book that could not be read there
    had no findings.

    Raises:
        GitUnavailableError: there is no such commit.
    """
    loaded = load(GitTree(folder, revision))
    if loaded.book is None:
        return audit
    before = audit_of(rehearsal_of(WorkedBook(loaded.book)), audit.day, audit.rules)
    known = {each.same for each in before.findings}
    return replace(audit, findings=tuple(each for each in audit.findings if each.same not in known))

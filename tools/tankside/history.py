"""What git knows of earlier editions."""

from collections.abc import Iterator, Mapping
from pathlib import Path

from tankside.catalogue import load
from tankside.compute.amounts import WorkedBook
from tankside.edition import Audience, Edition, checklist_edition, procedure_edition
from tankside.loading.sources import PARTS, PICTURES, GitTree, GitUnavailableError, git
from tankside.problems import Problem


def editions(worked: WorkedBook, audience: Audience, language: str) -> Mapping[str, Edition]:
    """Return the editions of all procedures and checklists, by id."""
    book = worked.book
    procedures = {name: procedure_edition(worked, each, audience, language) for name, each in book.procedures.items()}
    checklists = {name: checklist_edition(worked, each, audience, language) for name, each in book.checklists.items()}
    return {**procedures, **checklists}


def changed_under_same_revision(folder: Path, now: Mapping[str, Edition], against: str) -> Iterator[Problem]:
    """Return a problem for each edition that differs from the one in commit `against` but has its revision.

    Nothing is said when the folder is in no git checkout, or the book there had problems.
    """
    for name, before in _editions_at(folder, against).items():
        current = now.get(name)
        if current is None or before.hash == current.hash or before.written.revision != current.written.revision:
            continue
        revision = current.written.revision
        message = (
            f"what readers get has changed ({before.short_hash} to {current.short_hash}) "
            f"but the revision is still {revision}"
        )
        hint = f"set 'revision: {int(revision) + 1}' and say in the history what changed"
        yield Problem(revision.span, "hash-changed", message, hint)


def is_known(folder: Path, revision: str) -> bool:
    """Return whether the folder is in a git checkout that has this commit."""
    try:
        git(folder, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{revision}^{{commit}}")
    except GitUnavailableError:
        return False
    return True


def _editions_at(folder: Path, revision: str) -> Mapping[str, Edition]:
    if not is_known(folder, revision):
        return {}
    try:
        if not git(folder, "diff", "--name-only", revision, "--", *PARTS, PICTURES).strip():
            return {}
        loaded = load(GitTree(folder, revision))
    except GitUnavailableError:
        return {}
    if loaded.book is None or loaded.problems:
        return {}
    return editions(WorkedBook(loaded.book), Audience.FLOOR, loaded.book.plant.facts.languages[0])

"""What git knows of earlier editions."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from tankside.catalogue import Book, load
from tankside.catalogue.floor import floor_book
from tankside.compute.amounts import WorkedBook
from tankside.edition import Audience, Edition, checklist_edition, procedure_edition
from tankside.edition.sheets import SheetEdition, plant_sheets, sheet_editions, titles_of
from tankside.loading.sources import PARTS, PICTURES, GitTree, GitUnavailableError, git
from tankside.model.facts import BookFacts, Plant, RuleException
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


def sheets_under_same_revision(folder: Path, now: Mapping[str, SheetEdition], against: str) -> Iterator[Problem]:
    """Return a problem for each sheet of the plant that shows something else than in commit `against`, unrevised."""
    book = _book_at(folder, against) if now else None
    before = {} if book is None else _declared(floor_book(book))
    for name, sheet in now.items():
        was, revision = before.get(name), sheet.entry.revision
        assert revision is not None
        if was is not None and was.hash != sheet.hash and was.revision == sheet.revision:
            message = (
                f"sheet '{name}' shows something else now ({was.short_hash} to {sheet.short_hash}) "
                f"but its revision is still {revision}"
            )
            hint = f"set 'revision: {int(revision) + 1}' and print it again"
            yield Problem(revision.span, "sheet-changed", message, hint)


def _declared(book: Book) -> Mapping[str, SheetEdition]:
    return plant_sheets(book.plant, titles_of(book.procedures.values()))


def sheets_changed(
    folder: Path, now: Mapping[str, SheetEdition], against: str, audience: Audience
) -> frozenset[str] | None:
    """Return the ids of the sheets that show an audience something else than in commit `against`, or were not there.

    None when it cannot be told, because the book had problems there.
    """
    if not differs(folder, against):
        return frozenset()
    book = _book_at(folder, against)
    if book is None:
        return None
    shown = floor_book(book) if audience is Audience.FLOOR else book
    before = sheet_editions(shown.plant, _editions_of(shown, audience))
    return frozenset(name for name, each in now.items() if name not in before or before[name].hash != each.hash)


@dataclass(frozen=True)
class Told:
    """What the floor was told at a commit."""

    plant: Plant
    editions: Mapping[str, Edition]


def told_at(folder: Path, against: str) -> Told | None:
    """Return what the floor was told at commit `against`; None when that is what it is told now, or cannot be told."""
    book = _book_at(folder, against)
    if book is None:
        return None
    floor = floor_book(book)
    return Told(floor.plant, _editions_of(floor, Audience.FLOOR))


def exceptions_taken_out(folder: Path, facts: BookFacts, against: str) -> Iterator[Problem]:
    """Return a problem for each exception of the audit that stands in commit `against` and here no more."""
    book = _book_at(folder, against)
    if book is None:
        return
    now = {_exception(each) for each in facts.exceptions}
    for before in book.plant.facts.exceptions:
        if _exception(before) not in now:
            what = f"the exception from rule '{before.rule}' at '{before.at}', since {before.since}"
            message = f"{what}, is listed no more"
            yield Problem(facts.book.span, "exception-taken-out", message, "put it back; let its 'until' pass instead")


def _exception(written: RuleException) -> tuple[str, str, str]:
    return str(written.rule), str(written.at), str(written.since)


def is_known(folder: Path, revision: str) -> bool:
    """Return whether the folder is in a git checkout that has this commit."""
    try:
        git(folder, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{revision}^{{commit}}")
    except GitUnavailableError:
        return False
    return True


def _editions_at(folder: Path, revision: str) -> Mapping[str, Edition]:
    book = _book_at(folder, revision)
    if book is None:
        return {}
    return _editions_of(floor_book(book), Audience.FLOOR)


def _editions_of(book: Book, audience: Audience) -> Mapping[str, Edition]:
    return editions(WorkedBook(book), audience, book.plant.facts.languages[0])


def _book_at(folder: Path, revision: str) -> Book | None:
    """Return the book of a commit; None when it does not differ from the one in the folder, or cannot be told."""
    if not differs(folder, revision):
        return None
    try:
        loaded = load(GitTree(folder, revision))
    except GitUnavailableError:
        return None
    return None if loaded.problems else loaded.book


def differs(folder: Path, revision: str) -> bool:
    """Return whether there is such a commit and the book differs from it."""
    try:
        return is_known(folder, revision) and bool(
            git(folder, "diff", "--name-only", revision, "--", *PARTS, PICTURES).strip()
        )
    except GitUnavailableError:
        return False

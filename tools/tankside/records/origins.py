"""Which revision of a book the edition in a record was made of, as git knows it."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from tankside.catalogue import Book, load
from tankside.catalogue.floor import floor_book
from tankside.compute.amounts import WorkedBook
from tankside.edition import Audience, Edition, LanguageUnknownError, checklist_edition, procedure_edition
from tankside.edition.shown import key
from tankside.loading.sources import PARTS, Folder, GitTree, GitUnavailableError, Source, git
from tankside.problems import Problem, has_errors
from tankside.records.examining import SHORT
from tankside.records.record import Record

#: commits that are looked at, the newest first; making the editions of one takes about a second
MOST_COMMITS = 200
_REASONS = (
    "it was made by another version of tankside, which makes another edition of the same book, or of a book that was "
    "changed and never committed so; what was asked of whom stands in the record itself"
)


@dataclass(frozen=True)
class Origin:
    """Where an edition comes from."""

    revision: str
    #: the shortened name of the newest commit that has it; empty for the book as it stands in its folder
    commit: str

    def __str__(self) -> str:
        """Return it in words."""
        where = f"commit {self.commit}" if self.commit else "the book as it stands, in no commit that was looked at"
        return f"revision {self.revision}, {where}"


@dataclass(frozen=True)
class Traced:
    """What a book knows of the editions of some records."""

    #: hash of an edition -> where it comes from
    origins: Mapping[str, Origin]
    problems: tuple[Problem, ...]


@dataclass(frozen=True)
class _Wanted:
    """An edition that is looked for."""

    hash: str
    id: str
    revision: str
    audience: Audience
    language: str


def traced(records: Sequence[Record], folder: Path) -> Traced:
    """Return where the editions of records come from, as the book in a folder and its history know."""
    now = load(Folder(folder)).book
    own = [each for each in records if now is None or each.copy.script.edition["book"] == now.plant.facts.book]
    wanted = {each.copy.script.hash: _wanted(each) for each in own}
    search = _Search({hash_: each for hash_, each in wanted.items() if each is not None})
    search.through(folder)
    problems = (_problem(each, is_own=each in own, search=search) for each in records)
    return Traced(search.found, tuple(each for each in problems if each is not None))


def _wanted(record: Record) -> _Wanted | None:
    edition = record.copy.script.edition
    try:
        audience = Audience(edition["audience"])
    except ValueError:
        return None
    return _Wanted(record.copy.script.hash, record.copy.script.id, record.revision, audience, str(edition["language"]))


class _Search:
    def __init__(self, wanted: Mapping[str, _Wanted]) -> None:
        self.missing = dict(wanted)
        self.found: dict[str, Origin] = {}
        self.commits = 0

    def through(self, folder: Path) -> None:
        """Look through the commits that touched the book, the newest first, and last at the folder itself."""
        for name, short in _commits(folder):
            if not self.missing:
                return
            self.commits += 1
            self._look_at(GitTree(folder, name), short)
        self._look_at(Folder(folder), "")

    def _look_at(self, source: Source, commit: str) -> None:
        revisions = _revisions(source, {each.id for each in self.missing.values()})
        likely = [each for each in self.missing.values() if each.revision in revisions.get(each.id, ())]
        book = _sound(source) if likely else None
        if book is None:
            return
        told = {Audience.OFFICE: WorkedBook(book), Audience.FLOOR: WorkedBook(floor_book(book))}
        for each in likely:
            edition = _edition(told[each.audience], each)
            if edition is not None and edition.hash == each.hash:
                self.found[each.hash] = Origin(each.revision, commit)
                del self.missing[each.hash]


def _commits(folder: Path) -> Iterator[tuple[str, str]]:
    try:
        answer = git(folder, "log", f"--max-count={MOST_COMMITS}", "--format=%H %h", "--", *PARTS)
    except GitUnavailableError:
        return
    for line in answer.decode("ascii").splitlines():
        name, _, short = line.partition(" ")
        yield name, short


def _revisions(source: Source, ids: set[str]) -> Mapping[str, frozenset[str]]:
    """Return the revision that stands in the file of each id: what cannot be the edition need not be made."""
    found: dict[str, frozenset[str]] = {}
    try:
        for file in source.files():
            name = PurePosixPath(file.path).stem
            if name in ids:
                written = re.findall(rb"^revision:[ ]*[\"']?([0-9]+)", file.data, re.MULTILINE)
                found[name] = frozenset(each.decode("ascii") for each in written)
    except GitUnavailableError:
        return {}
    return found


def _sound(source: Source) -> Book | None:
    loaded = load(source)
    return None if has_errors(loaded.problems) else loaded.book


def _edition(worked: WorkedBook, wanted: _Wanted) -> Edition | None:
    name, book = key(wanted.id), worked.book
    try:
        if name in book.procedures:
            return procedure_edition(worked, book.procedures[name], wanted.audience, wanted.language)
        if name in book.checklists:
            return checklist_edition(worked, book.checklists[name], wanted.audience, wanted.language)
    except LanguageUnknownError:
        # The book was not written in that language then.
        return None
    return None


def _problem(record: Record, *, is_own: bool, search: _Search) -> Problem | None:
    script, document = record.copy.script, record.document
    if not is_own:
        message = f"this record is of another book, '{script.edition['book']}'"
        hint = "name the folder of that book with --book to see which revision it was"
        return document.remark("record-other-book", message, hint, "book")
    if script.hash in search.found:
        return None
    looked = f"{search.commits} commits looked at" if search.commits else "git knows no commits of it"
    message = f"the book has no edition {script.hash[:SHORT]} of '{script.id}', revision {record.revision} ({looked})"
    return document.remark("record-edition-unknown", message, _REASONS, "edition")

"""Everything that is found in a book before anything is made of it."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from tankside.audit import stray_exceptions
from tankside.catalogue import Book, load
from tankside.catalogue.confidential import confidential_problems
from tankside.catalogue.floor import floor_book
from tankside.catalogue.secrets import Secrets, secrets_of
from tankside.compute.amounts import WorkedBook
from tankside.compute.checking import amount_problems
from tankside.edition import Audience, Edition
from tankside.edition.sheets import chart_problems, plant_sheets, titles_of
from tankside.history import changed_under_same_revision, editions, exceptions_taken_out, sheets_under_same_revision
from tankside.loading.sources import Folder
from tankside.memory import same_if_equal
from tankside.plant.reactivity import problems as contradictions
from tankside.plant.rehearsal import Rehearsal, rehearsal_of
from tankside.problems import Problem, has_errors, in_order, unless_spoken


@dataclass(frozen=True)
class Checkup:
    """What was found."""

    #: None when the book could not be read
    book: Book | None
    #: by id; empty when the book has errors
    editions: Mapping[str, Edition]
    problems: tuple[Problem, ...]
    #: how many files were read
    count: int
    #: its dry runs; None when something more basic is wrong
    rehearsal: Rehearsal | None = None
    #: the words that must stand nowhere in what is made of it; none for the office
    secrets: Secrets = ()

    @property
    def is_sound(self) -> bool:
        """Whether the book has no errors, so that things may be made of it."""
        return not has_errors(self.problems)


def read_book(folder: Path) -> Checkup:
    """Read the book in a folder, and check what must be right before it can be rehearsed."""
    loaded = load(Folder(folder))
    if loaded.book is None:
        return Checkup(None, {}, loaded.problems, loaded.count)
    worked = WorkedBook(loaded.book)
    problems = [*loaded.problems, *unless_spoken(loaded.problems, amount_problems(worked))]
    problems.extend(confidential_problems(loaded.book))
    problems.extend(chart_problems(loaded.book.plant))
    rehearsal = None
    if not has_errors(problems):
        rehearsal = rehearsal_of(worked)
        problems.extend(contradictions(loaded.book.plant.materials))
        problems.extend(stray_exceptions(loaded.book))
    return Checkup(loaded.book, {}, in_order(problems), loaded.count, rehearsal)


def check_book(folder: Path, audience: Audience = Audience.FLOOR, against: str = "HEAD") -> Checkup:
    """Check the book in a folder; what readers get is compared with the commit `against` where there is one.

    Problems name what the book names. Everything else is what the audience gets: for the floor, codes in place of
    what is confidential.
    """
    read = read_book(folder)
    if read.rehearsal is None:
        return read
    problems = [*read.problems, *read.rehearsal.problems()]
    if has_errors(problems):
        return replace(read, problems=in_order(problems))
    real, rehearsal = read.rehearsal.worked, on_the_floor(read.rehearsal)
    floor, language = rehearsal.worked, str(real.book.plant.facts.languages[0])
    told = editions(floor, Audience.FLOOR, language)
    problems.extend(changed_under_same_revision(folder, told, against))
    declared = plant_sheets(floor.book.plant, titles_of(floor.book.procedures.values()))
    problems.extend(sheets_under_same_revision(folder, declared, against))
    problems.extend(exceptions_taken_out(folder, real.book.plant.facts, against))
    if audience is not Audience.FLOOR:
        return replace(read, editions=editions(real, audience, language), problems=in_order(problems))
    secrets = same_if_equal("secrets", secrets_of(real.book.plant))
    return Checkup(floor.book, told, in_order(problems), read.count, rehearsal, secrets)


def on_the_floor(rehearsal: Rehearsal) -> Rehearsal:
    """Return the dry runs as the floor gets them: the very same where nothing is confidential."""
    book = floor_book(rehearsal.worked.book)
    return rehearsal if book is rehearsal.worked.book else rehearsal_of(WorkedBook(book))

"""Everything that is found in a book before anything is made of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from tankside.catalogue import Book, load
from tankside.compute.amounts import WorkedBook
from tankside.compute.checking import amount_problems
from tankside.edition import Audience, Edition
from tankside.history import changed_under_same_revision, editions
from tankside.loading.sources import Folder
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

    @property
    def is_sound(self) -> bool:
        """Whether the book has no errors, so that things may be made of it."""
        return not has_errors(self.problems)


def check_book(folder: Path, audience: Audience = Audience.FLOOR, against: str = "HEAD") -> Checkup:
    """Check the book in a folder; what readers get is compared with the commit `against` where there is one."""
    loaded = load(Folder(folder))
    problems = list(loaded.problems)
    if loaded.book is None:
        return Checkup(None, {}, in_order(problems), loaded.count)
    worked = WorkedBook(loaded.book)
    problems.extend(unless_spoken(loaded.problems, amount_problems(worked)))
    if has_errors(problems):
        return Checkup(loaded.book, {}, in_order(problems), loaded.count)
    language = str(loaded.book.plant.facts.languages[0])
    floor = editions(worked, Audience.FLOOR, language)
    problems.extend(changed_under_same_revision(folder, floor, against))
    wanted = floor if audience is Audience.FLOOR else editions(worked, audience, language)
    return Checkup(loaded.book, wanted, in_order(problems), loaded.count)

"""What the verbs of `tankside training` look at: competence files, working copies, the book, a day."""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from functools import cached_property
from pathlib import Path
from typing import Any, TypeVar

import click

from tankside.audit.day import today
from tankside.cli.showing import book_option
from tankside.cli.training_book import TaughtBook, taught_book
from tankside.model.training import ALONE
from tankside.problems import Problem, in_order
from tankside.records.checking import check_files
from tankside.training.asking import Asked, stands
from tankside.training.competence import initials, is_same
from tankside.training.files import Read, read_competences
from tankside.training.goals import goals
from tankside.training.in_book import is_of, unknown_in
from tankside.training.people import Person, people
from tankside.training.standing import Standing
from tankside.training.uses import Use, days, uses

F = TypeVar("F", bound=Callable[..., Any])
#: a file, or a folder with files
FILE = click.Path(exists=True, readable=False, path_type=Path)
ENDING = ".json"
files_argument = click.argument("files", metavar="FILES...", nargs=-1, required=True, type=FILE)
records_option = click.option(
    "--records",
    type=FILE,
    multiple=True,
    help="A record file or a folder of them: who marked steps in a working copy has used the procedure. May be given "
    "several times.",
)
on_option = click.option("--on", type=click.DateTime(["%Y-%m-%d"]), help="The day that it is about.  [default: today]")
form_option = click.option(
    "--format",
    "form",
    type=click.Choice(["text", "csv", "json"]),
    default="text",
    show_default=True,
    help="How it is printed.",
)


def looking_at(verb: F) -> F:
    """Give a verb the arguments and options of all that look at competence files and print in several forms."""
    return book_records_on(form_option(verb))


def book_records_on(verb: F) -> F:
    """Give a verb the arguments and options of all that look at competence files."""
    for each in (on_option, records_option, book_option, files_argument):
        verb = each(verb)
    return verb


@dataclass(frozen=True)
class Given:
    """What was given on the command line."""

    files: tuple[Path, ...]
    folder: Path
    records: tuple[Path, ...] = ()
    on: datetime | None = None

    @property
    def day(self) -> str:
        """The day that it is about."""
        return (self.on.date() if self.on else today()).isoformat()


@dataclass(frozen=True)
class Opened:
    """What a verb looks at."""

    book: TaughtBook
    day: str
    people: tuple[Person, ...]
    uses: tuple[Use, ...]
    problems: tuple[Problem, ...]

    @cached_property
    def days(self) -> Mapping[tuple[str, str], frozenset[str]]:
        """The days of working copies by person and procedure."""
        return days(self.uses)

    def person(self, written: str) -> Person | None:
        """Return somebody by the initials."""
        return next((each for each in self.people if is_same(each.initials, written)), None)

    def goals(self, person: Person) -> Mapping[str, str]:
        """Return how far somebody is to come with which procedure."""
        return goals(self.book.plant.training, person.roles(self.day))

    def stands(self, person: Person, procedure: str, goal: str = ALONE) -> Standing:
        """Return how somebody's competence in a procedure of the book stands on the day."""
        found = self.book.procedures[procedure]
        worked = self.days.get((initials(person.initials), procedure), frozenset())
        return stands(person, Asked(found.taught, found.rules, self.day, goal), worked)

    def with_remarks(self, remarks: Iterable[Problem]) -> "Opened":
        """Return it with further remarks."""
        return replace(self, problems=in_order((*self.problems, *remarks)))


def opened(ctx: click.Context, given: Given) -> Opened:
    """Return what a verb looks at; leave when the book is not sound."""
    files, records = (tuple(in_folders(each)) for each in (given.files, given.records))
    book = taught_book(ctx, given.folder)
    read, checked = read_competences(files), check_files(records)
    own = [each for each in checked.records if each.copy.script.edition["book"] == book.plant.facts.book]
    everybody, remarks = _of_book(read, book)
    return Opened(book, given.day, everybody, uses(own), in_order((*read.problems, *checked.problems, *remarks)))


def _of_book(read: Read, book: TaughtBook) -> tuple[tuple[Person, ...], list[Problem]]:
    records = [record for person in read.people for record in person.records]
    return people(each for each in records if is_of(each, book.book)), list(unknown_in(records, book.book))


def in_folders(paths: Collection[Path]) -> Iterator[Path]:
    """Return files; for a folder those in it, and in the folders in it, that are JSON.

    Raises:
        click.UsageError: there are none in a folder.
    """
    for path in paths:
        if not path.is_dir():
            yield path
            continue
        found = sorted(each for each in path.rglob(f"*{ENDING}") if each.is_file())
        if not found:
            raise click.UsageError(f"no file in {path} ends in {ENDING}")
        yield from found

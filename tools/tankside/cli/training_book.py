"""A sound book as it is taught: each procedure with its parts, its steps in words, and when a competence lapses."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import click

from tankside.catalogue import Book
from tankside.checkup import check_book
from tankside.cli.showing import show_problems, summary
from tankside.edition import Edition
from tankside.edition.sheets import SheetEdition, sheet_editions
from tankside.model.facts import Plant
from tankside.model.procedures import Procedure
from tankside.texts import words
from tankside.training.lapsing import rules_of
from tankside.training.standing import Rules
from tankside.training.taught import Taught
from tankside.views.procedures import ProcedureView, procedure_view
from tankside.views.steps import Entry
from tankside.views.training.teaching import said, taught_of


@dataclass(frozen=True)
class TaughtProcedure:
    """A procedure as it is taught."""

    procedure: Procedure
    taught: Taught
    rules: Rules
    shown: ProcedureView

    @property
    def title(self) -> str:
        """Its title."""
        return self.taught.title

    @cached_property
    def steps(self) -> Mapping[str, str]:
        """Key of a step -> its number and words: `9 (Start P1)`."""
        return {f"step:{each.name}": f"{each.number} ({said(each.words)})" for each in self._entries()}

    def step(self, name: str) -> tuple[str, str]:
        """Return the number and the words of a step."""
        return next((each.number, said(each.words)) for each in self._entries() if each.name == name)

    def _entries(self) -> Iterator[Entry]:
        return (each for section in self.shown.sections for each in _steps(section.entries))


@dataclass(frozen=True)
class TaughtBook:
    """A sound book as the floor is taught it."""

    folder: Path
    book: Book
    editions: Mapping[str, Edition]

    @property
    def plant(self) -> Plant:
        """The facts of its plant."""
        return self.book.plant

    @cached_property
    def procedures(self) -> Mapping[str, TaughtProcedure]:
        """Its procedures, by id."""
        return {
            name: taught_procedure(edition, self.plant)
            for name, edition in self.editions.items()
            if isinstance(edition.written, Procedure)
        }

    @property
    def sheets(self) -> Mapping[str, SheetEdition]:
        """Its sheets, by id."""
        return sheet_editions(self.plant, self.editions)


def taught_procedure(edition: Edition, plant: Plant) -> TaughtProcedure:
    """Return a procedure as it is taught, in the first language of the book."""
    procedure = edition.written
    assert isinstance(procedure, Procedure)
    say = words(str(plant.facts.languages[0]))
    shown = procedure_view(edition, plant.facts, say, is_laminated=False)
    return TaughtProcedure(procedure, taught_of(edition, shown), rules_of(plant.training, procedure), shown)


def taught_book(ctx: click.Context, folder: Path) -> TaughtBook:
    """Return a book as it is taught; leave with its problems when it is not sound."""
    checkup = check_book(folder)
    if not checkup.is_sound or checkup.book is None:
        show_problems(checkup.problems, err=True)
        click.echo(f"{summary(checkup)}. Nothing can be said before that is mended.", err=True)
        ctx.exit(1 if checkup.count else 2)
    return TaughtBook(folder, checkup.book, checkup.editions)


def _steps(entries: Iterable[Entry]) -> Iterator[Entry]:
    for entry in entries:
        if entry.form == "step":
            yield entry
        yield from _steps(entry.entries)
        for branch in entry.branches:
            yield from _steps(branch.entries)

"""The sheets of a book: one PDF each, laid out unless it was before."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from tankside.edition.sheets import SheetEdition
from tankside.memory import remembered, same_if_equal
from tankside.model.facts import BookFacts, Plant
from tankside.problems import Problem
from tankside.render_print.draft import Draft
from tankside.render_print.drafting.drafts import OF_EDITION, draft_of, edition_draft
from tankside.render_print.drafting.setting import Setting
from tankside.render_print.engine import Engine, SheetFailedError
from tankside.render_print.press import Failure, Job, lay_out
from tankside.render_print.shelf import Shelf
from tankside.render_print.statement import statement
from tankside.render_print.trouble import sheet_problems
from tankside.texts import Words, words
from tankside.views.audit import AuditView, StampView


@dataclass(frozen=True)
class Made:
    """What came of laying sheets out."""

    #: id -> where the sheet is kept
    places: Mapping[str, Path]
    #: why others could not be laid out
    problems: tuple[Problem, ...]


@dataclass(frozen=True)
class SheetMaker:
    """Makes the sheets of one book."""

    engine: Engine
    #: name -> data of every picture of the book
    pictures: Mapping[str, bytes]
    plant: Plant
    language: str
    #: what stands on the procedures and checklists that are not for use, by id
    stamps: Mapping[str, StampView]
    #: how many processes lay out at a time; as many as there are processors where it is None
    most_processes: int | None = None

    @cached_property
    def say(self) -> Words:
        """The words of the interface."""
        return words(self.language)

    def setting(self, sheet: SheetEdition) -> Setting:
        """Return what the draft of a sheet is made with: of all stamps, only those that it shows."""
        return Setting(self.plant.facts, self.pictures, self.language, _stamped(self.stamps, sheet))

    def draft(self, sheet: SheetEdition) -> Draft:
        """Return a sheet before it is laid out.

        Raises:
            SheetFailedError: a picture is missing.
        """
        made_with = (self.plant.facts, self.pictures, self.language, _stamped(self.stamps, sheet), sheet)
        return _of_edition(*made_with) if sheet.kind in OF_EDITION else _of_plant(*made_with, self.plant)

    def make_all(self, sheets: Iterable[SheetEdition], shelf: Shelf, tell: Callable[[str], None]) -> Made:
        """Lay out the sheets that are not on the shelf yet."""
        drafts, failures = {}, {}
        by_id = {sheet.id: sheet for sheet in sheets}
        for name, sheet in by_id.items():
            try:
                drafts[name] = self.draft(sheet)
            except SheetFailedError as error:
                failures[name] = Failure((), str(error))
        places = {name: shelf.place(f"{self.engine.version}-{draft.digest}") for name, draft in drafts.items()}
        jobs = [Job(drafts[name], place) for name, place in places.items() if not place.is_file()]
        failures |= lay_out(jobs, self.engine, tell, self.most_processes)
        problems = [each for name in failures for each in sheet_problems(by_id[name], failures[name])]
        return Made({name: place for name, place in places.items() if name not in failures}, tuple(problems))

    def make_statement(self, view: AuditView, shelf: Shelf, tell: Callable[[str], None]) -> Path:
        """Lay out the statement of an audit unless it is on the shelf; return where it is kept.

        Raises:
            SheetFailedError: it could not be laid out.
        """
        draft = statement(view, self.plant.facts, self.say, self.language)
        place = shelf.place(f"{self.engine.version}-{draft.digest}")
        if not place.is_file() and (failed := lay_out((Job(draft, place),), self.engine, tell)):
            raise SheetFailedError(failed[draft.name].message)
        return place

    def pdf(self, sheet: SheetEdition) -> bytes:
        """Return a sheet.

        Raises:
            SheetFailedError: it could not be laid out.
        """
        return self.engine.pdf(self.draft(sheet))


def _stamped(stamps: Mapping[str, StampView], sheet: SheetEdition) -> Mapping[str, StampView]:
    """Return the stamps that a sheet shows: that of what it is of, and those of its parts."""
    edition = sheet.edition
    shown = set() if edition is None else {edition.id, *(part.procedure for part in edition.parts)}
    return same_if_equal(f"stamps of {sheet.id}", {name: each for name, each in stamps.items() if name in shown})


# The parts of a setting one by one: each is one object for as long as nothing in it has changed.


@remembered
def _of_edition(
    facts: BookFacts, pictures: Mapping[str, bytes], language: str, stamps: Mapping[str, StampView], sheet: SheetEdition
) -> Draft:
    return edition_draft(Setting(facts, pictures, language, stamps), sheet)


@remembered
def _of_plant(
    facts: BookFacts,
    pictures: Mapping[str, bytes],
    language: str,
    stamps: Mapping[str, StampView],
    sheet: SheetEdition,
    plant: Plant,
) -> Draft:
    return draft_of(Setting(facts, pictures, language, stamps), sheet, plant)

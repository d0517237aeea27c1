"""Step sheets: one PDF for each procedure and checklist, made from the same views as the pages."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path, PurePosixPath

from tankside.drawing.marks import mark_svg
from tankside.drawing.signs import sign_svg
from tankside.edition import Edition
from tankside.loading.sources import PICTURES
from tankside.memory import remembered, same_if_equal
from tankside.model.facts import BookFacts
from tankside.model.procedures import Procedure
from tankside.render_print.draft import Draft
from tankside.render_print.engine import Engine, SheetFailedError, SheetMisfitError, data_address
from tankside.render_print.frame import frame
from tankside.render_print.grouping import aids, meetings, part_groups
from tankside.render_print.reading import STEP_SHEET_MM
from tankside.render_print.shelf import Shelf
from tankside.render_print.statement import statement
from tankside.templating import Medium, rendered
from tankside.texts import Words, words
from tankside.views.audit import AuditView, StampView
from tankside.views.procedures import ChecklistView, ProcedureView, checklist_view, procedure_view

KINDS = {".svg": "image/svg+xml", ".png": "image/png", ".jpg": "image/jpeg"}


@dataclass(frozen=True)
class SheetMaker:
    """Makes the sheets of one book."""

    engine: Engine
    #: name -> data of every picture of the book
    pictures: Mapping[str, bytes]
    facts: BookFacts
    language: str
    #: what stands on the procedures and checklists that are not for use, by id
    stamps: Mapping[str, StampView]

    @cached_property
    def say(self) -> Words:
        """The words of the interface."""
        return words(self.language)

    def make_all(self, editions: Iterable[Edition], shelf: Shelf, tell: Callable[[str], None]) -> Mapping[str, Path]:
        """Lay out the sheets that are not on the shelf yet; return where each one is kept, by the edition's id.

        Raises:
            SheetFailedError: a sheet could not be laid out.
        """
        made = {}
        for edition in editions:
            stamps = _stamped(self.stamps, edition)
            draft = _drafted(self.facts, self.say, self.language, self.pictures, stamps, edition)
            made[draft.name] = self._kept(draft, shelf, tell)
        return made

    def make_statement(self, view: AuditView, shelf: Shelf, tell: Callable[[str], None]) -> Path:
        """Lay out the statement of an audit unless it is on the shelf; return where it is kept.

        Raises:
            SheetFailedError: it could not be laid out.
        """
        return self._kept(statement(view, self.facts, self.say, self.language), shelf, tell)

    def _kept(self, draft: Draft, shelf: Shelf, tell: Callable[[str], None]) -> Path:
        place = shelf.place(f"{self.engine.version}-{draft.digest}")
        if not place.is_file():
            tell(f"sheet {draft.name}")
            shelf.put(place, self._laid_out(draft))
        return place

    def pdf(self, edition: Edition) -> bytes:
        """Return the sheet of an edition.

        Raises:
            SheetFailedError: it could not be laid out.
        """
        return self.lay_out(self.view(edition))

    def view(self, edition: Edition) -> ProcedureView | ChecklistView:
        """Return what the sheet of an edition shows."""
        return _view(edition, self.facts, self.say)

    def lay_out(self, view: ProcedureView | ChecklistView) -> bytes:
        """Return a sheet.

        Raises:
            SheetFailedError: it could not be laid out.
        """
        return self._laid_out(_draft(view, self.facts, self.say, self.language, self.pictures, self.stamps))

    def _laid_out(self, draft: Draft) -> bytes:
        try:
            return self.engine.pdf(draft.html, draft.style, draft.name)
        except SheetMisfitError:
            # A sheet for an emergency that is too long to be read from afar is still better than none.
            return self.engine.pdf(draft.html, draft.nearer, draft.name)


def _stamped(stamps: Mapping[str, StampView], edition: Edition) -> Mapping[str, StampView]:
    """Return the stamps that a sheet shows: its own and those of its parts."""
    shown = {edition.id, *(part.procedure for part in edition.parts)}
    return same_if_equal(f"stamps of {edition.id}", {name: each for name, each in stamps.items() if name in shown})


@remembered
def _drafted(
    facts: BookFacts,
    say: Words,
    language: str,
    pictures: Mapping[str, bytes],
    stamps: Mapping[str, StampView],
    edition: Edition,
) -> Draft:
    return _draft(_view(edition, facts, say), facts, say, language, pictures, stamps)


def _view(edition: Edition, facts: BookFacts, say: Words) -> ProcedureView | ChecklistView:
    show = procedure_view if isinstance(edition.written, Procedure) else checklist_view
    return show(edition, facts, say, is_laminated=True)


def _draft(
    view: ProcedureView | ChecklistView,
    facts: BookFacts,
    say: Words,
    language: str,
    pictures: Mapping[str, bytes],
    stamps: Mapping[str, StampView],
) -> Draft:
    name = view.control.id
    around = frame(view, facts, say, f"{say('stamp')}: " if stamps else "")
    stamped = {"stamp": stamps.get(name), "stamps": stamps, "rule": None}
    given = {"m": medium(say, name, pictures), "facts": facts, "language": language, "view": view, **stamped}
    if isinstance(view, ProcedureView):
        found, first_aid = meetings(view.hazards), aids(view.first_aid)
        html = rendered("sheet-procedure.html", meetings=found, aids=first_aid, **given)
    elif view.lists_steps:
        html = rendered("sheet-steps.html", groups=part_groups(view.parts), **given)
    else:
        html = rendered("sheet-titles.html", **given)
    return Draft(name, str(html), around.style(), around.style(STEP_SHEET_MM))


def medium(say: Words, sheet: str, pictures: Mapping[str, bytes]) -> Medium:
    """Return how pieces of a template find things on a sheet: all inside it, nothing to follow."""
    return Medium(
        say=say,
        sign=lambda code: data_address("image/svg+xml", sign_svg(code).encode("utf-8")),
        mark=lambda name: data_address("image/svg+xml", mark_svg(name).encode("utf-8")),
        picture=lambda name: _picture(sheet, pictures, name),
        link=lambda _: None,
        is_paper=True,
    )


def _picture(sheet: str, pictures: Mapping[str, bytes], name: str) -> str:
    kind = KINDS.get(PurePosixPath(name).suffix)
    if kind is None:
        raise SheetFailedError(f"sheet '{sheet}': picture '{name}' is none of {', '.join(KINDS)}")
    if name not in pictures:
        raise SheetFailedError(f"sheet '{sheet}': picture '{name}' cannot be read from {PICTURES}")
    return data_address(kind, pictures[name])

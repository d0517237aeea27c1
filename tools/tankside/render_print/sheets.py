"""Step sheets: one PDF for each procedure and checklist, made from the same views as the pages."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from tankside.drawing.marks import mark_svg
from tankside.drawing.signs import sign_svg
from tankside.edition import Edition
from tankside.loading.sources import PICTURES
from tankside.model.facts import BookFacts
from tankside.model.procedures import Procedure
from tankside.render_print.engine import Engine, SheetFailedError, SheetMisfitError, data_address
from tankside.render_print.frame import frame
from tankside.render_print.grouping import aids, meetings, part_groups
from tankside.render_print.reading import STEP_SHEET_MM
from tankside.templating import Medium, rendered
from tankside.texts import Words, words
from tankside.views.procedures import ChecklistView, ProcedureView, checklist_view, procedure_view

KINDS = {".svg": "image/svg+xml", ".png": "image/png", ".jpg": "image/jpeg"}


@dataclass(frozen=True)
class SheetMaker:
    """Makes the sheets of one book."""

    engine: Engine
    folder: Path
    facts: BookFacts
    language: str

    @cached_property
    def say(self) -> Words:
        """The words of the interface."""
        return words(self.language)

    def medium(self, sheet: str) -> Medium:
        """Return how pieces of a template find things on a sheet: all inside it, nothing to follow."""
        return Medium(
            say=self.say,
            sign=lambda code: data_address("image/svg+xml", sign_svg(code).encode("utf-8")),
            mark=lambda name: data_address("image/svg+xml", mark_svg(name).encode("utf-8")),
            picture=lambda name: self._picture(sheet, name),
            link=lambda _: None,
            is_paper=True,
        )

    def _picture(self, sheet: str, name: str) -> str:
        path = self.folder / PICTURES / name
        try:
            return data_address(KINDS[path.suffix], path.read_bytes())
        except KeyError as error:
            raise SheetFailedError(f"sheet '{sheet}': picture '{name}' is none of {', '.join(KINDS)}") from error
        except OSError as error:
            raise SheetFailedError(f"sheet '{sheet}': picture '{name}' cannot be read from {PICTURES}") from error

    def write_all(self, editions: Iterable[Edition], into: Path, tell: Callable[[str], None]) -> tuple[Path, ...]:
        """Write the sheet of each edition into a folder, named by its id, and return the files.

        Raises:
            SheetFailedError: a sheet could not be laid out.
        """
        into.mkdir(parents=True, exist_ok=True)
        made = []
        for edition in editions:
            name = edition.id
            tell(f"sheet {name}")
            path = into / f"{name}.pdf"
            path.write_bytes(self.pdf(edition))
            made.append(path)
        return tuple(made)

    def pdf(self, edition: Edition) -> bytes:
        """Return the sheet of an edition.

        Raises:
            SheetFailedError: it could not be laid out.
        """
        return self.lay_out(self.view(edition))

    def view(self, edition: Edition) -> ProcedureView | ChecklistView:
        """Return what the sheet of an edition shows."""
        show = procedure_view if isinstance(edition.written, Procedure) else checklist_view
        return show(edition, self.facts, self.say, is_laminated=True)

    def lay_out(self, view: ProcedureView | ChecklistView) -> bytes:
        """Return a sheet.

        Raises:
            SheetFailedError: it could not be laid out.
        """
        html, around, name = self._html(view), frame(view, self.facts, self.say), view.control.id
        try:
            return self.engine.pdf(html, around.style(), name)
        except SheetMisfitError:
            # A sheet for an emergency that is too long to be read from afar is still better than none.
            return self.engine.pdf(html, around.style(STEP_SHEET_MM), name)

    def _html(self, view: ProcedureView | ChecklistView) -> str:
        given = {"m": self.medium(view.control.id), "facts": self.facts, "language": self.language, "view": view}
        if isinstance(view, ProcedureView):
            hazards, first_aid = meetings(view.hazards), aids(view.first_aid)
            return rendered("sheet-procedure.html", meetings=hazards, aids=first_aid, **given)
        if view.lists_steps:
            return rendered("sheet-steps.html", groups=part_groups(view.parts), **given)
        return rendered("sheet-titles.html", **given)

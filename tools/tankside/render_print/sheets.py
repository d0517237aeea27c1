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
from tankside.render_print.engine import Engine, data_address
from tankside.render_print.reading import STEP_SHEET_MM, type_size
from tankside.templating import Medium, rendered
from tankside.texts import Words, words
from tankside.views.procedures import checklist_view, procedure_view

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

    @cached_property
    def medium(self) -> Medium:
        """How pieces of a template find things on paper: everything inside the document, nothing to follow."""
        return Medium(
            say=self.say,
            sign=lambda code: data_address("image/svg+xml", sign_svg(code).encode("utf-8")),
            mark=lambda name: data_address("image/svg+xml", mark_svg(name).encode("utf-8")),
            picture=self._picture,
            link=lambda _: None,
            is_paper=True,
        )

    def _picture(self, name: str) -> str:
        path = self.folder / PICTURES / name
        return data_address(KINDS[path.suffix], path.read_bytes())

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
        return self.engine.pdf(self.html(edition), self._page_style(), edition.id)

    def html(self, edition: Edition) -> str:
        """Return the sheet of an edition before it is laid out."""
        given = {"m": self.medium, "facts": self.facts, "language": self.language}
        if isinstance(edition.written, Procedure):
            view = procedure_view(edition, self.facts, self.say, is_laminated=True)
            return rendered("sheet-procedure.html", view=view, **given)
        return rendered(
            "sheet-checklist.html", view=checklist_view(edition, self.facts, self.say, is_laminated=True), **given
        )

    def _page_style(self) -> str:
        size = f"@page {{ size: {self.facts.paper}; }}"
        page_of = self.say("page", page='" counter(page) "', pages='" counter(pages) "')
        number = f'@page {{ @bottom-right {{ content: "{page_of}"; }} }}'
        return f"{size} {number} :root {{ font-size: {type_size(STEP_SHEET_MM)}pt; }}"

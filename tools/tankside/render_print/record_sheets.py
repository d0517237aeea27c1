"""Record sheets: a procedure or checklist to carry out with a pen, one PDF for each serial."""

from collections.abc import Mapping
from dataclasses import dataclass
from importlib.resources import files

from tankside.model.facts import Plant
from tankside.render_print.draft import Draft
from tankside.render_print.engine import Engine
from tankside.render_print.grouping import PartGroup, part_groups
from tankside.render_print.record_frame import record_frame
from tankside.render_print.sheets import medium
from tankside.templating import rendered
from tankside.texts import words
from tankside.views.audit import StampView
from tankside.views.procedures import ChecklistView, PartView, ProcedureView
from tankside.views.record_sheets import SheetOrder, record_sheet_view

#: lines for people
PEOPLE = 4


@dataclass(frozen=True)
class RecordSheetMaker:
    """Makes the record sheets of one book."""

    engine: Engine
    #: name -> data of every picture of the book
    pictures: Mapping[str, bytes]
    plant: Plant
    language: str
    #: what stands on the procedures and checklists that are not for use, by id
    stamps: Mapping[str, StampView]

    def pdf(self, order: SheetOrder) -> bytes:
        """Return a record sheet; the same order gives the same bytes.

        Raises:
            SheetFailedError: it could not be laid out.
        """
        draft = self.draft(order)
        return self.engine.pdf(draft.html, draft.style, draft.name)

    def draft(self, order: SheetOrder) -> Draft:
        """Return a record sheet before it is laid out."""
        say, facts, name = words(self.language), self.plant.facts, order.edition.id
        view = record_sheet_view(order, facts, say)
        is_draft = name in self.stamps
        html = rendered(
            "sheet-record.html",
            m=medium(say, name, self.pictures),
            view=view,
            groups=_groups(view.shown),
            is_checklist=isinstance(view.shown, ChecklistView),
            is_draft=is_draft,
            stamps=self.stamps,
            language=self.language,
            roles=tuple(str(role.name) for role in self.plant.roles.roles.values()),
            people=PEOPLE,
        )
        around = record_frame(view, facts, say, f"{say('stamp')}: " if is_draft else "")
        style = f"{around.style()} {_own_style()}"
        return Draft(name, str(html), style, style)


def _own_style() -> str:
    return (files("tankside") / "assets" / "print" / "record.css").read_text(encoding="utf-8")


def _groups(view: ProcedureView | ChecklistView) -> tuple[PartGroup, ...]:
    """Return the procedures on a sheet with their parts; a procedure is the only part of its own."""
    if isinstance(view, ChecklistView):
        return part_groups(view.parts)
    only = PartView(view.control.id, view.control.title, None, view, view.sections)
    return (PartGroup(view, (only,), ()),)

"""Record sheets: a procedure or checklist to carry out with a pen, one PDF for each serial."""

from dataclasses import dataclass
from importlib.resources import files

from tankside.render_print.draft import Draft
from tankside.render_print.grouping import PartGroup, part_groups
from tankside.render_print.media import medium
from tankside.render_print.paper import Paper
from tankside.render_print.record_frame import record_frame
from tankside.render_print.sheets import SheetMaker
from tankside.templating import rendered
from tankside.views.procedures import ChecklistView, PartView, ProcedureView
from tankside.views.record_sheets import SheetOrder, record_sheet_view

#: lines for people
PEOPLE = 4


@dataclass(frozen=True)
class RecordSheetMaker:
    """Makes the record sheets of one book."""

    sheets: SheetMaker

    def pdf(self, order: SheetOrder) -> bytes:
        """Return a record sheet; the same order gives the same bytes.

        Raises:
            SheetFailedError: it could not be laid out.
        """
        draft = self.draft(order)
        return self.sheets.engine.pdf(draft)

    def draft(self, order: SheetOrder) -> Draft:
        """Return a record sheet before it is laid out."""
        maker, name = self.sheets, order.edition.id
        say, facts = maker.say, maker.plant.facts
        view = record_sheet_view(order, facts, say)
        is_draft = name in maker.stamps
        html = rendered(
            "sheet-record.html",
            m=medium(say, name, maker.pictures),
            view=view,
            groups=_groups(view.shown),
            is_checklist=isinstance(view.shown, ChecklistView),
            is_draft=is_draft,
            stamps=maker.stamps,
            language=maker.language,
            roles=tuple(str(role.name) for role in maker.plant.roles.roles.values()),
            people=PEOPLE,
        )
        around = record_frame(view, Paper(str(facts.paper)), say, is_draft=is_draft)
        return Draft(name, str(html), f"{around.style} {_own_style()}")


def _own_style() -> str:
    return (files("tankside") / "assets" / "print" / "record.css").read_text(encoding="utf-8")


def _groups(view: ProcedureView | ChecklistView) -> tuple[PartGroup, ...]:
    """Return the procedures on a sheet with their parts; a procedure is the only part of its own."""
    if isinstance(view, ChecklistView):
        return part_groups(view.parts)
    only = PartView(view.control.id, view.control.title, None, view, view.sections)
    return (PartGroup(view, (only,), ()),)

"""Step sheets: all that the page of a procedure or checklist shows, and boxes to tick."""

from dataclasses import replace

from tankside.edition import Edition
from tankside.edition.sheets import SheetEdition
from tankside.model.facts import BookFacts
from tankside.model.procedures import Procedure
from tankside.render_print.draft import Draft
from tankside.render_print.drafting.setting import Setting
from tankside.render_print.frame import around
from tankside.render_print.grouping import aids, hazard_groups, meetings, part_groups
from tankside.texts import Words
from tankside.views.procedures import ChecklistView, ProcedureView, checklist_view, procedure_view


def sheet_view(edition: Edition, facts: BookFacts, say: Words) -> ProcedureView | ChecklistView:
    """Return what a sheet shows of a procedure or checklist."""
    show = procedure_view if isinstance(edition.written, Procedure) else checklist_view
    return show(edition, facts, say, is_laminated=True)


def step_sheet(setting: Setting, sheet: SheetEdition) -> Draft:
    """Return the step sheet of a procedure or checklist."""
    assert sheet.edition is not None
    view = sheet_view(sheet.edition, setting.facts, setting.say)
    return step_sheet_of(setting, sheet, view)


def step_sheet_of(setting: Setting, sheet: SheetEdition, view: ProcedureView | ChecklistView) -> Draft:
    """Return a step sheet that shows a given view."""
    shown = around(view, is_draft=bool(setting.stamps))
    shown = replace(shown, control=replace(shown.control, id=sheet.id))
    given = {"m": setting.medium(sheet, has_boxes=True), "view": view}
    if isinstance(view, ProcedureView):
        groups = {
            "meetings": meetings(view.hazards),
            "aids": aids(view.first_aid),
            "hazards": hazard_groups(view.hazards),
        }
        html = setting.filled("sheet-procedure.html", sheet, shown, **groups, **given)
    elif view.lists_steps:
        html = setting.filled("sheet-steps.html", sheet, shown, groups=part_groups(view.parts), **given)
    else:
        html = setting.filled("sheet-titles.html", sheet, shown, **given)
    return setting.draft(sheet, setting.frame(sheet, shown), html)

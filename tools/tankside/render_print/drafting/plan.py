"""Sheets of training: the plan of a path, what is gone through before anything is touched, what a visitor is told."""

from tankside.edition.sheets import SheetEdition
from tankside.model.facts import Plant
from tankside.render_print.draft import Draft
from tankside.render_print.drafting.setting import Setting
from tankside.render_print.frame import Around
from tankside.views.sheets.plan import plan_view, visitor_view

#: a visitor's half page, this many times on one page
HALVES = 2


def plan_sheet(setting: Setting, sheet: SheetEdition, plant: Plant) -> Draft:
    """Return the plan of a path by day, or its induction sheet, with places to sign."""
    view = plan_view(sheet, plant, setting.say)
    shown = Around(view.control, view.scenario, marks="marks-training")
    around = setting.frame(sheet, shown)
    law = str(plant.facts.jurisdiction)
    return setting.draft(sheet, around, setting.filled("sheet-plan.html", sheet, shown, view=view, law=law))


def visitor_sheet(setting: Setting, sheet: SheetEdition, plant: Plant) -> Draft:
    """Return what a visitor is told, twice on a page that is cut in two."""
    view = visitor_view(sheet, plant, setting.say)
    shown = Around(view.control, view.scenario, marks="marks-visitor")
    around = setting.frame(sheet, shown)
    return setting.draft(sheet, around, setting.filled("sheet-visitor.html", sheet, shown, view=view, halves=HALVES))

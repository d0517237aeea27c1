"""The draft of any sheet."""

from tankside.edition.sheets import SheetEdition
from tankside.model.facts import Plant
from tankside.model.sheets import BANNER, STEP_SHEET, WALL_SHEET
from tankside.render_print.draft import Draft
from tankside.render_print.drafting.plan import plan_sheet, visitor_sheet
from tankside.render_print.drafting.plant import chart_sheet, container_label, plant_sheet
from tankside.render_print.drafting.procedures import banner, lockout_sheet, training_sheet, wall_sheet
from tankside.render_print.drafting.setting import Setting
from tankside.render_print.drafting.steps import step_sheet

#: kinds of which everything stands in the edition of a procedure or checklist
OF_EDITION = (STEP_SHEET, WALL_SHEET, BANNER)


def edition_draft(setting: Setting, sheet: SheetEdition) -> Draft:
    """Return the draft of a sheet of one of OF_EDITION."""
    if sheet.kind == WALL_SHEET:
        return wall_sheet(setting, sheet)
    return banner(setting, sheet) if sheet.kind == BANNER else step_sheet(setting, sheet)


def draft_of(setting: Setting, sheet: SheetEdition, plant: Plant) -> Draft:
    """Return the draft of a sheet of any kind that is laid out by itself."""
    match sheet.kind:
        case "lockout-sheet":
            return lockout_sheet(setting, sheet, plant)
        case "training-sheet":
            return training_sheet(setting, sheet, plant)
        case "chart-sheet":
            return chart_sheet(setting, sheet, plant)
        case "container-label":
            return container_label(setting, sheet, plant)
        case "plant-sheet":
            return plant_sheet(setting, sheet, plant)
        case "plan-sheet" | "induction-sheet":
            return plan_sheet(setting, sheet, plant)
        case "visitor-sheet":
            return visitor_sheet(setting, sheet, plant)
    return edition_draft(setting, sheet)

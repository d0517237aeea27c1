"""The draft of any sheet."""

from tankside.edition.sheets import SheetEdition
from tankside.model.facts import Plant
from tankside.render_print.draft import Draft
from tankside.render_print.drafting.plant import chart_sheet, container_label, plant_sheet
from tankside.render_print.drafting.procedures import banner, lockout_sheet, training_sheet, wall_sheet
from tankside.render_print.drafting.setting import Setting
from tankside.render_print.drafting.steps import step_sheet


def draft_of(setting: Setting, sheet: SheetEdition, plant: Plant) -> Draft:
    """Return the draft of a sheet."""
    match sheet.kind:
        case "step-sheet":
            return step_sheet(setting, sheet)
        case "wall-sheet":
            return wall_sheet(setting, sheet)
        case "banner":
            return banner(setting, sheet)
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
    raise AssertionError(f"no draft of a {sheet.kind}")

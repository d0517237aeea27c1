"""Sheets of a path of training, and what a visitor is told."""

from dataclasses import dataclass

from tankside.edition.sheets import SheetEdition
from tankside.edition.shown import key
from tankside.model.facts import Plant
from tankside.model.training import Path, Visitor
from tankside.texts import Words
from tankside.views.procedures import Control
from tankside.views.sheets.control import plant_control
from tankside.views.sheets.listing import sheet_title
from tankside.views.training.paths import PathView, path_view


@dataclass(frozen=True)
class PlanView:
    """What a plan or an induction sheet shows."""

    control: Control
    scenario: str | None
    path: PathView
    is_induction: bool


@dataclass(frozen=True)
class WornView:
    """The code of a sign, and what is worn."""

    sign: str
    name: str


@dataclass(frozen=True)
class VisitorView:
    """What a visitor's sheet shows."""

    control: Control
    scenario: str | None
    says: tuple[str, ...]
    wear: tuple[WornView, ...]
    number: str
    meeting_point: str


def plan_view(sheet: SheetEdition, plant: Plant, say: Words) -> PlanView:
    """Return the plan of a path: all its parts, and of an induction sheet those in which nothing is touched."""
    path = sheet.teaches
    assert isinstance(path, Path)
    is_induction = sheet.kind == "induction-sheet"
    shown = path_view(plant, str(sheet.entry.of), sheet.facts, say)
    if is_induction:
        shown = shown.hands_off
    control = plant_control(sheet, sheet_title(sheet, plant, say), plant)
    return PlanView(control, plant.facts.scenario, shown, is_induction)


def visitor_view(sheet: SheetEdition, plant: Plant, say: Words) -> VisitorView:
    """Return what a visitor is told."""
    visitor = sheet.teaches
    assert isinstance(visitor, Visitor)
    worn = (plant.equipment.protective_equipment[key(str(each))] for each in visitor.wear)
    return VisitorView(
        control=plant_control(sheet, sheet_title(sheet, plant, say), plant),
        scenario=plant.facts.scenario,
        says=tuple(map(str, visitor.says)),
        wear=tuple(WornView(str(each.sign), str(each.name)) for each in worn),
        number=str(plant.facts.emergency_number),
        meeting_point=str(plant.facts.meeting_point),
    )

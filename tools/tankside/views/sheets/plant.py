"""The plant sheet: the line diagram, and where each tag is found."""

from collections.abc import Iterator
from dataclasses import dataclass

from tankside.edition.sheets import SheetEdition
from tankside.model.facts import Plant
from tankside.plant.parts import plant_of
from tankside.plant.sides import sides
from tankside.texts import Words
from tankside.views.line_diagram import LineDiagram, line_diagram
from tankside.views.procedures import Control
from tankside.views.sheets.control import plant_control
from tankside.views.sheets.listing import sheet_title
from tankside.views.sides import side_name


@dataclass(frozen=True)
class TagRow:
    """A tag, and where it is found."""

    tag: str
    name: str
    where: str


@dataclass(frozen=True)
class PlantView:
    """What a plant sheet shows."""

    control: Control
    scenario: str | None
    #: title and drawing: the whole plant, then each side of it where there are several
    drawings: tuple[tuple[str, LineDiagram], ...]
    rows: tuple[TagRow, ...]


def plant_view(sheet: SheetEdition, plant: Plant, say: Words) -> PlantView:
    """Return the sheet of a plant."""
    return PlantView(
        control=plant_control(sheet, sheet_title(sheet, plant, say), plant),
        scenario=plant.facts.scenario,
        drawings=tuple(_drawings(plant, say)),
        rows=tuple(TagRow(tag, each.name, each.where or "") for tag, each in sheet.drawn.items()),
    )


def _drawings(plant: Plant, say: Words) -> Iterator[tuple[str, LineDiagram]]:
    yield say("line-diagram-whole"), line_diagram(plant.equipment, plant.materials, say)
    found = sides(plant_of(plant.equipment))
    for side in found if len(found) > 1 else ():
        drawing = line_diagram(plant.equipment, plant.materials, say, only=side)
        yield side_name(plant.equipment, side, say), drawing

"""The label of a container that is filled in the workshop (29 CFR 1910.1200(f)(6))."""

from dataclasses import dataclass

from tankside.edition.sheets import SheetEdition
from tankside.edition.shown import key
from tankside.model.facts import Plant
from tankside.texts import Words
from tankside.views.procedures import Control
from tankside.views.sheets.control import plant_control
from tankside.views.sheets.listing import sheet_title


@dataclass(frozen=True)
class LabelView:
    """What stands on a label: the product's name, and words and pictures of its hazards."""

    control: Control
    scenario: str | None
    name: str
    signal_word: str | None
    pictograms: tuple[str, ...]
    #: hazard statements; in plain words where the material has none
    says: tuple[str, ...]
    #: what it must never meet
    never: tuple[str, ...]
    #: where its data sheet is found
    data_sheet: str


def label_view(sheet: SheetEdition, plant: Plant, say: Words) -> LabelView:
    """Return the label of a material."""
    material = sheet.material
    assert material is not None
    written = plant.materials.materials[key(str(sheet.entry.of))]
    says = tuple(str(each.says) for each in material.hazards)
    return LabelView(
        control=plant_control(sheet, sheet_title(sheet, plant, say), plant),
        scenario=plant.facts.scenario,
        name=str(material.name),
        signal_word=material.signal_word,
        pictograms=tuple(map(str, material.pictograms)),
        says=says or (say("label-no-hazard"), str(material.look)),
        never=tuple(material.never_with),
        data_sheet=str(written.data_sheet_at or say("label-no-data-sheet")),
    )

"""What identifies a copy of a sheet."""

from dataclasses import replace

from tankside.edition.sheets import SheetEdition
from tankside.edition.shown import key
from tankside.model.facts import Plant
from tankside.views.procedures import Control


def own_control(control: Control, sheet: SheetEdition) -> Control:
    """Return the control items of a sheet of a procedure or checklist: its own name and hash, the rest from that."""
    return replace(control, id=sheet.id, short_hash=sheet.short_hash)


def plant_control(sheet: SheetEdition, title: str, plant: Plant) -> Control:
    """Return the control items of a sheet of the plant."""
    entry = sheet.entry
    assert entry.approved is not None
    return Control(
        id=sheet.id,
        title=title,
        revision=str(entry.revision),
        effective=str(entry.effective),
        review=str(entry.review),
        approved=str(plant.roles.roles[key(entry.approved)].name),
        short_hash=sheet.short_hash,
        live_copy=str(plant.facts.live_copy),
    )

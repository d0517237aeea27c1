"""Sheets in a list: what each is, where copies hang, which copy is the right one."""

from collections.abc import Iterable
from dataclasses import dataclass

from tankside.edition.sheets import SheetEdition
from tankside.edition.shown import key
from tankside.model.facts import Plant
from tankside.model.training import Path
from tankside.texts import Words
from tankside.views.charts import chart_view


@dataclass(frozen=True)
class SheetRow:
    """A line of the list of sheets."""

    id: str
    #: the kind of sheet, in words
    kind: str
    title: str
    #: the words for the places where it hangs
    places: tuple[str, ...]
    revision: str
    short_hash: str


def sheet_rows(sheets: Iterable[SheetEdition], plant: Plant, say: Words) -> tuple[SheetRow, ...]:
    """Return sheets as lines of a list."""
    return tuple(
        SheetRow(
            id=each.id,
            kind=say(f"kind-{each.kind}"),
            title=sheet_title(each, plant, say),
            places=tuple(str(plant.sheets.places[key(name)]) for name in each.entry.hangs),
            revision=each.revision,
            short_hash=each.short_hash,
        )
        for each in sheets
    )


def sheet_title(sheet: SheetEdition, plant: Plant, say: Words) -> str:
    """Return the title of a sheet, as it stands on it."""
    match sheet.kind:
        case "chart-sheet":
            assert sheet.chart is not None
            return chart_view(plant, sheet.chart, say).title
        case "container-label":
            assert sheet.material is not None
            return say("label-title", name=sheet.material.name)
        case "plant-sheet":
            return say("plant-sheet-title")
        case "plan-sheet" | "induction-sheet":
            assert isinstance(sheet.teaches, Path)
            return say(f"{sheet.kind}-title", title=str(sheet.teaches.title))
        case "visitor-sheet":
            return say("visitor-sheet-title")
        case "lockout-sheet":
            assert sheet.machine is not None
            return say("lockout-title", tag=str(sheet.entry.of), name=str(sheet.machine.name))
        case "binder":
            return say("binder-title", book=str(plant.facts.title))
    assert sheet.edition is not None
    title = str(sheet.edition.written.title)
    return say("training-title", title=title) if sheet.kind == "training-sheet" else title

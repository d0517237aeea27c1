"""The edition of a sheet: what stands on it, and the hash that names exactly that."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from hashlib import sha256
from types import MappingProxyType

from tankside.compute.charts import Chart, charts_of
from tankside.edition.canonical import canonical_json
from tankside.edition.making import SHORT, Edition
from tankside.edition.sheet_facts import PieceDrawn, chart_facts, drawn, label_facts, path_facts, visitor_facts
from tankside.edition.shown import MaterialShown, key, material_shown
from tankside.loading.values import Text
from tankside.memory import remembered
from tankside.model.facts import Piece, Plant
from tankside.model.procedures import Procedure
from tankside.model.sheets import (
    BINDER,
    CHART_SHEET,
    CONTAINER_LABEL,
    INDUCTION_SHEET,
    LOCKOUT_SHEET,
    PLAN_SHEET,
    PLANT_SHEET,
    STEP_SHEET,
    TRAINING_SHEET,
    VISITOR_SHEET,
    SheetEntry,
)
from tankside.model.training import Path, Visitor
from tankside.plant.parts import plant_of
from tankside.plant.sides import sides
from tankside.problems import Problem, Span, meant, quoted

#: names the layout of the canonical JSON of a sheet that shows other things than one edition
LAYOUT = "tankside-sheet-1"
#: kinds of which a binder holds no copy: they are used up, not looked up
USED_UP = (CONTAINER_LABEL, TRAINING_SHEET, PLAN_SHEET, INDUCTION_SHEET, VISITOR_SHEET)
#: behind the id of a procedure: its training sheet, where the book declares none
TRAINING = "-training"
#: id and title of each procedure of a book
Titles = tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class SheetEdition:
    """A sheet with all that stands on it."""

    id: str
    entry: SheetEntry
    #: the procedure or checklist that it is of; None for a sheet of the plant
    edition: Edition | None = None
    chart: Chart | None = None
    material: MaterialShown | None = None
    #: the machine of a lockout sheet
    machine: Piece | None = None
    #: of a binder: the hashes of the sheets in it, by their ids
    holds: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    #: of a plan or an induction sheet, and of a visitor's
    teaches: Path | Visitor | None = None
    #: other facts of the plant that it shows
    facts: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    #: tag -> what is drawn or listed of it
    drawn: Mapping[str, PieceDrawn] = field(default_factory=lambda: MappingProxyType({}))

    @property
    def kind(self) -> str:
        """The kind of sheet."""
        return str(self.entry.kind)

    @cached_property
    def hash(self) -> str:
        """SHA-256 of what stands on it, as hexadecimal text; of a step sheet, that of its procedure or checklist."""
        if self.kind == STEP_SHEET:
            assert self.edition is not None
            return self.edition.hash
        shown: dict[str, object] = {
            "layout": LAYOUT,
            "kind": self.kind,
            "of": self.entry.of,
            "steps": self.entry.steps,
            "edition": None if self.edition is None else self.edition.hash,
            "chart": self.chart,
            "material": self.material,
            "energy": None if self.machine is None else self.machine.energy_sources,
            "holds": self.holds,
            "facts": self.facts,
            "drawn": self.drawn,
        }
        if self.teaches is not None:
            shown["teaches"] = self.teaches
        return sha256(canonical_json(shown).encode("utf-8")).hexdigest()

    @property
    def short_hash(self) -> str:
        """The first digits of the hash, as printed."""
        return self.hash[:SHORT]

    @property
    def revision(self) -> str:
        """The revision of what it shows; "" of a binder, whose sheets have theirs."""
        return str((self.entry.revision or "") if self.edition is None else self.edition.written.revision)

    @property
    def span(self) -> Span:
        """Where it is declared, or the procedure or checklist that it is of."""
        own = self.entry.kind.span
        return own if own.path or self.edition is None else self.edition.written.span


def sheet_editions(plant: Plant, editions: Mapping[str, Edition]) -> Mapping[str, SheetEdition]:
    """Return every sheet of a book by its id: those that it declares, a step sheet of each edition, training sheets."""
    written = (each.written for each in editions.values())
    found = dict(plant_sheets(plant, titles_of(each for each in written if isinstance(each, Procedure))))
    for name, entry in plant.sheets.sheets.items():
        if entry.kind == LOCKOUT_SHEET:
            found[str(name)] = _lockout(plant, str(name), entry, editions[str(entry.by)])
        elif entry.revision is None and entry.kind != BINDER:
            found[str(name)] = _declared(str(name), entry, editions[str(entry.of)])
    for kind, sheet, edition in _undeclared(found, editions):
        found[sheet] = _of(kind, sheet, edition)
    held = {name: each.hash for name, each in sorted(found.items()) if each.kind not in USED_UP}
    for name, entry in plant.sheets.sheets.items():
        if entry.kind == BINDER:
            found[str(name)] = SheetEdition(str(name), entry, holds=held)
    return {name: found[name] for name in sorted(found)}


@remembered
def plant_sheets(plant: Plant, titles: Titles) -> Mapping[str, SheetEdition]:
    """Return the sheets that a book declares of its plant, by id; those are left out whose chart there is not."""
    charts = charts_of(plant) if plant.sheets.sheets else {}
    found = {}
    for name, entry in plant.sheets.sheets.items():
        of = str(entry.of)
        if entry.kind == CHART_SHEET and of in charts:
            found[str(name)] = SheetEdition(str(name), entry, chart=charts[of], facts=chart_facts(plant, charts[of]))
        elif entry.kind == CONTAINER_LABEL:
            found[str(name)] = SheetEdition(
                str(name), entry, material=material_shown(plant, of), facts=label_facts(plant, of)
            )
        elif entry.kind == PLANT_SHEET:
            found[str(name)] = SheetEdition(str(name), entry, drawn=drawn(plant, plant.equipment.equipment))
        elif entry.kind in (PLAN_SHEET, INDUCTION_SHEET):
            found[str(name)] = _of_path(plant, str(name), entry, titles)
        elif entry.kind == VISITOR_SHEET:
            found[str(name)] = _of_visitor(plant, str(name), entry)
    return found


def titles_of(procedures: Iterable[Procedure]) -> Titles:
    """Return the titles of procedures by their ids."""
    return tuple((str(each.procedure), str(each.title)) for each in procedures)


def _of_path(plant: Plant, name: str, entry: SheetEntry, titles: Titles) -> SheetEdition:
    path = plant.training.paths[key(str(entry.of))]
    tags = {str(tag) for item in path.items for tag in item.find}
    return SheetEdition(
        name, entry, teaches=path, facts=path_facts(plant, path, dict(titles)), drawn=drawn(plant, tags)
    )


def _of_visitor(plant: Plant, name: str, entry: SheetEntry) -> SheetEdition:
    visitor = plant.training.visitor
    assert visitor is not None
    return SheetEdition(name, entry, teaches=visitor, facts=visitor_facts(plant, visitor))


def hanging(sheets: Iterable[SheetEdition]) -> Iterator[SheetEdition]:
    """Return the sheets of a finished site: no training sheet, of which each trainee has one, and no binder."""
    return (each for each in sheets if each.kind not in (TRAINING_SHEET, BINDER))


def _undeclared(
    declared: Mapping[str, SheetEdition], editions: Mapping[str, Edition]
) -> Iterator[tuple[str, str, Edition]]:
    there = {(each.kind, str(each.entry.of)) for each in declared.values()}
    for name, edition in editions.items():
        if (STEP_SHEET, name) not in there:
            yield STEP_SHEET, name, edition
        training = f"{name}{TRAINING}"
        is_free = training not in declared and training not in editions and (TRAINING_SHEET, name) not in there
        if isinstance(edition.written, Procedure) and is_free:
            yield TRAINING_SHEET, training, edition


@remembered
def _of(kind: str, name: str, edition: Edition) -> SheetEdition:
    return SheetEdition(name, SheetEntry(Text(kind, Span("")), Text(edition.id, Span(""))), edition)


@remembered
def _lockout(plant: Plant, name: str, entry: SheetEntry, edition: Edition) -> SheetEdition:
    tag = str(entry.of)
    machine = plant.equipment.equipment[key(tag)]
    points = {tag, *(str(each.isolate_at) for each in machine.energy_sources)}
    # What lies between the points is drawn, too; no further than its own side.
    side = next((each for each in sides(plant_of(plant.equipment)) if tag in each), frozenset[str]())
    between = {name: replace(each, name="", where=None) for name, each in drawn(plant, side - points).items()}
    return SheetEdition(name, entry, edition, machine=machine, drawn={**between, **drawn(plant, points)})


@remembered
def _declared(name: str, entry: SheetEntry, edition: Edition) -> SheetEdition:
    return SheetEdition(name, entry, edition)


def chart_problems(plant: Plant) -> Iterator[Problem]:
    """Return a problem for each chart sheet whose chart the plant has not."""
    declared = [each.of for each in plant.sheets.sheets.values() if each.kind == CHART_SHEET and each.of is not None]
    known = charts_of(plant) if declared else {}
    for name in declared:
        if name not in known:
            hint = meant(name, known, f"known are: {', '.join(known) or 'none; tanks, lines and products bring them'}")
            yield Problem(name.span, "sheet-of-unknown", f"{quoted(name)} is no chart of this plant", hint)

"""Sheets of every kind on every paper, made of the demonstration book with a list of sheets of our own.

Each is laid out once in a process and read back; the list is ours so that the book's own may change.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import pdfplumber
from record_orders import blank, issued
from sheet_blocks import Block, blocks, said, section_blocks
from sheet_reading import Sheet

from tankside.catalogue import Book
from tankside.checkup import Checkup, check_book
from tankside.edition import Edition
from tankside.edition.sheets import SheetEdition, sheet_editions
from tankside.loading.sources import picture_data
from tankside.loading.values import Text
from tankside.model.facts import Plant
from tankside.model.sheets import SheetEntry, Sheets
from tankside.problems import Span
from tankside.render_print.draft import Draft
from tankside.render_print.drafting.steps import sheet_view
from tankside.render_print.engine import Engine
from tankside.render_print.record_sheets import RecordSheetMaker
from tankside.render_print.sheets import SheetMaker
from tankside.texts import words
from tankside.views.procedures import ChecklistView, ProcedureView
from tankside.views.record_sheets import SheetOrder, record_sheet_view
from tankside.views.sheets.key_steps import key_steps_view
from tankside.views.sheets.lockout import lockout_view

ROOT = Path(__file__).parent.parent
SAY = words("en")
#: the paper in points, upright, 1 in = 72 pt: ISO 216 A4 is 210 x 297 mm and A3 297 x 420 mm, ANSI A is 8.5 x 11 in and
#: ANSI B 11 x 17 in
PAPERS = {"A4": (595.28, 841.89), "A3": (841.89, 1190.55), "Letter": (612.0, 792.0), "Tabloid": (792.0, 1224.0)}
SMALL, LARGE = ("A4", "Letter"), ("A3", "Tabloid")


def text(value: str) -> Text:
    """A text that stands in no file."""
    return Text(value, Span(""))


def entry(kind: str, of: str | None = None, *steps: str, **more: str) -> SheetEntry:
    """A sheet as a book declares it."""
    given = {key: text(value) for key, value in more.items()}
    return SheetEntry(text(kind), None if of is None else text(of), steps=tuple(map(text, steps)), **given)


#: a sheet of the plant has control items of its own
CONTROL = {"revision": "3", "effective": "2026-10-01", "review": "2027-10-01", "approved": "workshop-lead"}
DECLARED = {
    "wall-bleed": entry("wall-sheet", "bleed-cleaner-line", "guard-down", "open-v3", "open-v2", "start-p1"),
    "wall-pump": entry("wall-sheet", "bleed-cleaner-line", "start-p1", read_from="700 mm"),
    "wall-eyes": entry("wall-sheet", "splash", "eyes-in-water", "hold-lids", "rinse-eyes"),
    "banner-eyes": entry("banner", "splash", "eyes-in-water", "rinse-eyes"),
    "banner-leave": entry("banner", "leave-now", "leave", "meeting-point"),
    "lockout-m1": entry("lockout-sheet", "M1", by="lock-out-mixer"),
    "lockout-d-p1": entry("lockout-sheet", "D-P1", by="lock-out-descaler-pump"),
    "dip": entry("chart-sheet", "dip-tank-250", **CONTROL),
    "dilution": entry("chart-sheet", "dilute-milk-line-cleaner", **CONTROL),
    "weights": entry("chart-sheet", "fill-milk-line-cleaner", **CONTROL),
    "label-alkali": entry("container-label", "potassium-hydroxide-solution", **CONTROL),
    "label-water": entry("container-label", "softened-water", **CONTROL),
    "tags": entry("plant-sheet", **CONTROL),
    "plan": entry("plan-sheet", "line-operator", **CONTROL),
    "lock-plan": entry("plan-sheet", "authorised-person", **CONTROL),
    "induction": entry("induction-sheet", "line-operator", **CONTROL),
    "lock-induction": entry("induction-sheet", "authorised-person", **CONTROL),
    "visitors": entry("visitor-sheet", **CONTROL),
}
#: kind -> the sheets of it that are looked at; a step sheet is called as its procedure or checklist is
EXAMPLES = {
    "step-sheet": ("bleed-cleaner-line", "first-day"),
    "wall-sheet": ("wall-bleed", "wall-pump", "wall-eyes"),
    "banner": ("banner-eyes", "banner-leave"),
    "lockout-sheet": ("lockout-m1", "lockout-d-p1"),
    "chart-sheet": ("dip", "dilution", "weights"),
    "container-label": ("label-alkali", "label-water"),
    "training-sheet": ("bleed-cleaner-line-training", "splash-training"),
    "plant-sheet": ("tags",),
    "plan-sheet": ("plan", "lock-plan"),
    "induction-sheet": ("induction", "lock-induction"),
    "visitor-sheet": ("visitors",),
    "record-sheet": ("blank", "issued"),
}
#: kinds that are filled in by hand, once for each trainee
FILLED_IN = ("training-sheet", "plan-sheet", "induction-sheet")
#: the procedure of which the record sheets are
RECORDED = "hold-a-lot"
#: the lettering of the whole demonstration plant, and four steps with their cautions; tests hold that they are refused
TOO_LARGE_FOR = {"tags": SMALL, "wall-bleed": SMALL}
ALL = [
    (name, paper)
    for names in EXAMPLES.values()
    for name in names
    for paper in PAPERS
    if paper not in TOO_LARGE_FOR.get(name, ())
]


@cache
def demo() -> Checkup:
    """The demonstration book, checked."""
    return check_book(ROOT)


@cache
def engine() -> Engine:
    """One engine for all."""
    return Engine()


def book_of(checkup: Checkup) -> Book:
    """The book that was checked."""
    assert checkup.book is not None
    return checkup.book


@cache
def plant() -> Plant:
    """The plant of the demonstration book with our own list of sheets."""
    declared = Sheets({text(name): each for name, each in DECLARED.items()})
    return replace(book_of(demo()).plant, sheets=declared)


@cache
def sheets() -> Mapping[str, SheetEdition]:
    """All its sheets."""
    return sheet_editions(plant(), demo().editions)


def maker(paper: str = "Letter", pictures: Mapping[str, bytes] | None = None) -> SheetMaker:
    """What makes them on a paper."""
    whole = replace(plant(), facts=replace(plant().facts, paper=text(paper)))
    return SheetMaker(engine(), picture_data(ROOT) if pictures is None else pictures, whole, "en", {})


@dataclass(frozen=True)
class Hung:
    """A sheet on a paper, and what was read back from its PDF."""

    name: str
    kind: str
    paper: str
    #: what it is of; None for a sheet of the plant
    edition: Edition | None
    #: what it shows of a procedure or checklist; None where it shows something else
    view: ProcedureView | ChecklistView | None
    sheet: Sheet
    data: bytes

    @property
    def is_across(self) -> bool:
        """Whether it is wider than high."""
        return float(self.sheet.pages[0].width) > float(self.sheet.pages[0].height)

    @property
    def blocks(self) -> list[Block]:
        """What is kept together on it, in order."""
        assert self.view is not None
        if self.kind != "lockout-sheet":
            return blocks(self.view)
        assert isinstance(self.view, ProcedureView)
        return section_blocks(lockout_view(sheets()[self.name], self.view, plant(), SAY).back)


@cache
def laid_out(name: str, paper: str) -> Hung:
    """Lay a sheet out on a paper and read it back."""
    made = maker(paper)
    if name in EXAMPLES["record-sheet"]:
        order = record_order(name)
        view = record_sheet_view(order, plant().facts, SAY).shown
        data = RecordSheetMaker(made).pdf(order)
        return Hung(name, "record-sheet", paper, order.edition, view, Sheet(data, []), data)
    sheet, shown = sheets()[name], _shown(sheets()[name])
    data, points = made.pdf(sheet), 22 if sheet.kind == "wall-sheet" and sheet.entry.read_from is None else 15
    return Hung(name, sheet.kind, paper, sheet.edition, shown, Sheet(data, stops_of(shown), name, points), data)


def record_order(name: str) -> SheetOrder:
    """A blank or issued record sheet."""
    edition = demo().editions[RECORDED]
    return blank(edition) if name == "blank" else issued(edition)


def _shown(sheet: SheetEdition) -> ProcedureView | ChecklistView | None:
    if sheet.edition is None:
        return None
    view = sheet_view(sheet.edition, plant().facts, SAY)
    if sheet.kind not in ("wall-sheet", "banner"):
        return view
    assert isinstance(view, ProcedureView)
    return key_steps_view(view, sheet, SAY)


def stops_of(view: ProcedureView | ChecklistView | None) -> list[str]:
    """How to stop safely, of each procedure on a sheet."""
    if view is None:
        return []
    views = [view] if isinstance(view, ProcedureView) else [part.view for part in view.parts if part.view]
    return [f"To stop safely: {said(each.stop_safely)}" for each in views]


def of_kind(*kinds: str) -> Iterator[Hung]:
    """All examples of some kinds, on every paper."""
    for name, paper in ALL:
        if any(name in EXAMPLES[kind] for kind in kinds):
            yield laid_out(name, paper)


def draft(name: str, paper: str = "Letter") -> Draft:
    """A sheet before it is laid out."""
    return maker(paper).draft(sheets()[name])


def opened(data: bytes) -> pdfplumber.PDF:
    """A PDF to read."""
    return pdfplumber.open(io.BytesIO(data))

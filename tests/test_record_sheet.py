"""Sheets to carry a procedure out with a pen, read back from their PDFs; their serials; what is refused."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from importlib.resources import files
from itertools import pairwise
from pathlib import Path
from random import Random
from typing import Any

import pytest
from click.testing import CliRunner, Result
from demo_book import copy_book
from demo_book import replace as replace_text
from record_orders import GROUPED, LOT, SERIAL, blank, is_recorded, issued, maker_of, orders, script_of
from record_reading import RecordSheet
from sheet_blocks import Block, said
from sheet_reading import MM, Place, squeezed
from small_copies import _pages as small_pages

from tankside.catalogue import load
from tankside.checkup import Checkup, check_book
from tankside.cli.record_sheet import record_sheet
from tankside.compute.amounts import WorkedBook
from tankside.edition import Audience, procedure_edition
from tankside.records.script import Part
from tankside.records.serials import ALPHABET, fault, new_serial
from tankside.records.worth import target
from tankside.render_print.drawer import put_new
from tankside.render_print.engine import Engine, SheetMisfitError
from tankside.render_print.grouping import part_groups
from tankside.render_print.record_sheets import RecordSheetMaker
from tankside.texts import words
from tankside.units import parse_quantity
from tankside.views.procedures import ChecklistView, ProcedureView
from tankside.views.record_sheets import SheetOrder, record_sheet_view
from tankside.views.steps import Entry, SectionView

ROOT = Path(__file__).parent.parent


# reading


@dataclass(frozen=True)
class Filled:
    """A record sheet, what it shows, and what it was made from."""

    order: SheetOrder
    view: ProcedureView | ChecklistView
    sheet: RecordSheet

    @property
    def name(self) -> str:
        return f"{self.order.edition.id} {self.order.issue.lot or 'blank'}"

    @cached_property
    def places(self) -> list[tuple[Block, Place]]:
        """Every block in order; an assertion fails when one is missing or stands before its turn."""
        at, found = 0, []
        for block in [*blocks(self.view), Block("heading", "Deviations")]:
            find = self.sheet.heading if block.form == "heading" else self.sheet.place
            found.append((block, find(block.text, at)))
            at = found[-1][1].end
        return found

    @cached_property
    def steps(self) -> dict[str, Any]:
        """Steps by procedure and name, as the edition has them."""
        parts = self.order.script.parts
        return {f"{part.procedure}/{name}": step for part in parts for name, step in part.steps.items()}


def blocks(view: ProcedureView | ChecklistView) -> Iterator[Block]:
    """The blocks of the steps of a sheet; the name of a step begins with its procedure."""
    if isinstance(view, ProcedureView):
        yield from sections(view.control.id, view.sections)
        return
    for group in part_groups(view.parts):
        for part in group.parts:
            yield from sections(group.view.control.id, part.sections)
        yield from sections(group.view.control.id, group.sent_to)


def sections(procedure: str, found: tuple[SectionView, ...]) -> Iterator[Block]:
    for section in found:
        if section.title:
            yield Block("heading", section.title)
        yield from entries(procedure, section.entries)


def entries(procedure: str, found: tuple[Entry, ...], form: str = "step") -> Iterator[Block]:
    for entry in found:
        details = " ".join(f"{detail.label}: {said(detail.words)}" for detail in entry.details)
        if entry.form == "caution":
            yield Block("caution", f"{entry.kind.upper()} {said(entry.words)} {details}")
        elif entry.form == "note":
            yield Block("note", f"Note: {said(entry.words)}")
        else:
            amounts = ("How much", *(at for at, _ in entry.by_input), *(value for _, value in entry.by_input))
            table = " ".join(amounts) if entry.by_input else ""
            yield Block(form, f"{entry.number} {said(entry.words)} {table} {details}", f"{procedure}/{entry.name}")
            for branch in entry.branches:
                go_to = f": {said(branch.go_to)}" if branch.go_to else ""
                yield Block("answer", f"{entry.number}{branch.letter} {said(branch.answer)}{go_to}")
                yield from entries(procedure, branch.entries, form)
            if entry.entries:
                yield from entries(procedure, entry.entries, "inner")
                yield Block("passes", f"{entry.number}: at the end of each pass", f"{procedure}/{entry.name}")


@pytest.fixture(scope="session")
def engine() -> Engine:
    return Engine()


@pytest.fixture(scope="session")
def checkup() -> Checkup:
    return check_book(ROOT)


@pytest.fixture(scope="session")
def maker(checkup: Checkup, engine: Engine) -> RecordSheetMaker:
    return maker_of(checkup, engine, ROOT)


def filled(maker: RecordSheetMaker, order: SheetOrder) -> Filled:
    view = record_sheet_view(order, maker.plant.facts, words("en")).shown
    views = [view] if isinstance(view, ProcedureView) else [part.view for part in view.parts if part.view]
    stops = [f"To stop safely: {said(each.stop_safely)}" for each in views]
    return Filled(order, view, RecordSheet(maker.pdf(order), stops))


@pytest.fixture(scope="session")
def sheets(maker: RecordSheetMaker, checkup: Checkup) -> list[Filled]:
    made = [filled(maker, order) for order in orders(checkup)]
    assert len(made) >= 25
    return made


@pytest.fixture(scope="session")
def small(engine: Engine) -> dict[str, Filled]:
    """Sheets of a small book with every kind of step, repetitions within repetitions, and labels of two sizes."""
    book = load(small_pages()).book
    assert book is not None
    worked = WorkedBook(book)
    edition = procedure_edition(worked, book.procedures["everything"], Audience.FLOOR, "en")  # type: ignore[index]
    maker = RecordSheetMaker(engine, {}, book.plant, "en", {})
    return {"blank": filled(maker, blank(edition)), "issued": filled(maker, issued(edition))}


# steps and their places to write


def asked(step: dict[str, Any], is_blank: bool) -> Counter[str]:
    """What is written at a step that is done once, as the words that stand at the places: the rule, told once more."""
    found = ["Start", "End", "Initials"] if step["kind"] == "wait" else ["Initials", "Time"]
    found += ["Second", "Time"] if step.get("second_person") == "yes" else []
    found += {
        "check": ["yes", "no"],
        "hold": ["Role"],
        "measure": ["Calibration", "Value"],
        "record": ["Written"],
        "choose": ["Ring"],
        "add": ["Put", "all", "1", "1", "2", "2", "3", "3", "4", "4"],
        "labels": [],
    }.get(step["kind"], [])
    if step["kind"] == "labels":
        found += ["Code", "Issued"] if step["counted"] == "out" else ["Used", "Spoiled", "Left"]
    return Counter(found)


def words_at(each: Filled, count: int) -> tuple[Counter[str], int]:
    """The small words, and how many boxes to tick, from one block to the next."""
    zones = each.sheet.zones(each.places[count][1], each.places[count + 1][1])
    return each.sheet.words(zones), each.sheet.boxes(zones)


def test_every_step_stands_once_and_in_order_with_its_places_to_write(sheets: list[Filled]) -> None:
    for each in sheets:
        seen: Counter[str] = Counter()
        for count, (block, _) in enumerate(each.places):
            if block.form == "step":
                step = each.steps[block.name]
                found, ticks = words_at(each, count)
                missing = asked(step, each.order.issue.is_blank) - found
                assert not missing, (each.name, block.name, missing, found)
                assert found["Initials"] == 1, (each.name, block.name)
                assert ticks == (2 if step["kind"] == "check" else 1), (each.name, block.name)
            if block.form in ("step", "inner"):
                seen[block.name] += 1
        assert set(seen.values()) == {1}, each.name
        if isinstance(each.view, ProcedureView):
            assert seen.keys() == each.steps.keys(), each.name


def test_a_repetition_has_a_place_at_each_step_and_a_line_for_each_pass(sheets: list[Filled]) -> None:
    counted = 0
    for each in sheets:
        passes: list[str] = []
        for count, (block, _) in enumerate(each.places):
            if block.form == "step" and each.steps[block.name]["kind"] == "repeat":
                passes = [str(number + 1) for number in range(int(each.steps[block.name]["at_most"]))]
            if block.form == "inner":
                found, _ = words_at(each, count)
                rows = {found[number] for number in passes}
                kind = each.steps[block.name]["kind"]
                # Ticked; yes and no; ticked, start, end and initials; ticked and written. A second person once more.
                wanted = {"check": 2, "wait": 4, "record": 2}.get(kind, 1)
                wanted += each.steps[block.name].get("second_person") == "yes"
                assert rows == {wanted}, (each.name, block.name, found)
                counted += 1
            if block.form == "passes":
                found, ticks = words_at(each, count)
                assert found["Initials"] == found["Time"] == len(passes), (each.name, block.text)
                assert ticks == 2 * len(passes)
                assert found["enough"] == len(passes) + 1
                assert found["not"] == 1
    assert counted >= 40


def test_no_step_is_split_and_no_page_ends_with_a_caution_or_a_heading(sheets: list[Filled]) -> None:
    for each in sheets:
        for block, place in each.places:
            assert len(place.pages) == 1, f"{each.name}, split: {block}"
        for (block, place), (after, next_place) in pairwise(each.places):
            if block.form in ("caution", "heading"):
                assert place.pages == next_place.pages, f"{each.name}: a page ends with {block}, then comes {after}"

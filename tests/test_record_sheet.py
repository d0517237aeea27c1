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
from sheet_reading import MM, Place, clear_mm, cut_lines, squeezed
from small_copies import small_pages

from tankside.catalogue import load
from tankside.checkup import Checkup, check_book
from tankside.cli.sheets import sheets as sheets_command
from tankside.compute.amounts import WorkedBook
from tankside.edition import Audience, procedure_edition
from tankside.records.script import Part
from tankside.records.serials import ALPHABET, fault, new_serial
from tankside.records.worth import target
from tankside.render_print.drawer import put_new
from tankside.render_print.engine import Engine
from tankside.render_print.grouping import part_groups
from tankside.render_print.record_sheets import RecordSheetMaker
from tankside.render_print.sheets import SheetMaker
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
    view = record_sheet_view(order, maker.sheets.plant.facts, words("en")).shown
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
    maker = RecordSheetMaker(SheetMaker(engine, {}, book.plant, "en", {}))
    return {"blank": filled(maker, blank(edition)), "issued": filled(maker, issued(edition))}


# steps and their places to write


def asked(step: dict[str, Any]) -> Counter[str]:
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


def needs_target(each: Filled, block: Block) -> bool:
    """Whether what is put in stands in a table, one column of which is this lot's."""
    procedure, _, name = block.name.partition("/")
    part = next(part for part in each.order.script.parts if part.procedure == procedure)
    amount = part.edition["amounts"][part.steps[name]["amount"].strip("<>")]
    return each.order.issue.is_blank and amount.get("input") is not None


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
                missing = asked(step) - found
                assert not missing, (each.name, block.name, missing, found)
                assert found["Initials"] == 1, (each.name, block.name)
                if step["kind"] == "add":
                    # What is put in for this lot, or a place for it; without a label only water from the wall.
                    assert (found["Target"], found["tolerance"]) == ((0, 1), (1, 0))[needs_target(each, block)]
                    assert found["says"] == (step.get("from", "").endswith("-supply") is False), block.name
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
                # Ticked; yes and no; with start, end and initials; with a line, an answer; with a day and a value.
                wanted = {"check": 2, "wait": 4, "record": 2, "choose": 2, "measure": 3}.get(kind, 1)
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


@pytest.mark.requirement(number=17)
def test_no_step_is_split_and_no_page_ends_with_a_caution_or_a_heading(sheets: list[Filled]) -> None:
    for each in sheets:
        for block, place in each.places:
            assert len(place.pages) == 1, f"{each.name}, split: {block}"
        for (block, place), (after, next_place) in pairwise(each.places):
            if block.form in ("caution", "heading"):
                assert place.pages == next_place.pages, f"{each.name}: a page ends with {block}, then comes {after}"


def test_labels_and_repetitions_within_repetitions_have_their_places(small: dict[str, Filled]) -> None:
    for each in small.values():
        at = {block.name.partition("/")[2]: count for count, (block, _) in enumerate(each.places) if block.name}
        out, _ = words_at(each, at["labels-out"])
        assert out & asked({"kind": "labels", "counted": "out"}) == asked({"kind": "labels", "counted": "out"})
        back, _ = words_at(each, at["labels-in"])
        assert back & asked({"kind": "labels", "counted": "in"}) == asked({"kind": "labels", "counted": "in"})
        tapped, _ = words_at(each, at["tap-once"])
        # Two passes, each with two of the inner one.
        assert [tapped[name] for name in ("1.1", "1.2", "2.1", "2.2", "3.1")] == [1, 1, 1, 1, 0]
    assert "LM-1" in small["blank"].sheet.text
    assert "LM-5" in small["blank"].sheet.text
    assert "LM-1" in small["issued"].sheet.text
    assert "LM-5" not in small["issued"].sheet.text


@pytest.mark.requirement(number=21)
def test_every_place_to_write_is_large_enough_for_a_glove_and_a_pen(sheets: list[Filled]) -> None:
    count = 0
    for each in sheets:
        for number in range(len(each.sheet.pages)):
            labels = each.sheet.small_words(number)
            for frame in each.sheet.frames(number):
                inside = [word for word in labels if word["top"] < frame["top"] + 4 * MM and is_inside(word, frame)]
                below = max((word["bottom"] for word in inside), default=frame["top"])
                if frame["width"] > 15 * MM:
                    assert frame["bottom"] - below >= 8 * MM, (each.name, number, inside)
                    assert frame["width"] >= 20 * MM
                    count += 1
                # A box for one pass is only ticked.
                assert min(frame["width"], frame["height"]) >= 9 * MM, (each.name, number, frame)
    assert count >= 2000


def is_inside(word: dict[str, Any], frame: dict[str, Any]) -> bool:
    return bool(frame["x0"] <= word["x0"] < frame["x1"] and frame["top"] <= word["top"] < frame["bottom"])


def test_lines_of_a_table_to_fill_in_are_8_mm_apart_or_more(sheets: list[Filled]) -> None:
    for each in sheets:
        place = each.places[-1][1]
        (page,) = place.pages
        top = each.sheet.zones(place, place)[0].top
        tops = sorted(line["top"] for line in each.sheet.whole[page].lines if line["top"] > top)
        # What belongs to the cell above and to the one below is drawn twice.
        edges = [after for before, after in pairwise([top, *tops]) if after - before > 1 * MM]
        # Above the words over the columns, below them, and below each of five empty lines.
        assert len(edges) >= 7, each.name
        assert all(below - above >= 8 * MM for above, below in pairwise(edges[1:7])), (each.name, edges)


@pytest.mark.requirement(number=20)
def test_the_style_has_no_italics_no_justified_text_and_no_capitals_of_its_own() -> None:
    style = (files("tankside") / "assets" / "print" / "record.css").read_text(encoding="utf-8")
    assert re.search(r"italic|oblique|justify|small-caps|hyphens|text-transform|color:|background", style) is None


@pytest.mark.requirement(number=21)
def test_ten_millimetres_are_clear_at_every_edge(sheets: list[Filled]) -> None:
    for each in sheets:
        for page in each.sheet.whole:
            assert len(cut_lines(page)) == 1, each.name
            assert min(clear_mm(page)) >= 10, f"{each.name} page {page.page_number}: {clear_mm(page)}"


# pages


def test_every_page_says_what_it_is_and_carries_the_serial(sheets: list[Filled]) -> None:
    for each in sheets:
        edition = each.order.edition
        wanted = [
            edition.id,
            f"Revision {edition.written.revision} ·",
            f"Effective from {edition.written.effective} ·",
            f"Content {edition.hash[:8]}",
            "This sheet is a record. Initials on it are claims, not signatures.",
            edition.scenario,
        ]
        for number in range(len(each.sheet.whole)):
            page_of = f"Page {number + 1} of {len(each.sheet.whole)}"
            text = each.sheet.all_text(number)
            assert text.count(page_of) == 1
            rest = squeezed(text.replace(page_of, ""))
            assert [one for one in wanted if squeezed(str(one)) not in rest] == [], (each.name, number)
            assert squeezed(str(edition.written.title)) in each.sheet.strip(number)[0], (each.name, number)
            assert squeezed(GROUPED) in each.sheet.strip(number)[1], (each.name, number)


def test_every_page_says_how_to_stop_safely(sheets: list[Filled]) -> None:
    for each in sheets:
        for number in range(len(each.sheet.whole)):
            text = squeezed(each.sheet.all_text(number))
            assert any(stop in text for stop in each.sheet.heads), (each.name, number)


@pytest.mark.requirement(number=23)
def test_23_a_sheet_for_a_lot_says_on_every_page_that_it_is_for_that_lot_only(sheets: list[Filled]) -> None:
    count = 0
    for each in sheets:
        wanted = squeezed(f"Valid for lot {LOT} only")
        found = [wanted in each.sheet.strip(number)[2] for number in range(len(each.sheet.whole))]
        assert set(found) == {not each.order.issue.is_blank}, each.name
        count += len(found) * (not each.order.issue.is_blank)
    assert count >= 50


@pytest.mark.requirement(number=23)
def test_23_a_blank_has_room_for_the_lot_on_every_page_and_no_amount_for_one_size_only(sheets: list[Filled]) -> None:
    tables = 0
    for each in (one for one in sheets if one.order.issue.is_blank):
        for number in range(len(each.sheet.whole)):
            assert "Valid" not in each.sheet.all_text(number)
            lot = next(word for word in each.sheet.small_words(number) if word["text"].startswith("Lot"))
            edge = min(rect["top"] for rect in edges_below(each, number, lot["bottom"]))
            assert edge - lot["bottom"] >= 8 * MM, (each.name, number)
        if isinstance(each.view, ProcedureView) and each.view.table is not None:
            tables += 1
            assert_only_in_tables(each)
    assert tables >= 4


def edges_below(each: Filled, number: int, top: float) -> list[dict[str, Any]]:
    """The lines of a page that go across and lie below a place."""
    return [line for line in each.sheet.whole[number].lines if line["height"] < 1 and line["top"] > top]


def assert_only_in_tables(each: Filled) -> None:
    assert isinstance(each.view, ProcedureView)
    assert each.view.table is not None
    text = " ".join(line.text for line in each.sheet.body)
    at_steps = [value for section in each.view.sections for one in flat(section.entries) for _, value in one.by_input]
    in_tables = [*(cell for _, cells in each.view.table.rows for cell in cells), *at_steps]
    # Whole litres are left away: "4 L" is a tolerance, too.
    for cell in (one for one in set(in_tables) if "." in one):
        found = re.findall(rf"(?<![\d.]){re.escape(cell)}(?!\w)", text)
        assert len(found) == in_tables.count(cell), (each.name, cell)


def flat(found: tuple[Entry, ...]) -> Iterator[Entry]:
    for entry in found:
        yield entry
        yield from flat(entry.entries)
        for branch in entry.branches:
            yield from flat(branch.entries)


def test_it_ends_with_who_typed_it_in(sheets: list[Filled]) -> None:
    for each in sheets:
        text = squeezed(each.sheet.all_text(len(each.sheet.whole) - 1))
        for wanted in ("Typed into the tablet", "Number of the working copy", "Compared by"):
            assert squeezed(wanted) in text, each.name
        ends = [each.sheet.text.count(squeezed(title)) for title in ("The end", "Red-lines", "Notes", "Deviations")]
        assert min(ends) >= 1, each.name


def test_it_says_the_way_to_correct_once(sheets: list[Filled]) -> None:
    for each in sheets:
        assert each.sheet.text.count(squeezed("A mistake: line through, initial, date, reason.")) == 1, each.name


# amounts for one lot


def test_amounts_are_worked_out_for_the_lot_and_no_other(maker: RecordSheetMaker, checkup: Checkup) -> None:
    each = filled(maker, issued(checkup.editions["blend-milk-line-cleaner"], "batch=125 L"))
    # The recipe has 10.6 kg of alkali and 2.12 kg of inhibitor for 100 L: times 1.25, 13.25 and 2.65.
    assert squeezed("How much: 13.25 kg") in each.sheet.text
    assert squeezed("How much: 2.65 kg") in each.sheet.text
    # 0.2 kg either way on the floor scale, 0.02 kg on the bench scale
    assert squeezed("13.05 kg to 13.45 kg") in each.sheet.text
    assert squeezed("2.63 kg to 2.67 kg") in each.sheet.text
    assert squeezed("It stands on the batch sheet. 125 L") in each.sheet.text
    # what the table has for 100, 150 and 200 L
    assert [one for one in ("10.6 kg", "15.9 kg", "21.2 kg") if squeezed(one) in each.sheet.text] == []
    assert squeezed("for 100 L") not in each.sheet.text


def test_what_is_in_tolerance_on_paper_is_what_a_working_copy_lets_pass(checkup: Checkup) -> None:
    chance, count = Random(7), 0
    for edition in filter(is_recorded, checkup.editions.values()):
        for _ in range(3):
            settings = chosen(edition, chance)
            order = issued(edition, *settings)
            view = record_sheet_view(order, checkup.book.plant.facts, words("en"))  # type: ignore[union-attr]
            for part in order.script.parts:
                for name, step in part.steps.items():
                    if step["kind"] == "add":
                        fields = view.writing[part.procedure][name].fields
                        (text,) = [field.text for field in fields if field.label == "In tolerance"]
                        low, high = (parse_quantity(end).value for end in ends_of(text))
                        assert (low, high) == judged(part, step, order), (edition.id, name, settings)
                        count += 1
    assert count >= 60


def chosen(edition: Any, chance: Random) -> list[str]:
    """A value in the range of each input, in its own unit."""
    found = []
    for procedure, name, each in script_of(edition).inputs():
        low, high = (parse_quantity(each[end]) for end in ("from", "to"))
        number = low.number + (high.number - low.number) * Fraction(chance.randrange(0, 21), 20)
        found.append(f"{procedure}/{name}={float(number):g} {low.unit.symbol}")
    return found


def ends_of(text: str) -> tuple[str, str]:
    low, _, high = text.partition(" to ")
    return (low if " " in low else f"{low} {high.partition(' ')[2]}"), high


def judged(part: Part, step: dict[str, Any], order: SheetOrder) -> tuple[Fraction, Fraction]:
    _, low, high = target(part, step, order.issue.inputs)
    return low.value, high.value


def test_a_sheet_for_a_lot_keeps_the_hash_of_the_edition(maker: RecordSheetMaker, checkup: Checkup) -> None:
    edition = checkup.editions["make-descaler"]
    html = maker.draft(issued(edition)).html
    assert f"<b>{edition.hash[:8]}</b>" in html
    assert "by-input" not in html
    assert "by-input" in maker.draft(blank(edition)).html


# the file


def test_a_given_serial_gives_the_same_bytes_in_two_processes(tmp_path: Path) -> None:
    for seed in ("1", "2"):
        command = [sys.executable, "-m", "tankside", "sheets", "issue", "blend-descaler", "--lot", LOT, "--set"]
        command += ["batch=50 L", "--serial", GROUPED, "--book", str(ROOT), "--to", str(tmp_path / seed)]
        environment = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT / "tools")}
        done = subprocess.run(command, env=environment, check=True, capture_output=True, text=True, encoding="utf-8")
        assert done.stdout == f"{tmp_path / seed / f'record-{SERIAL}.pdf'}\n"
    one, two = ((tmp_path / seed / f"record-{SERIAL}.pdf").read_bytes() for seed in ("1", "2"))
    assert one == two
    assert one.startswith(b"%PDF-")


def test_a_sheet_that_cannot_be_laid_out_is_a_problem(engine: Engine, tmp_path: Path) -> None:
    book = copy_book(tmp_path / "book")
    replace_text(book / "procedures/batch/blend-descaler.yaml", "    at_most: 6\n", "    at_most: 600\n")
    result = called("blend-descaler", "--book", str(book), "--to", str(tmp_path / "to"))
    assert result.exit_code == 1
    assert re.search(r"Error: sheet 'blend-descaler': step \d+\.\d is longer than a page", result.stderr)
    assert result.stdout == ""
    assert not (tmp_path / "to").exists()


# what is refused


def called(*arguments: str) -> Result:
    return CliRunner().invoke(sheets_command, ["issue", *arguments], catch_exceptions=False)


BLEND = "blend-milk-line-cleaner"
REFUSED = [
    (("blend-milk-line-cleanr",), "is no procedure or checklist; did you mean 'blend-milk-line-cleaner'?"),
    (("splash",), "is for an emergency: nobody writes first. Print its sheet with 'tankside sheets splash'"),
    (
        ("first-day",),
        "lists titles only, so there are no steps to mark; make a sheet for each that is followed: start-of",
    ),
    ((BLEND, "--lot", LOT), 'is missing (How much is made? It stands on the batch sheet.); add --set batch="150 L"'),
    ((BLEND, "--lot", LOT, "--set", "batch=90 L"), "cannot be '90 L'; choose a value from 100 L to 200 L"),
    ((BLEND, "--lot", LOT, "--set", "batch=201 L"), "cannot be '201 L'; choose a value from 100 L to 200 L"),
    ((BLEND, "--lot", LOT, "--set", "batch=150 kg"), "cannot be '150 kg'; choose a value from 100 L to 200 L"),
    ((BLEND, "--lot", LOT, "--set", "batch=150L"), "has no space before the unit; write '150 L'"),
    ((BLEND, "--lot", LOT, "--set", "batch"), 'is not NAME=VALUE; write it like --set batch="150 L"'),
    ((BLEND, "--lot", LOT, "--set", "bach=150 L"), "does not ask for 'bach'; did you mean 'batch'?"),
    ((BLEND, "--lot", LOT, "--set", "batch=150 L", "--set", "batch=160 L"), "is set twice; keep one --set"),
    ((BLEND, "--set", "batch=150 L"), "--set is for one lot only; add --lot LOT"),
    (("fill-cleaner-bottles", "--bottle", "1 L"), "--bottle is for one lot only; add --lot LOT"),
    (("lock-out-mixer", "--lot", LOT, "--set", "a=1 L"), "asks for nothing, so 'a' cannot be set; leave --set away"),
    (("lock-out-mixer", "--lot", LOT, "--bottle", "1 L"), "changes to no labels, so there is no size; leave --bottle"),
    (("fill-cleaner-bottles", "--lot", LOT), "the size of the bottles is missing; add --bottle with one of: 1 L, 5 L"),
    (
        ("fill-cleaner-bottles", "--lot", LOT, "--bottle", "2 L"),
        "is no size of its labels; add --bottle with one of: 1",
    ),
    ((BLEND, "--lot", "   ", "--set", "batch=150 L"), "the lot is empty; write --lot with the lot"),
    ((BLEND, "--lot", "L" * 25, "--set", "batch=150 L"), "is longer than 24 characters; shorten it"),
    ((BLEND, "--lot", "L→7", "--set", "batch=150 L"), "the type has no drawing for '→' in the lot"),
    ((BLEND, "--serial", "JV3R834M"), "is no serial of a record sheet: it has 9 characters"),
    ((BLEND, "--serial", "JV3RO34M2"), "is no serial of a record sheet: only these stand in one: 23456789CFHJ"),
    ((BLEND, "--serial", "VJ3R834M2"), "its last character does not fit the others; compare it with the sheet"),
    ((BLEND, "--serial", SERIAL, "--copies", "2"), "one serial is for one sheet; leave --copies or --serial away"),
    ((BLEND, "--copies", "0"), "0 is not in the range"),
    ((BLEND, "--paper", "A5"), "'A5' is not one of"),
]


@pytest.mark.parametrize(("arguments", "sentence"), REFUSED, ids=lambda each: " ".join(each)[:60])
def test_what_cannot_be_made_is_refused_with_the_way_out(
    checkup: Checkup, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, arguments: tuple[str, ...], sentence: str
) -> None:
    # The book is the same for all of them, and checked once.
    monkeypatch.setattr("tankside.cli.sheets_book.check_book", lambda folder, audience: checkup)
    result = called(*arguments, "--to", str(tmp_path / "to"))
    assert result.exit_code == 2
    assert sentence in " ".join(result.stderr.split())
    assert result.stdout == ""
    assert not (tmp_path / "to").exists()


def test_a_book_with_problems_gives_no_sheet(tmp_path: Path) -> None:
    book = copy_book(tmp_path / "book")
    replace_text(book / "procedures/batch/blend-descaler.yaml", "    at_most: 6\n", "    at_most: six\n")
    result = called("blend-descaler", "--book", str(book))
    assert result.exit_code == 1
    assert "No sheet was made." in result.stderr
    assert not (book / "build").exists()


def test_copies_have_serials_of_their_own_and_lie_in_the_book(tmp_path: Path) -> None:
    book = copy_book(tmp_path / "book")
    result = called("lock-out-mixer", "--copies", "3", "--paper", "A4", "--book", str(book))
    assert result.exit_code == 0, result.stderr
    made = [Path(line) for line in result.stdout.splitlines()]
    assert len(set(made)) == 3
    assert sorted((book / "build" / "record-sheets").iterdir()) == sorted(made)
    for path in made:
        serial = path.stem.removeprefix("record-")
        assert fault(serial) == ""
        sheet = RecordSheet(path.read_bytes(), [])
        assert f"{serial[:3]} {serial[3:6]} {serial[6:]}" in sheet.all_text(0)
        # ISO 216 A4 is 210 mm wide.
        assert float(sheet.whole[0].width) == pytest.approx(210 * MM, abs=0.05)


def test_nothing_is_overwritten_and_nothing_is_left_behind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "new" / "record.pdf"
    put_new(path, b"first")
    with pytest.raises(FileExistsError):
        put_new(path, b"second")
    assert path.read_bytes() == b"first"
    # Somebody takes the name while the file is being written.
    other, link = tmp_path / "new" / "other.pdf", os.link
    monkeypatch.setattr(os, "link", lambda old, new: (other.write_bytes(b"theirs"), link(old, new)))
    with pytest.raises(FileExistsError):
        put_new(other, b"ours")
    assert other.read_bytes() == b"theirs"
    assert sorted(each.name for each in path.parent.iterdir()) == ["other.pdf", "record.pdf"]


def test_a_file_system_without_second_names_gets_whole_files_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(old: Path, new: Path) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", refuse)
    put_new(tmp_path / "record.pdf", b"first")
    with pytest.raises(FileExistsError):
        put_new(tmp_path / "record.pdf", b"second")
    assert [each.name for each in tmp_path.iterdir()] == ["record.pdf"]
    assert (tmp_path / "record.pdf").read_bytes() == b"first"


# serials


#: characters that are taken for one another; in no serial two of a group may stand
LOOK_ALIKES = ("0ODQ", "1IL", "2Z", "5S", "8B", "6G", "UV")


def test_serials_are_of_characters_that_are_not_taken_for_one_another() -> None:
    drawn = [new_serial() for _ in range(2000)]
    assert len(set(drawn)) == 2000
    assert {len(each) for each in drawn} == {9}
    found = set("".join(drawn))
    assert found == set(ALPHABET)
    assert all(len(found & set(group)) <= 1 for group in LOOK_ALIKES)
    assert not found & set("AEIOU")
    assert [each for each in drawn if fault(each)] == []


def test_every_wrong_character_and_every_two_that_changed_places_are_noticed() -> None:
    tried = 0
    for serial in (SERIAL, *(new_serial() for _ in range(50))):
        for at in range(9):
            for other in set(ALPHABET) - {serial[at]}:
                assert fault(serial[:at] + other + serial[at + 1 :]) == "check"
                tried += 1
            for to in range(at + 1, 9):
                if serial[at] != serial[to]:
                    changed = list(serial)
                    changed[at], changed[to] = changed[to], changed[at]
                    assert fault("".join(changed)) == "check", (serial, at, to)
    # 51 serials, 9 places, 21 other characters
    assert tried == 51 * 9 * 21

"""Sheets for the wall, read back from their PDFs. The numbers in the names are the requirements they prove."""

from __future__ import annotations

import html
import io
import json
import os
import random
import re
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from hashlib import sha256
from importlib.resources import files
from itertools import pairwise
from pathlib import Path
from typing import Any

import pdfplumber
import pytest
from demo_book import copy_book
from demo_book import replace as replace_text
from fontpkg_atkinson_hyperlegible import ROOT as FONT
from fontTools.ttLib import TTFont
from pdfminer.pdftypes import resolve1
from sheet_blocks import Block, blocks, said
from sheet_reading import HEADINGS, MM, Place, Sheet, squeezed

from tankside.audit import audit_of
from tankside.checkup import Checkup, check_book
from tankside.edition import Edition
from tankside.loading.sources import picture_data
from tankside.loading.values import Text
from tankside.model.procedures import Procedure
from tankside.model.steps import Caution, every
from tankside.problems import Span
from tankside.render_print.engine import Engine, SheetFailedError
from tankside.render_print.reading import CAPITAL_HEIGHT, type_size
from tankside.render_print.sheets import SheetMaker
from tankside.render_site.content import Content
from tankside.render_site.emergencies import emergency_pages
from tankside.render_site.pages import pages
from tankside.views.procedures import ChecklistView, ProcedureView
from tankside.views.steps import BranchView, Detail, Entry, SectionView
from tankside.views.wording import Run, Sentence

ROOT = Path(__file__).parent.parent
CSS = (files("tankside") / "assets" / "print" / "sheet.css").read_text(encoding="utf-8")
#: the paper in points, 1 in = 72 pt: ISO 216 A4 is 210 x 297 mm, ANSI A is 8.5 x 11 in
PAPERS = {"A4": (595.28, 841.89), "Letter": (612, 792)}


@dataclass(frozen=True)
class Hung:
    """A sheet, what it shows, and what it was made from."""

    edition: Edition
    view: ProcedureView | ChecklistView
    data: bytes
    sheet: Sheet
    paper: str

    @property
    def blocks(self) -> list[Block]:
        return blocks(self.view)


def stops_of(view: ProcedureView | ChecklistView) -> list[str]:
    views = [view] if isinstance(view, ProcedureView) else [part.view for part in view.parts if part.view]
    return [f"To stop safely: {said(each.stop_safely)}" for each in views]


@pytest.fixture(scope="session")
def demo_checkup() -> Checkup:
    return check_book(ROOT)


@pytest.fixture(scope="session")
def sheet_engine() -> Engine:
    return Engine()


def maker_for(checkup: Checkup, engine: Engine, paper: str, folder: Path = ROOT) -> SheetMaker:
    assert checkup.book is not None
    facts = replace(checkup.book.plant.facts, paper=Text(paper, Span("")))
    return SheetMaker(engine, picture_data(folder), facts, "en", {})


@pytest.fixture(scope="session", params=list(PAPERS))
def hung_sheets(request: pytest.FixtureRequest, demo_checkup: Checkup, sheet_engine: Engine) -> list[Hung]:
    maker = maker_for(demo_checkup, sheet_engine, request.param)
    hung = []
    for edition in demo_checkup.editions.values():
        view = maker.view(edition)
        data = maker.pdf(edition)
        hung.append(Hung(edition, view, data, Sheet(data, stops_of(view)), request.param))
    assert len(hung) >= 14
    return hung


@pytest.fixture(scope="session")
def letter_maker(demo_checkup: Checkup, sheet_engine: Engine) -> SheetMaker:
    return maker_for(demo_checkup, sheet_engine, "Letter")


# 15: cautions


@pytest.mark.requirement(number=15)
def test_15_a_caution_stands_before_every_step_it_covers(hung_sheets: list[Hung]) -> None:
    count = 0
    for hung in hung_sheets:
        if not isinstance(hung.edition.written, Procedure):
            continue
        places = placed(hung.sheet, hung.blocks)
        steps = {block.name: place for block, place in places if block.form == "step"}
        cautions = [place for block, place in places if block.form == "caution"]
        written = [item for item in every(hung.edition.written.steps) if isinstance(item, Caution)]
        for item, place in zip(written, cautions, strict=True):
            assert item.covers
            assert all(place.end <= steps[str(name)].start for name in item.covers), (hung.edition.id, item.hazard)
            count += 1
    assert count >= 10


@pytest.mark.requirement(number=15)
def test_15_a_caution_says_hazard_harm_and_avoidance_and_what_to_do_then(hung_sheets: list[Hung]) -> None:
    for hung in hung_sheets:
        written = getattr(hung.edition.written, "steps", ())
        for item in (each for each in every(written) if isinstance(each, Caution)):
            wanted = f"{item.kind.upper()} {item.hazard} Harm: {item.harm} Avoid: {item.avoid}"
            start = hung.sheet.place(wanted).end
            if item.kind in ("danger", "warning"):
                assert hung.sheet.text.startswith(squeezed("If it happens: go to"), start), (hung.edition.id, wanted)


# 16: lines


@pytest.mark.requirement(number=16)
def test_16_a_line_has_at_most_80_characters(hung_sheets: list[Hung]) -> None:
    long = [part for hung in hung_sheets for line in hung.sheet.body for part in line.columns() if len(part) > 80]
    assert long == []


# 17: pages


def placed(sheet: Sheet, wanted: list[Block]) -> list[tuple[Block, Place]]:
    """Find every block in order; an assertion fails when one is missing or stands before its turn."""
    at, found = 0, []
    for block in wanted:
        place = (sheet.heading if block.form == "heading" else sheet.place)(block.text, at)
        found.append((block, place))
        at = place.end
    return found


def assert_pages_hold(sheet: Sheet, wanted: list[Block]) -> None:
    places = placed(sheet, wanted)
    for block, place in places:
        assert len(place.pages) == 1, f"split: {block}"
    for (block, place), (after, next_place) in pairwise(places):
        if block.form in ("caution", "heading"):
            assert place.pages == next_place.pages, f"a page ends with {block}, then comes {after}"
    last = places[-1][0]
    assert last.form not in ("caution", "heading")
    steps = sum(block.form == "step" for block in wanted)
    assert sum(len(sheet.ticks(number)) for number in range(len(sheet.pages))) == steps


@pytest.mark.requirement(number=17)
def test_17_no_page_ends_with_a_caution_and_no_step_is_split(hung_sheets: list[Hung]) -> None:
    for hung in hung_sheets:
        assert_pages_hold(hung.sheet, hung.blocks)


@pytest.mark.requirement(number=17)
def test_17_no_page_ends_with_a_heading(hung_sheets: list[Hung]) -> None:
    for hung in hung_sheets:
        headings = {squeezed(title) for title in headings_of(hung.sheet)}
        assert headings
        for before, after in pairwise(hung.sheet.body):
            if before.page != after.page:
                assert squeezed(before.text) not in headings, (hung.edition.id, before.text)


def headings_of(sheet: Sheet) -> set[str]:
    return {line.text for line in sheet.body if line.size in HEADINGS} or {sheet.body[0].text}


@pytest.mark.requirement(number=17)
def test_17_a_step_longer_than_a_page_fails_the_sheet(letter_maker: SheetMaker, demo_checkup: Checkup) -> None:
    view = invented_view(letter_maker, demo_checkup, (step("1", "word " * 3000),))
    with pytest.raises(SheetFailedError, match="step 1 is longer than a page"):
        letter_maker.lay_out(view)


@pytest.mark.requirement(number=17)
def test_17_a_caution_that_cannot_stay_with_its_step_fails_the_sheet(
    letter_maker: SheetMaker, demo_checkup: Checkup
) -> None:
    view = invented_view(letter_maker, demo_checkup, (caution("danger", 350), step("1", "word " * 550)))
    with pytest.raises(SheetFailedError, match="does not fit on a page with what it stands before"):
        letter_maker.lay_out(view)


# 18: control


@pytest.mark.requirement(number=18)
def test_18_every_page_carries_the_control_items(hung_sheets: list[Hung], demo_checkup: Checkup) -> None:
    assert demo_checkup.book is not None
    facts = demo_checkup.book.plant.facts
    roles = {str(key): str(role.name) for key, role in demo_checkup.book.plant.roles.roles.items()}
    for hung in hung_sheets:
        written = hung.edition.written
        content = sha256(hung.edition.canonical.encode("utf-8")).hexdigest()[:8]
        wanted = [
            hung.edition.id,
            written.title,
            f"Revision {written.revision} ·",
            f"Effective from {written.effective} ·",
            f"Review by {written.review} ·",
            f"Approved by {roles[str(written.approved)]} ·",
            f"Content {content}",
            f"The copy that counts: {facts.live_copy}.",
            "Marks on this sheet help keep the place. They are not a record.",
            facts.scenario,
        ]
        for number, page in enumerate(hung.sheet.pages):
            # The number of the page floats at the right of a line and is read with it.
            page_of = f"Page {number + 1} of {len(hung.sheet.pages)}"
            text = hung.sheet.page_text(number)
            assert text.count(page_of) == 1
            rest = squeezed(text.replace(page_of, ""))
            assert [each for each in wanted if squeezed(str(each)) not in rest] == [], (hung.edition.id, page)


@pytest.mark.requirement(number=18)
def test_18_every_page_of_a_procedure_says_how_to_stop_safely(hung_sheets: list[Hung]) -> None:
    for hung in hung_sheets:
        stops = [squeezed(stop) for stop in stops_of(hung.view)]
        for number in range(len(hung.sheet.pages)):
            text = squeezed(hung.sheet.page_text(number))
            assert not stops or any(stop in text for stop in stops), (hung.edition.id, number + 1)


# 19: type


@pytest.mark.requirement(number=19)
@pytest.mark.parametrize(
    ("distance_mm", "points"),
    [
        (700, 15),  # 700 / 200 = 3.5 mm of capital; / 0.668 em = 5.24 mm = 14.85 pt
        (1000, 22),  # 5 mm; 7.485 mm = 21.2 pt
        (2000, 43),  # 10 mm; 14.97 mm = 42.4 pt
        (300, 15),  # 6.4 pt would do for the eye; a step is never set under 15 pt
    ],
)
def test_19_type_size_comes_from_the_reading_distance(distance_mm: int, points: int) -> None:
    assert type_size(distance_mm) == points


@pytest.mark.requirement(number=19)
@pytest.mark.parametrize("weight", ["Regular", "Bold"])
def test_19_the_capital_height_is_that_of_the_font(weight: str) -> None:
    with TTFont(FONT / "files" / f"AtkinsonHyperlegible-{weight}.ttf") as font:
        assert font["OS/2"].sCapHeight == CAPITAL_HEIGHT * font["head"].unitsPerEm
        assert font["glyf"]["H"].yMax == CAPITAL_HEIGHT * font["head"].unitsPerEm


@pytest.mark.requirement(number=19)
def test_19_no_step_or_caution_is_set_under_15_points(hung_sheets: list[Hung]) -> None:
    for hung in hung_sheets:
        for block, place in placed(hung.sheet, hung.blocks):
            assert min(place.sizes) >= 15, (hung.edition.id, block)


@pytest.mark.requirement(number=19)
def test_19_what_comes_first_in_an_emergency_is_read_from_one_metre(hung_sheets: list[Hung]) -> None:
    emergencies = [each for each in hung_sheets if isinstance(each.view, ProcedureView) and each.view.is_emergency]
    assert len(emergencies) >= 4
    for hung in emergencies:
        assert isinstance(hung.view, ProcedureView)
        first = said(hung.view.leave_if[0]) if hung.view.leave_if else hung.blocks[1].text
        place = hung.sheet.place(first)
        assert min(place.sizes) >= 22
        assert place.pages == {0}


# 20: words


@pytest.mark.requirement(number=20)
def test_20_the_style_has_no_italics_no_justified_text_and_no_capitals_of_its_own() -> None:
    assert re.search(r"italic|oblique|justify|small-caps|hyphens", CSS) is None
    transforms = [rule for rule in re.findall(r"[^{}]+\{[^}]*\}", CSS) if "text-transform" in rule]
    # The first letter of a sentence that stands inside another one on a page.
    assert [rule.strip().partition(" ")[0] for rule in transforms] == [".go-to::first-letter"]


#: words in capitals that are no signal word: what is written on a tag or a label, and the word of a hold point
INSCRIPTIONS = {"HOLD", "CLEAN", "CLEANING", "NOT", "COMPLETE", "RELEASED", "IN", "PROCESS", "DO", "OPERATE"}
INSCRIPTIONS |= {"MLC"}  # in the codes on the labels of milk-line cleaner
INSCRIPTIONS |= set("OUT OF ORDER, AT REST, WASH OR BLEED FIRST, OFF, ON".replace(",", "").split())
SIGNAL_WORDS = {"DANGER", "WARNING", "CAUTION", "NOTICE"}
#: US customary units, and the hazard codes of the GHS in Europe
ABBREVIATIONS = {"US", "EUH"}


@pytest.mark.requirement(number=20)
def test_20_only_signal_words_inscriptions_and_abbreviations_are_in_capitals(hung_sheets: list[Hung]) -> None:
    known = INSCRIPTIONS | SIGNAL_WORDS | ABBREVIATIONS
    for hung in hung_sheets:
        found = {word for line in hung.sheet.body for word in re.findall(r"[A-Z]{2,}", line.text)}
        assert found <= known, hung.edition.id


@pytest.mark.requirement(number=20)
def test_20_only_the_fonts_of_the_package_are_there_and_all_are_embedded(hung_sheets: list[Hung]) -> None:
    for hung in hung_sheets:
        names = set()
        for page in hung.sheet.pages:
            for font in resolve1(page.page_obj.resources["Font"]).values():
                descendant = resolve1(resolve1(resolve1(font)["DescendantFonts"])[0])
                descriptor = resolve1(descendant["FontDescriptor"])
                assert {"FontFile2", "FontFile3"} & descriptor.keys()
                names.add(descendant["BaseFont"].name.partition("+")[2])
        assert names <= {"Atkinson-Hyperlegible", "Atkinson-Hyperlegible-Bold"}, hung.edition.id


# 21: boxes and edges


@pytest.mark.requirement(number=21)
def test_21_tick_boxes_are_large_enough_for_a_glove_and_a_marker(hung_sheets: list[Hung]) -> None:
    for hung in hung_sheets:
        for number in range(len(hung.sheet.pages)):
            ticks = hung.sheet.ticks(number)
            for tick in ticks:
                assert tick["width"] + tick["linewidth"] >= 8 * MM - 0.01
                assert tick["linewidth"] >= 0.5 * MM - 0.01
            tops = sorted(tick["top"] for tick in ticks)
            assert all(below - above >= 12 * MM - 0.01 for above, below in pairwise(tops)), (hung.edition.id, number)


def assert_edges_are_clear(sheet: Sheet, name: str) -> None:
    for page in sheet.pages:
        drawn = [*page.chars, *page.rects, *page.curves, *page.lines, *page.images]
        assert len(drawn) > 50
        left = min(each["x0"] - each.get("linewidth", 0) / 2 for each in drawn)
        right = max(each["x1"] + each.get("linewidth", 0) / 2 for each in drawn)
        top, bottom = min(each["top"] for each in drawn), max(each["bottom"] for each in drawn)
        clear = (left, page.width - right, top, page.height - bottom)
        assert min(clear) >= 10 * MM - 0.01, f"{name} page {page.page_number}: {[each / MM for each in clear]}"


@pytest.mark.requirement(number=21)
def test_21_ten_millimetres_are_clear_at_every_edge(hung_sheets: list[Hung]) -> None:
    for hung in hung_sheets:
        assert_edges_are_clear(hung.sheet, hung.edition.id)


@pytest.mark.requirement(number=21)
def test_21_the_paper_is_the_one_of_the_book(hung_sheets: list[Hung]) -> None:
    for hung in hung_sheets:
        width, height = PAPERS[hung.paper]
        for page in hung.sheet.pages:
            assert (page.width, page.height) == pytest.approx((width, height), abs=0.05)


# 22: signs


#: the colours of a mandatory disc, of the frame of a GHS pictogram, of a safe condition sign, as parts of 1
BLUE, RED, GREEN = (0, 83 / 255, 135 / 255), (155 / 255, 36 / 255, 35 / 255), (35 / 255, 127 / 255, 82 / 255)


def drawn_in(page: pdfplumber.page.Page, colour: tuple[float, ...]) -> list[dict[str, Any]]:
    """What is filled or drawn in a colour and as large as a sign."""
    shapes = [*page.curves, *page.rects]
    return [
        each
        for each in shapes
        if each["width"] > 15 * MM
        and any(
            value is not None and len(value) == 3 and value == pytest.approx(colour, abs=0.002)
            for value in (
                each["non_stroking_color"] if each["fill"] else None,
                each["stroking_color"] if each["stroke"] else None,
            )
        )
    ]


@pytest.mark.requirement(number=22)
def test_22_signs_are_20_mm_or_more_with_their_words(hung_sheets: list[Hung]) -> None:
    for hung in hung_sheets:
        if not isinstance(hung.view, ProcedureView):
            continue
        discs = [each for page in hung.sheet.pages for each in drawn_in(page, BLUE)]
        assert len(discs) == len(hung.view.wear), hung.edition.id
        assert all(min(disc["width"], disc["height"]) >= 20 * MM for disc in discs)
        for disc, worn in zip(discs, hung.view.wear, strict=True):
            page = hung.sheet.pages[disc["page_number"] - 1]
            below = (disc["x0"] - 8 * MM, disc["bottom"], disc["x1"] + 8 * MM, disc["bottom"] + 14 * MM)
            assert squeezed(worn.name) == squeezed(page.crop(below).extract_text())


@pytest.mark.requirement(number=22)
def test_22_pictograms_and_the_telephone_are_20_mm_or_more(hung_sheets: list[Hung]) -> None:
    for hung in hung_sheets:
        if not isinstance(hung.view, ProcedureView):
            continue
        shapes = {
            colour: [each for page in hung.sheet.pages for each in drawn_in(page, colour)] for colour in (RED, GREEN)
        }
        wanted = sum(len(each.pictograms) for each in hung.view.hazards if each.signal_word)
        assert len(shapes[RED]) == wanted, hung.edition.id
        assert len(shapes[GREEN]) == (1 if hung.view.is_emergency else 0)
        for each in (*shapes[RED], *shapes[GREEN]):
            assert each["width"] + each["linewidth"] >= 20 * MM


@pytest.mark.requirement(number=22)
def test_22_every_picture_has_a_text_in_its_place(hung_sheets: list[Hung]) -> None:
    for hung in hung_sheets:
        figures = [each for each in hung.sheet.structure if each["type"] == "Figure"]
        assert figures
        assert all(figure.get("alt_text") for figure in figures), hung.edition.id


@pytest.mark.requirement(number=22)
def test_22_a_missing_picture_fails_the_sheet(demo_checkup: Checkup, sheet_engine: Engine, tmp_path: Path) -> None:
    maker = maker_for(demo_checkup, sheet_engine, "Letter", tmp_path)
    with pytest.raises(SheetFailedError, match=r"'bleed-cleaner-line': picture 'nozzle-over-pail\.svg' cannot be read"):
        maker.pdf(demo_checkup.editions["bleed-cleaner-line"])


@pytest.mark.requirement(number=22)
def test_22_a_picture_that_cannot_be_drawn_fails_the_sheet(
    demo_checkup: Checkup, sheet_engine: Engine, tmp_path: Path
) -> None:
    pictures = tmp_path / "site_src" / "pictures"
    pictures.mkdir(parents=True)
    (pictures / "nozzle-over-pail.svg").write_text("no drawing", encoding="utf-8")
    maker = maker_for(demo_checkup, sheet_engine, "Letter", tmp_path)
    with pytest.raises(SheetFailedError, match="bleed-cleaner-line"):
        maker.pdf(demo_checkup.editions["bleed-cleaner-line"])


# 23: numbers


@pytest.mark.requirement(number=23)
def test_23_amounts_of_one_batch_stand_only_in_tables_by_batch_size(hung_sheets: list[Hung]) -> None:
    tables = 0
    for hung in hung_sheets:
        if not isinstance(hung.view, ProcedureView) or hung.view.table is None:
            continue
        tables += 1
        text = " ".join(line.text for line in hung.sheet.body)
        at_steps = [
            value for section in hung.view.sections for each in flat(section.entries) for _, value in each.by_input
        ]
        in_tables = [*(cell for _, cells in hung.view.table.rows for cell in cells), *at_steps]
        # Whole litres are left away: "4 L" is a tolerance, too.
        for cell in (each for each in set(in_tables) if "." in each):
            found = re.findall(rf"(?<![\d.]){re.escape(cell)}(?!\w)", text)
            assert len(found) == in_tables.count(cell), (hung.edition.id, cell)
    assert tables >= 1


def flat(entries: tuple[Entry, ...]) -> Iterator[Entry]:
    for entry in entries:
        yield entry
        yield from flat(entry.entries)
        for branch in entry.branches:
            yield from flat(branch.entries)


@pytest.mark.requirement(number=23)
def test_23_the_blend_sheet_shows_each_amount_at_its_step_for_every_batch_size(hung_sheets: list[Hung]) -> None:
    sheet = next(each.sheet for each in hung_sheets if each.edition.id == "blend-milk-line-cleaner")
    # 10.6 kg of potassium hydroxide solution for 100 L as the recipe has it, and in proportion: 15.9 and 21.2.
    assert squeezed("How much for 100 L for 150 L for 200 L 10.6 kg 15.9 kg 21.2 kg") in sheet.text


def page_texts(checkup: Checkup) -> dict[str, str]:
    """The text of the page of each procedure and checklist, by id."""
    assert checkup.book is not None
    assert checkup.rehearsal is not None
    audit = audit_of(checkup.rehearsal, date(2026, 12, 1))
    content = Content(checkup.book, checkup.editions, "en", True, checkup.rehearsal, audit)
    made = {page.address: " ".join((*(each.text for each in page.headings), *page.blocks)) for page in pages(content)}
    made |= dict(emergency_pages(content))
    return {Path(address).stem: html.unescape(re.sub(r"<[^>]+>", " ", text)) for address, text in made.items()}


def number_pattern() -> re.Pattern[str]:
    table = json.loads((files("tankside") / "units.json").read_text(encoding="utf-8"))
    symbols = {unit["symbol"] for unit in table["units"]} | set(table.get("aliases", {})) | {"%"}
    units = "|".join(re.escape(each) for each in sorted(symbols, key=lambda each: (-len(each), each)))
    return re.compile(rf"(?<![\w.-])\d+(?:\.\d+)? (?:{units})(?![\w/])")


@pytest.mark.requirement(number=23)
def test_23_every_number_on_a_sheet_is_on_its_page(hung_sheets: list[Hung], demo_checkup: Checkup) -> None:
    texts, pattern = page_texts(demo_checkup), number_pattern()
    count = 0
    for hung in hung_sheets:
        sources = [hung.edition.id, *(part.procedure for part in hung.edition.parts)]
        text = re.sub(r"\s+", " ", " ".join(texts[source] for source in sources))
        on_page = set(pattern.findall(text))
        on_sheet = set(pattern.findall(" ".join(line.text.strip() for line in hung.sheet.body)))
        assert on_sheet <= on_page, (hung.edition.id, on_sheet - on_page)
        count += len(on_sheet)
    assert count >= 60


# the file


def test_a_sheet_is_tagged_and_has_a_title_and_a_language(hung_sheets: list[Hung]) -> None:
    for hung in hung_sheets:
        catalog = hung.sheet.pdf.doc.catalog
        assert resolve1(catalog["MarkInfo"])["Marked"] is True
        assert resolve1(catalog["StructTreeRoot"])
        assert catalog["Lang"] == b"en"
        assert hung.sheet.pdf.metadata["Title"] == hung.edition.written.title
        assert sum(each["type"] == "H1" for each in hung.sheet.structure) == 1


def test_a_sheet_has_nothing_to_fill_in_or_to_follow(hung_sheets: list[Hung]) -> None:
    for hung in hung_sheets:
        assert "AcroForm" not in hung.sheet.pdf.doc.catalog
        assert all(page.annots == [] for page in hung.sheet.pages)


def test_anything_that_weasyprint_warns_of_fails_the_sheet(sheet_engine: Engine) -> None:
    with pytest.raises(SheetFailedError, match=r"sheet 'a-sheet': .*no-such-property"):
        sheet_engine.pdf("<p style='no-such-property: 1'>text</p>", "", "a-sheet")


def test_checklist_may_list_a_procedure_again(tmp_path: Path, sheet_engine: Engine) -> None:
    book = copy_book(tmp_path / "book")
    again = "  - procedure: start-of-day\n    section: air\n  - procedure: protective-equipment\nhistory:\n"
    replace_text(book / "checklists/close-the-workshop.yaml", "history:\n", again)
    checkup = check_book(book)
    assert maker_for(checkup, sheet_engine, "A4", book).pdf(checkup.editions["close-the-workshop"])


def test_nothing_is_fetched(sheet_engine: Engine) -> None:
    with pytest.raises(SheetFailedError, match=r"sheet 'a-sheet': .*example\.org"):
        sheet_engine.pdf("<img alt='x' src='https://example.org/x.png'>", "", "a-sheet")


def test_the_same_book_gives_the_same_bytes_in_two_processes(tmp_path: Path) -> None:
    names = ("bleed-cleaner-line", "small-spill", "open-the-workshop")
    for seed in ("1", "2"):
        command = [sys.executable, "-m", "tankside", "sheets", *names, "--book", str(ROOT), "--into", tmp_path / seed]
        environment = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT / "tools")}
        subprocess.run(command, env=environment, check=True, capture_output=True)
    for name in names:
        one, two = ((tmp_path / seed / f"{name}.pdf").read_bytes() for seed in ("1", "2"))
        assert one == two, name


# checklists


def test_a_checklist_shows_the_sections_its_steps_send_to(hung_sheets: list[Hung]) -> None:
    sheet = next(each.sheet for each in hung_sheets if each.edition.id == "open-the-workshop")
    order = ("Tanks and tags", "Something is not in order", "Put on and take off protective equipment", "Look it over")
    at = sheet.place("24 Check").start - 400
    for title in order:
        at = sheet.place(title, at).end


def test_a_checklist_of_titles_shows_each_title_with_its_reason(hung_sheets: list[Hung]) -> None:
    sheet = next(each.sheet for each in hung_sheets if each.edition.id == "first-day")
    first = "1 Gas, fire or a big spill, leave now First, because it is needed first."
    assert sheet.place(first).pages == {0}
    assert len(sheet.ticks(0)) == 9
    assert len(sheet.pages) == 1


# invented procedures


def words(text: str) -> Sentence:
    return (Run(text),)


def step(number: str, text: str, **more: Any) -> Entry:
    return Entry("step", "do", words(text), number=number, name=f"step-{number}", **more)


def caution(kind: str, length: int) -> Entry:
    details = (Detail("Harm", words("It burns.")), Detail("Avoid", words("word " * length + "end.")))
    return Entry("caution", kind, words("It is there."), details=details)


def invented_view(maker: SheetMaker, checkup: Checkup, entries: tuple[Entry, ...]) -> ProcedureView:
    view = maker.view(checkup.editions["bleed-cleaner-line"])
    assert isinstance(view, ProcedureView)
    return replace(view, sections=(SectionView("only", "Only section", False, entries),))


class Inventor:
    """Invents procedures: long ones, short ones, with long words, nested, with many cautions or none."""

    WORDS = ("lid", "valve", "the", "slowly", "rinse", "carefully", "drum", "of", "inlet", "unscrews", "A7", "seal")
    LONG = "Polyoxyethylenealkylbenzenesulfonateneutralisation"

    def __init__(self, seed: int) -> None:
        self.random = random.Random(seed)
        self.count = 0

    def text(self, most: int) -> str:
        chosen = self.random.choices(self.WORDS, k=self.random.randint(2, most))
        if self.random.random() < 0.15:
            chosen.insert(self.random.randrange(len(chosen)), self.LONG)
        self.count += 1
        return " ".join((*chosen, f"no{self.count}."))

    def details(self, most: int) -> tuple[Detail, ...]:
        labels = self.random.sample(("Until", "Within", "If not", "Where", "With"), self.random.randint(0, most))
        return tuple(Detail(label, words(self.text(15))) for label in labels)

    def caution(self) -> Entry:
        kind = self.random.choice(("danger", "warning", "caution", "notice"))
        details = tuple(Detail(label, words(self.text(12))) for label in ("Harm", "Avoid"))
        return Entry("caution", kind, words(self.text(9)), details=details)

    def step(self, number: str, depth: int, *, is_alone: bool) -> Entry:
        more: dict[str, Any] = {"details": self.details(4 if is_alone else 2)}
        if is_alone and self.random.random() < 0.1:
            more |= {"picture": "tank-valve-pump.svg", "picture_says": "A tank"}
        if depth and self.random.random() < 0.07:
            more["entries"] = self.entries(f"{number}.", self.random.randint(1, 3), depth - 1)
            return replace(step(number, self.text(25), **more), kind="repeat")
        if depth and self.random.random() < 0.07:
            more["branches"] = tuple(self.branch(number, letter, depth) for letter in "ABC")
            return replace(step(number, self.text(25), **more), kind="choose")
        return replace(step(number, self.text(25), **more), kind=self.random.choice(("do", "check", "hold")))

    def branch(self, number: str, letter: str, depth: int) -> BranchView:
        go_to = words('go to "Elsewhere"') if letter == "C" else None
        inside = () if go_to else self.entries(f"{number}{letter}.", self.random.randint(1, 2), depth - 1)
        return BranchView(letter, words(f"If {self.text(12)}"), go_to, inside)

    def entries(self, prefix: str, count: int, depth: int, first: int = 1) -> tuple[Entry, ...]:
        found: list[Entry] = []
        for number in range(first, first + count):
            # A step that others stand in, its cautions and theirs could together be longer than a page.
            begins_inside = depth < 2 and number == first
            if not begins_inside and self.random.random() < 0.1:
                found.append(Entry("note", "note", words(self.text(25))))
            cautions = 0 if begins_inside else self.random.choices((0, 1, 2), weights=(70, 20, 10))[0]
            found.extend(self.caution() for _ in range(cautions))
            found.append(self.step(f"{prefix}{number}", depth, is_alone=not cautions))
        return tuple(found)

    def sections(self) -> Iterator[SectionView]:
        first = 1
        for number in range(self.random.randint(1, 3)):
            count = 40 if self.random.random() < 0.02 else self.random.randint(1, 5)
            yield SectionView(f"s{number}", f"Part {self.text(9)}", number == 3, self.entries("", count, 2, first))
            first += count

    def view(self, base: ProcedureView) -> ProcedureView:
        title = self.text(self.random.choice((4, 40)))
        return replace(
            base,
            control=replace(base.control, title=title, id="-".join(["long"] * self.random.randint(1, 12))),
            stop_safely=(Run(self.text(40)), Run(" P1", "tag"), Run(" off.")),
            scope=words(self.text(60)),
            sections=tuple(self.sections()),
            # What stands around the steps is the same on every sheet and is looked at on those of the demonstration.
            remedies=base.remedies[:1],
            hazards=(),
            first_aid=(),
            energy=(),
        )


@pytest.mark.requirement(number=17)
@pytest.mark.requirement(number=18)
@pytest.mark.requirement(number=21)
def test_17_18_and_21_hold_for_invented_procedures(demo_checkup: Checkup, sheet_engine: Engine) -> None:
    makers = [maker_for(demo_checkup, sheet_engine, paper) for paper in PAPERS]
    for seed in range(40):
        maker = makers[seed % 2]
        base = maker.view(demo_checkup.editions[("bleed-cleaner-line", "splash", "lock-out-mixer")[seed % 3]])
        assert isinstance(base, ProcedureView)
        view = Inventor(seed).view(base)
        sheet = Sheet(maker.lay_out(view), stops_of(view))
        assert_pages_hold(sheet, blocks(view))
        assert_edges_are_clear(sheet, f"seed {seed}")
        for number in range(len(sheet.pages)):
            text = squeezed(sheet.page_text(number))
            assert squeezed(view.control.title) in text
            assert squeezed(f"{view.control.id} · Revision") in text
            assert squeezed(f"Page {number + 1} of {len(sheet.pages)}") in text


def test_reading_back_tells_a_split_step_from_a_whole_one() -> None:
    import weasyprint

    loose = "<style>@page {size: 10cm 10cm} p {font-size: 15pt}</style>" + "<p>word</p>" * 10 + "<p>" + "word " * 80
    sheet = Sheet(io.BytesIO(weasyprint.HTML(string=loose).write_pdf()).getvalue(), [])
    with pytest.raises(AssertionError, match="split"):
        assert_pages_hold(sheet, [Block("step", "word " * 80)])

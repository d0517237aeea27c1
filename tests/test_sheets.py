"""Step sheets, read back from their PDFs. The numbers in the names are the requirements they prove."""

from __future__ import annotations

import re
from collections.abc import Iterator
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
from page_numbers import number_pattern, page_texts
from sheet_holding import assert_pages_hold, placed
from sheet_making import Hung, demo, engine, laid_out, opened, stops_of
from sheet_reading import MM, Sheet, squeezed

from tankside.checkup import check_book
from tankside.edition.sheets import sheet_editions
from tankside.loading.sources import picture_data
from tankside.model.procedures import Procedure
from tankside.model.reading import CAPITAL_HEIGHT, type_size
from tankside.model.steps import Caution, every
from tankside.render_print.sheets import SheetMaker
from tankside.views.procedures import ProcedureView
from tankside.views.steps import Entry

CSS = (files("tankside") / "assets" / "print" / "sheet.css").read_text(encoding="utf-8")


@pytest.fixture(scope="module", params=["A4", "Letter"])
def hung_sheets(request: pytest.FixtureRequest) -> list[Hung]:
    """The step sheet of each procedure and checklist."""
    made = [laid_out(name, request.param) for name in demo().editions]
    assert len(made) >= 14
    return made


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
            assert all(place.end <= steps[str(name)].start for name in item.covers), (hung.name, item.hazard)
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
                assert hung.sheet.text.startswith(squeezed("If it happens: go to"), start), (hung.name, wanted)


# 16: lines


@pytest.mark.requirement(number=16)
def test_16_a_line_has_at_most_80_characters(hung_sheets: list[Hung]) -> None:
    long = [part for hung in hung_sheets for line in hung.sheet.body for part in line.columns() if len(part) > 80]
    assert long == []


# 17: pages


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
                assert squeezed(before.text) not in headings, (hung.name, before.text)


def headings_of(sheet: Sheet) -> set[str]:
    return {line.text for line in sheet.body if line.size in sheet.headings} or {sheet.body[0].text}


# 18: control


@pytest.mark.requirement(number=18)
def test_18_every_page_of_a_procedure_says_how_to_stop_safely(hung_sheets: list[Hung]) -> None:
    for hung in hung_sheets:
        stops = [squeezed(stop) for stop in stops_of(hung.view)]
        for number in range(len(hung.sheet.pages)):
            text = squeezed(hung.sheet.page_text(number))
            assert not stops or any(stop in text for stop in stops), (hung.name, number + 1)


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
            assert min(place.sizes) >= 15, (hung.name, block)


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
        assert found <= known, hung.name


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
            assert all(below - above >= 12 * MM - 0.01 for above, below in pairwise(tops)), (hung.name, number)


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
        assert len(discs) == len(hung.view.wear), hung.name
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
        # Equal labels stand there once; in an emergency nobody reads them.
        hazards = () if hung.view.is_emergency else hung.view.hazards
        labels = {(each.signal_word, each.pictograms, each.says) for each in hazards if each.signal_word}
        wanted = sum(len(pictograms) for _, pictograms, _ in labels)
        assert len(shapes[RED]) == wanted, hung.name
        assert len(shapes[GREEN]) == (1 if hung.view.is_emergency else 0)
        for each in (*shapes[RED], *shapes[GREEN]):
            assert each["width"] + each["linewidth"] >= 20 * MM


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
            assert len(found) == in_tables.count(cell), (hung.name, cell)
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


@pytest.mark.requirement(number=23)
def test_23_every_number_on_a_sheet_is_on_its_page(hung_sheets: list[Hung]) -> None:
    texts, pattern = page_texts(demo()), number_pattern()
    count = 0
    for hung in hung_sheets:
        assert hung.edition is not None
        sources = [hung.name, *(part.procedure for part in hung.edition.parts)]
        text = re.sub(r"\s+", " ", " ".join(texts[source] for source in sources))
        on_page = set(pattern.findall(text))
        on_sheet = set(pattern.findall(" ".join(line.text.strip() for line in hung.sheet.body)))
        assert on_sheet <= on_page, (hung.name, on_sheet - on_page)
        count += len(on_sheet)
    assert count >= 60


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


def test_a_checklist_may_list_a_procedure_again(tmp_path: Path) -> None:
    book = copy_book(tmp_path / "book")
    again = "  - procedure: start-of-day\n    section: air\n  - procedure: protective-equipment\nhistory:\n"
    replace_text(book / "checklists/close-the-workshop.yaml", "history:\n", again)
    checkup = check_book(book)
    assert checkup.book is not None
    made = SheetMaker(engine(), picture_data(book), checkup.book.plant, "en", {})
    sheet = sheet_editions(checkup.book.plant, checkup.editions)["close-the-workshop"]
    text = squeezed("".join(page.extract_text() for page in opened(made.pdf(sheet)).pages))
    # The section stood there once before, as an item of the checklist.
    assert text.count(squeezed("Put on and take off protective equipment")) >= 1


# black and white


def luminance(colour: str) -> float:
    """The relative luminance of a colour (WCAG 2.2), which is how light it is on a printer without colours."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [each / 12.92 if each <= 0.04045 else ((each + 0.055) / 1.055) ** 2.4 for each in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.requirement(number=20)
def test_signal_words_can_be_read_without_colour() -> None:
    panels = dict(re.findall(r"\.caution-(\w+) \.signal \{ (background: [^}]+)\}", CSS))
    assert set(panels) == {"danger", "warning", "caution", "notice"}
    for kind, style in panels.items():
        background = re.search(r"background: (#\w{6})", style)
        assert background is not None
        letters = 1.0 if "color: #fff" in style else 0.0
        light, dark = sorted((letters, luminance(background[1])), reverse=True)
        # WCAG 2.2, 1.4.3: 4.5 to 1 for text
        assert (light + 0.05) / (dark + 0.05) >= 4.5, kind

"""The PDF of a sheet and of the binder: tagged, read in the order of its text, the same bytes wherever it is made."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from hashlib import sha256
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from pdfminer.pdftypes import resolve1
from record_reading import SENTENCE
from sheet_making import (
    DECLARED,
    EXAMPLES,
    FILLED_IN,
    ROOT,
    demo,
    engine,
    laid_out,
    maker,
    of_kind,
    opened,
    plant,
    sheets,
)
from sheet_reading import Sheet, cut_lines, squeezed

from tankside.audit import audit_of
from tankside.audit.day import today
from tankside.render_print.binder import binder
from tankside.render_print.draft import Draft
from tankside.render_print.engine import SheetFailedError
from tankside.render_print.paper import BINDING_MM, CLEAR_MM
from tankside.render_print.press import Job, lay_out
from tankside.views.audit import AuditView, audit_view

MM = 72 / 25.4
ONE_OF_EACH = [names[0] for kind, names in EXAMPLES.items() if kind != "record-sheet"]
KINDS = list(EXAMPLES)


#: kinds that are used up or handed out; none of them is in a binder
HANDED_OUT = (*FILLED_IN, "container-label", "visitor-sheet")


def text_of(data: bytes) -> str:
    return "".join(page.extract_text() for page in opened(data).pages)


# one sheet


@pytest.mark.parametrize("kind", KINDS)
def test_sheet_is_tagged_and_has_a_title_and_a_language(kind: str) -> None:
    for hung in of_kind(kind):
        catalog = hung.sheet.pdf.doc.catalog
        assert resolve1(catalog["MarkInfo"])["Marked"] is True
        assert resolve1(catalog["StructTreeRoot"])
        assert catalog["Lang"] == b"en"
        title = hung.sheet.pdf.metadata["Title"]
        assert squeezed(title.partition(", record sheet")[0])[:30] in squeezed(hung.sheet.page_text(0)), hung.name
        headings = sum(each["type"] == "H1" for each in hung.sheet.structure)
        assert headings == (0 if kind == "container-label" else 1), hung.name


@pytest.mark.parametrize("kind", KINDS)
def test_sheet_has_nothing_to_fill_in_on_a_screen_or_to_follow(kind: str) -> None:
    for hung in of_kind(kind):
        assert "AcroForm" not in hung.sheet.pdf.doc.catalog
        assert all(page.annots == [] for page in hung.sheet.pages)


@pytest.mark.requirement(number=22)
@pytest.mark.parametrize("kind", KINDS)
def test_22_every_picture_has_a_text_in_its_place(kind: str) -> None:
    figures = 0
    for hung in of_kind(kind):
        found = [each for each in hung.sheet.structure if each["type"] == "Figure"]
        assert all(figure.get("alt_text") for figure in found), hung.name
        figures += len(found)
    assert figures >= (0 if kind in (*FILLED_IN, "chart-sheet") else 1)


#: how far up on its page the next text may begin, in points: letters of a table differ in size
SLACK = 4 * MM


@pytest.mark.parametrize("kind", KINDS)
def test_tags_are_in_the_order_in_which_the_sheet_is_read(kind: str) -> None:
    for hung in of_kind(kind):
        # Beside each step of a record sheet stand places for initials, which are read before it.
        texts = [each for each in tagged(hung.sheet) if kind != "record-sheet" or each.size > SENTENCE]
        assert len(texts) >= 3
        for before, after in pairwise(texts):
            below = (before.page, before.top - SLACK) <= (after.page, after.top)
            # In a table, and behind a row of pictures, what comes next stands at the right.
            beside = before.page == after.page and after.left >= before.right - 1
            assert below or beside, (hung.name, hung.paper, before, after)


@pytest.mark.parametrize("kind", KINDS)
def test_all_text_between_head_and_foot_is_tagged(kind: str) -> None:
    for hung in of_kind(kind):
        found = Counter(squeezed("".join(each.text for each in tagged(hung.sheet))))
        body = Counter("".join(squeezed(line.text) for line in hung.sheet.body)) if hung.sheet.name else Counter()
        # What stands in a drawing is said by the text in its place.
        assert kind in DRAWN or body - found == Counter(), (hung.name, hung.paper, body - found)


DRAWN = ("lockout-sheet", "plant-sheet", "chart-sheet")


@dataclass(frozen=True)
class Tagged:
    """A text of the tagged document, and where it stands."""

    page: int
    top: float
    left: float
    right: float
    size: float
    text: str


def tagged(sheet: Sheet) -> Iterator[Tagged]:
    """The texts of the tagged document in the order of its tree; head and foot are no part of it."""
    chars: dict[tuple[int, int], list[dict[str, Any]]] = {}
    for page in sheet.pages:
        for char in page.chars:
            if char["mcid"] is not None and char["text"].strip():
                chars.setdefault((page.page_number, char["mcid"]), []).append(char)
    for element in sheet.structure:
        own = [char for mark in element.get("mcids", ()) for char in chars.get((element["page_number"], mark), ())]
        if own and element["type"] != "Figure":
            right, text = max(char["x1"] for char in own), "".join(char["text"] for char in own)
            yield Tagged(element["page_number"], own[0]["top"], own[0]["x0"], right, own[0]["size"], text)


def test_anything_that_weasyprint_warns_of_fails_the_sheet() -> None:
    with pytest.raises(SheetFailedError, match=r"sheet 'a-sheet': .*no-such-property"):
        engine().pdf(Draft("a-sheet", "<p style='no-such-property: 1'>text</p>", ""))


def test_nothing_is_fetched() -> None:
    with pytest.raises(SheetFailedError, match=r"sheet 'a-sheet': .*example\.org"):
        engine().pdf(Draft("a-sheet", "<img alt='x' src='https://example.org/x.png'>", ""))


# the same bytes


MAKING = """
import sys
from hashlib import sha256
from itertools import pairwise
sys.path.insert(0, {tests!r})
from test_sheets_files import made_here
for name, found in made_here():
    print(name, found)
"""


def made_here() -> Iterator[tuple[str, str]]:
    """One sheet of each kind, and a binder, as hashes of their bytes."""
    for name in ONE_OF_EACH:
        yield name, sha256(laid_out(name, "Tabloid").data).hexdigest()
    for name in EXAMPLES["record-sheet"]:
        yield name, sha256(laid_out(name, "Letter").data).hexdigest()
    yield "binder", sha256(bound()).hexdigest()


def test_the_same_book_gives_the_same_bytes_in_another_process() -> None:
    environment = {**os.environ, "PYTHONHASHSEED": "7", "PYTHONPATH": str(ROOT / "tools")}
    command = [sys.executable, "-c", MAKING.format(tests=str(Path(__file__).parent))]
    done = subprocess.run(command, env=environment, capture_output=True, text=True, encoding="utf-8", check=True)
    assert dict(line.split() for line in done.stdout.splitlines()) == dict(made_here())


def test_the_same_bytes_come_out_of_two_processes_and_of_this_one(tmp_path: Path) -> None:
    drafts = [maker("Tabloid").draft(sheets()[name]) for name in ONE_OF_EACH]
    for processes in (1, 2):
        jobs = [Job(each, tmp_path / str(processes) / each.name) for each in drafts]
        # Twice as many jobs as there are, so that they are worth sharing.
        more = [Job(each, tmp_path / str(processes) / f"{each.name}.again") for each in drafts]
        told: list[str] = []
        assert lay_out([*jobs, *more], engine(), told.append, processes) == {}
        assert len(told) == 2 * len(drafts)
    for name in ONE_OF_EACH:
        alone = (tmp_path / "1" / name).read_bytes()
        assert alone.startswith(b"%PDF")
        assert alone == (tmp_path / "2" / name).read_bytes() == (tmp_path / "2" / f"{name}.again").read_bytes(), name


# the binder


def audited() -> AuditView:
    rehearsal, book = demo().rehearsal, demo().book
    assert rehearsal is not None
    assert book is not None
    return audit_view(audit_of(rehearsal, today()), book, (each.hash for each in demo().editions.values()), "ours")


BOUND = (
    "bleed-cleaner-line",
    "first-day",
    *(name for name, each in DECLARED.items() if str(each.kind) not in HANDED_OUT),
)


@cache
def bound() -> bytes:
    """A binder of some step sheets and of every sheet of our own."""
    return binder(maker("Letter"), [sheets()[name] for name in (*BOUND, "label-alkali")], audited(), lambda _: None)


def test_binder_is_tagged_and_has_a_title_and_a_language() -> None:
    catalog = opened(bound()).doc.catalog
    assert resolve1(catalog["MarkInfo"])["Marked"] is True
    assert catalog["Lang"] == b"en"
    assert opened(bound()).metadata["Title"] == f"Binder: {plant().facts.title}"


def test_contents_name_every_sheet_with_the_page_on_which_it_begins() -> None:
    pages = [page.extract_text() for page in opened(bound()).pages]
    rows = {squeezed(row[3] or ""): row for row in opened(bound()).pages[0].extract_tables()[0]}
    for name in BOUND:
        sheet, (at, *_, revision, short_hash) = sheets()[name], rows[name]
        assert (revision, short_hash) == (sheet.revision, sheet.short_hash)
        first = squeezed(f"{name} · Revision {sheet.revision} ·")
        begins = [at for at, text in enumerate(pages, 1) if first in squeezed(text) and "Page 1 of" in text]
        assert begins == [int(at or 0)], name
        # Printed on both sides, odd pages are right ones.
        assert begins[0] % 2 == 1, name


def test_what_is_used_up_or_handed_out_is_not_in_the_binder() -> None:
    assert "label-alkali" not in text_of(bound())


@pytest.mark.requirement(number=18)
def test_18_every_page_of_a_sheet_in_the_binder_carries_its_control_items() -> None:
    seen = set()
    for page in opened(bound()).pages:
        text = squeezed(page.extract_text())
        (name, *_) = [each for each in BOUND if squeezed(f"{each} · Revision") in text] or [""]
        if name:
            seen.add(name)
            assert squeezed(f"Content {sheets()[name].short_hash}") in text
            assert re.search(r"Page\d+of\d+", text), name
            assert squeezed(f"The copy that counts: {plant().facts.live_copy}.") in text
    assert seen == set(BOUND)


@pytest.mark.requirement(number=21)
def test_21_a_page_of_the_binder_is_not_cut_and_has_room_for_holes() -> None:
    for page in opened(bound()).pages:
        assert cut_lines(page) == []
        drawn = [*page.chars, *page.rects, *page.curves, *page.lines]
        if drawn and page.width < page.height:
            left = min(each["x0"] for each in drawn) / MM
            right = (float(page.width) - max(each["x1"] for each in drawn)) / MM
            inner, outer = (left, right) if page.page_number % 2 else (right, left)
            # 12 mm to the middle of a hole (ISO 838), 4 mm to its rim
            assert inner >= 16, page.page_number
            assert inner >= CLEAR_MM + BINDING_MM - 0.2, page.page_number
            assert outer >= 10, page.page_number

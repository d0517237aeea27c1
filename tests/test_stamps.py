"""A procedure with an open `must` is stamped on its own page and on every page of its sheet, and on nothing else."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from io import BytesIO
from pathlib import Path

import pdfplumber
import pytest
from demo_book import copy_book, replace

from tankside.audit import RULES, audit_of
from tankside.checkup import check_book
from tankside.edition.sheets import SheetEdition, sheet_editions
from tankside.loading.sources import picture_data
from tankside.render_print.engine import Engine
from tankside.render_print.sheets import SheetMaker
from tankside.render_site.content import Content
from tankside.render_site.emergencies import emergency_pages
from tankside.render_site.pages import pages

STAMP = "DRAFT, NOT FOR USE"
BLEED = "procedures/filling/bleed-cleaner-line.yaml"
SPILL = "procedures/safety/small-spill.yaml"
RULE = tuple(rule for rule in RULES if rule.code in ("exposure-not-covered", "emergency-gated"))
HELD = "  - hold: The lead has said so.\n    released_by: workshop-lead\n"


@dataclass(frozen=True)
class Made:
    """What is made of the demo book with a caution each taken from a procedure and from an emergency."""

    #: by address
    pages: dict[str, str]
    sheets: SheetMaker
    #: by id
    declared: Mapping[str, SheetEdition]
    content: Content

    def sheet(self, name: str) -> list[str]:
        """Return the text of each page of a sheet."""
        with pdfplumber.open(BytesIO(self.sheets.pdf(self.declared[name]))) as pdf:
            return [page.extract_text() for page in pdf.pages]


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Made]:
    book: Path = copy_book(tmp_path_factory.mktemp("stamped") / "book")
    replace(book / BLEED, "funnel-in, pour-pail, rinse-pail, bung-in]\n", "funnel-in, rinse-pail, bung-in]\n")
    # An emergency that holds people up: nobody waits for a release in it.
    replace(book / SPILL, "  - do: Lay spill socks around it", HELD + "  - do: Lay spill socks around it")
    checkup = check_book(book)
    assert checkup.book is not None
    assert checkup.rehearsal is not None
    audit = audit_of(checkup.rehearsal, date(2026, 12, 1), RULE)
    content = Content(checkup.book, checkup.editions, "en", True, checkup.rehearsal, audit)
    texts = {page.address: "".join(page.blocks) for page in pages(content)} | dict(emergency_pages(content))
    plant = checkup.book.plant
    maker = SheetMaker(Engine(), picture_data(book), plant, "en", content.stamps)
    yield Made(texts, maker, sheet_editions(plant, checkup.editions), content)


def test_its_page_says_so_with_what_was_found(made: Made) -> None:
    page = made.pages["procedures/filling/bleed-cleaner-line.html"]
    assert STAMP in page
    assert "no caution covers step &#39;pour-pail&#39;" in page
    assert "audit/rules.html#rule-exposure-not-covered" in page


def test_lists_say_so_beside_its_name(made: Made) -> None:
    assert STAMP in made.pages["procedures/filling/index.html"]


def test_nothing_else_is_stamped(made: Made) -> None:
    stamped = {address for address, text in made.pages.items() if 'class="stamp"' in text}
    own = {"procedures/filling/bleed-cleaner-line.html", "emergency/small-spill.html"}
    # A checklist that lists its steps stamps that part.
    assert stamped == own | {"checklists/fill-cleaner.html"}


def test_emergency_is_shown_all_the_same_with_what_was_found(made: Made) -> None:
    page = made.pages["emergency/small-spill.html"]
    assert STAMP not in page
    assert "Use it all the same." in page
    assert "rules.html#rule-emergency-gated" in page
    sheet = made.sheet("small-spill")
    assert STAMP not in "".join(sheet)
    assert "Use it all the same." in sheet[0]


def test_every_page_of_its_sheet_is_stamped(made: Made) -> None:
    sheet = made.sheet("bleed-cleaner-line")
    assert len(sheet) > 1
    assert all(STAMP in page for page in sheet)
    assert STAMP not in "".join(made.sheet("bleed-descaler-line"))

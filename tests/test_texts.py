"""Every word of the interface stands in one table, and every word of the table reaches a reader of the demo book."""

import json
from datetime import date
from pathlib import Path

import pytest

from tankside.audit import audit_of
from tankside.checkup import check_book
from tankside.loading.sources import picture_data
from tankside.render_print.engine import Engine
from tankside.render_print.sheets import SheetMaker
from tankside.render_print.shelf import Shelf
from tankside.render_site.content import Content
from tankside.render_site.emergencies import emergency_pages
from tankside.render_site.navigation import frame_words, navigation
from tankside.render_site.pages import pages
from tankside.render_site.search import index_script
from tankside.texts import Words

ROOT = Path(__file__).parent.parent
#: words for what a book may hold and the demo book does not: a limit without an upper end, a procedure that needs no
#: protective equipment, an emergency without section headings, texts that nobody has confirmed, a book of the EU;
#: kinds of equipment that stand nowhere on its line diagram, a plant none of which does; something where the book does
#: not mean it to be; anything that the audit found, and exceptions; a machine without a lockout procedure and a yes or
#: no on it, heat as a source of energy, one shower for eyes and body, a place where nothing is worn, respirators
ELSEWHERE = {
    *("limits-low", "wear-none", "first-thing", "unconfirmed", "chart-fill-law"),
    *("line-diagram-none", "meeting-not-meant"),
    *("stamp", "stamp-emergency", "stamp-why", "audit-hint", "audit-place", "audit-rule", "audit-exceptions-about"),
    *("audit-expired", "audit-until", "audit-count"),
    *("exemption", "exemption-about", "exemption-condition", "exemption-answer", "exemption-decided", "yes", "no"),
    *(f"exemption-{each}" for each in ("no-stored-energy", "one-source", "isolating-ends-it", "locked-during-work")),
    *(f"exemption-{each}" for each in ("one-lock", "under-own-control", "no-hazard-to-others", "no-accident-before")),
    *("energy-form-heat", "flushes-eyes-and-body", "assessment-wear-none", "respirators", "respirators-about"),
    *(f"diagram-symbol-{kind}" for kind in ("drain", "hose", "scale", "eyewash", "spill-kit", "tray")),
}


def table() -> dict[str, str]:
    text = (ROOT / "tools" / "tankside" / "texts.json").read_text(encoding="utf-8")
    words: dict[str, str] = json.loads(text)["en"]
    return words


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> set[str]:
    """The keys asked for since the test began."""
    keys: set[str] = set()
    original = Words.__call__

    def recording(self: Words, key: str, **filled: str) -> str:
        keys.add(key)
        return original(self, key, **filled)

    monkeypatch.setattr(Words, "__call__", recording)
    return keys


def test_every_word_of_the_table_reaches_a_page_or_sheet(asked: set[str], tmp_path: Path) -> None:
    checkup = check_book(ROOT)
    assert checkup.book is not None
    assert checkup.rehearsal is not None
    audit = audit_of(checkup.rehearsal, date(2026, 12, 1))
    for has_sheets in (True, False):
        content = Content(checkup.book, checkup.editions, "en", has_sheets, checkup.rehearsal, audit)
        assert list(pages(content))
        assert list(emergency_pages(content))
        assert index_script(content)
        assert frame_words(content)
        assert navigation(content, ())
    maker = SheetMaker(Engine(), picture_data(ROOT), checkup.book.plant.facts, "en", content.stamps)
    assert maker.make_statement(content.audit_view, Shelf(tmp_path), print).is_file()
    for edition in checkup.editions.values():
        assert maker.pdf(edition)
    assert sorted(set(table()) - asked - ELSEWHERE) == []


def test_gaps_in_the_words_are_named() -> None:
    for key, words in table().items():
        assert "{}" not in words, key

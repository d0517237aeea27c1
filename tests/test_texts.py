"""Every word of the interface stands in one table, and every word of the table reaches a reader of the demo book."""

import json
from pathlib import Path

import pytest

from tankside.checkup import check_book
from tankside.loading.sources import picture_data
from tankside.render_print.engine import Engine
from tankside.render_print.sheets import SheetMaker
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
#: not mean it to be
ELSEWHERE = {
    *("limits-low", "wear-none", "first-thing", "unconfirmed", "chart-fill-law"),
    *("line-diagram-none", "meeting-not-meant"),
    *(f"diagram-symbol-{kind}" for kind in ("drain", "hose", "scale", "eyewash", "spill-kit")),
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


def test_every_word_of_the_table_reaches_a_page_or_sheet(asked: set[str]) -> None:
    checkup = check_book(ROOT)
    assert checkup.book is not None
    assert checkup.rehearsal is not None
    for has_sheets in (True, False):
        content = Content(checkup.book, checkup.editions, "en", has_sheets, checkup.rehearsal)
        assert list(pages(content))
        assert list(emergency_pages(content))
        assert index_script(content)
        assert frame_words(content)
        assert navigation(content, ())
    maker = SheetMaker(Engine(), picture_data(ROOT), checkup.book.plant.facts, "en")
    for edition in checkup.editions.values():
        assert maker.pdf(edition)
    assert sorted(set(table()) - asked - ELSEWHERE) == []


def test_gaps_in_the_words_are_named() -> None:
    for key, words in table().items():
        assert "{}" not in words, key

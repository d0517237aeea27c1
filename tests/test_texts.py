"""Every word of the interface stands in one table, and every word of the table reaches a reader of the demo book."""

import json
import re
from datetime import date
from pathlib import Path

import pytest
from record_orders import orders
from sheet_making import plant

from tankside.audit import audit_of
from tankside.checkup import check_book
from tankside.edition.sheets import sheet_editions
from tankside.loading.sources import picture_data
from tankside.render_print.binder import binder
from tankside.render_print.engine import Engine
from tankside.render_print.record_sheets import RecordSheetMaker
from tankside.render_print.sheets import SheetMaker
from tankside.render_print.shelf import Shelf
from tankside.render_site.board import board_data_script, board_drawing_script
from tankside.render_site.content import Content
from tankside.render_site.emergencies import emergency_pages
from tankside.render_site.navigation import frame_words, navigation
from tankside.render_site.pages import pages
from tankside.render_site.search import index_script
from tankside.render_site.training import training_pages
from tankside.render_site.work import work_pages
from tankside.render_site.working import working_pages
from tankside.texts import Words
from tankside.views.work import SCRIPT_WORDS

ROOT = Path(__file__).parent.parent
#: words for what a book may hold and the demo book does not: a limit without an upper end, a procedure that needs no
#: protective equipment, an emergency without section headings, texts that nobody has confirmed, a book of the EU;
#: kinds of equipment that stand nowhere on its line diagram, a plant none of which does; something where the book does
#: not mean it to be; anything that the audit found, and exceptions; a machine without a lockout procedure and a yes or
#: no on it, heat as a source of energy, one shower for eyes and body, a place where nothing is worn, respirators;
#: a sign that was compared with nothing, or with the standard itself; an isolation point that is not drawn on the line
#: diagram, an address under which the site is served; a procedure of which nothing can be asked, a stop of one act,
#: mistakes that no amount of it allows (test_questions.py, test_question_amounts.py), and
#: the printed list of who may do what (test_training_print.py)
ELSEWHERE = {
    *("lockout-not-drawn", "live-code", "train-no-questions", "ask-stop-leave", "ask-stop-leave-why"),
    *(f"ask-slip-{each}" for each in ("added-to", "made-up-to", "steady", "ten")),
    *(f"standings-{each}" for each in ("title", "about", "foot", "stands")),
    *("limits-low", "wear-none", "first-thing", "unconfirmed", "chart-fill-law"),
    *("line-diagram-none", "meeting-not-meant"),
    *("stamp", "stamp-emergency", "stamp-why", "audit-hint", "audit-place", "audit-rule", "audit-exceptions-about"),
    *("audit-expired", "audit-until", "audit-count"),
    *("exemption", "exemption-about", "exemption-condition", "exemption-answer", "exemption-decided", "yes", "no"),
    *(f"exemption-{each}" for each in ("no-stored-energy", "one-source", "isolating-ends-it", "locked-during-work")),
    *(f"exemption-{each}" for each in ("one-lock", "under-own-control", "no-hazard-to-others", "no-accident-before")),
    *("sign-checked-memory", "sign-checked-standard"),
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
        assert list(work_pages(content))
        assert list(working_pages(content))
        assert list(training_pages(content))
        assert index_script(content)
        assert frame_words(content)
        assert board_data_script(content)
        assert board_drawing_script(content)
        assert navigation(content, ())
    # With sheets of every kind, whichever the book has.
    declared = sheet_editions(plant(), checkup.editions)
    maker = SheetMaker(Engine(), picture_data(ROOT), plant(), "en", content.stamps)
    assert maker.make_statement(content.audit_view, Shelf(tmp_path), print).is_file()
    assert [maker.draft(sheet) for sheet in declared.values()]
    assert binder(maker, [declared["first-day"]], content.audit_view, print)
    assert [RecordSheetMaker(maker).draft(order) for order in orders(checkup)]
    by_scripts = {key for key in table() if key.startswith(SCRIPT_WORDS) and is_said_by_a_script(key)}
    assert sorted(set(table()) - asked - by_scripts - ELSEWHERE) == []


SCRIPTS = "".join(path.read_text(encoding="utf-8") for path in sorted((ROOT / "tools/tankside/assets/js").glob("*.js")))
#: a key that is put together of a beginning, a code and an end
COMPOSED = re.compile(r"`([\w-]+-)\$\{[^}`]+\}([\w-]*)`")
PATTERNS = tuple(set(COMPOSED.findall(SCRIPTS)))


def is_said_by_a_script(key: str) -> bool:
    """Return whether a script names a key as it is, or the code in it and what is put around that."""
    if f"'{key}'" in SCRIPTS:
        return True
    codes = (
        key.removeprefix(first).removesuffix(last)
        for first, last in PATTERNS
        if key.startswith(first) and key.endswith(last)
    )
    return any(re.search(rf"'{re.escape(code)}'|\b{re.escape(code)}: ", SCRIPTS) for code in codes if code)


def test_word_that_no_script_says_is_noticed() -> None:
    assert is_said_by_a_script("work-list-go-on")
    assert is_said_by_a_script("refused-not-next")
    assert not is_said_by_a_script("work-list-never-said")
    assert not is_said_by_a_script("refused-never-refused")


def test_gaps_in_the_words_are_named() -> None:
    for key, words in table().items():
        assert "{}" not in words, key

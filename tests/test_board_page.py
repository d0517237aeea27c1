"""The board in Chromium: folded as Python folds it, and shown on the home page from what was kept on the device."""

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path
from random import Random
from typing import Any

import pytest
from axe import violations
from board_cases import ANSWER, cases
from evaluator_page import SCRIPTS, evaluator_page
from followed_editions import followed_editions
from kept_records import keep
from playwright.sync_api import Browser, BrowserContext, Page
from random_boards import Compared
from straight_copies import Straight
from test_access import CONTRAST, SCREENS, overflowing

from tankside.checkup import check_book
from tankside.loading.values import Text
from tankside.plant.portable import portable_state
from tankside.plant.setting import Setting
from tankside.plant.state import Piece, State
from tankside.plant.volumes import Interval, contents
from tankside.problems import Span
from tankside.records.part_effects import asked
from tankside.render_site.scripts import BOARD_PAGE
from tankside.texts import words
from tankside.views.board import board_data, plant_at_rest
from tankside.views.states import StateWords

ROOT = Path(__file__).parent.parent
CHECKED = check_book(ROOT)
assert CHECKED.rehearsal is not None
SETTING = CHECKED.rehearsal.setting
BOOK = str(SETTING.facts.facts.book)

#: what a page says of one piece whose contents are known
SAY = """([book, words, pieces]) => {
  tankside.words = words;
  const since = { contents: { copy: 'a', seq: 0, at: '', lot: '', id: '', step: '' } };
  return Object.entries(pieces).map(([tag, found]) => {
    const board = { state: { pieces: { [tag]: found }, worn: [] }, since: { [tag]: since }, unsure: {} };
    return tankside.boardWords.facts(board, book, tag).map((each) => each.words);
  });
}"""
#: text of the lines on the board, by piece
LINES = """() => Object.fromEntries([...document.querySelectorAll('[data-board-piece]')].map(
  (piece) => [piece.dataset.boardPiece, [...piece.querySelectorAll('p, li')].map((line) => line.textContent)]))"""
#: what a drawing shows of a piece: looks, signs and lines that are to be seen, and in how many places something stands
DRAWN = """(tag) => {
  const piece = document.querySelector(`[data-tag="${tag}"]`);
  const seen = (name) => [...piece.querySelectorAll(`[data-${name}]`)].filter((each) => !each.hasAttribute('display'))
    .map((each) => each.getAttribute(`data-${name}`));
  return {
    looks: seen('look'), signs: seen('sign'),
    lines: [...piece.querySelectorAll('[data-info]')].map((each) => each.textContent).filter(Boolean),
    levels: [...piece.querySelectorAll('[data-inside] > path')].map((each) => each.getAttribute('d')),
    strokes: piece.querySelectorAll('[data-inside] svg path').length,
  };
}"""

#: of each drawing, every text that is to be seen, with its box made a little smaller
BOXES = """() => [...document.querySelectorAll('[data-board-drawings] svg[aria-hidden]')].map(
  (svg) => [...svg.querySelectorAll('text')]
    .filter((text) => text.textContent && !text.closest('[display=none]'))
    .map((text) => {
      const { left, top, right, bottom } = text.getBoundingClientRect();
      return [text.textContent, left + 1, top + 4, right - 1, bottom - 4];
    }))"""


@pytest.fixture(scope="module")
def page(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Page]:
    """A page that folds, and shows nothing."""
    found = evaluator_page(browser, tmp_path_factory.mktemp("evaluator"))
    for name in ("dom.js", "board-words.js"):
        found.add_script_tag(path=SCRIPTS / name)
    yield found
    found.close()


@pytest.mark.parametrize("kind", ["boards", "starts"])
def test_page_answers_each_case_as_expected(page: Page, kind: str) -> None:
    shared, found = cases(kind)
    wrong = [each["name"] for each in found if page.evaluate(ANSWER, [kind, shared, each]) != each["expected"]]
    assert len(found) >= 15
    assert wrong == []


def test_page_and_python_make_the_same_board_of_random_records(page: Page) -> None:
    # The small editions are of other plants: of their pieces the plant at rest knows nothing.
    compared = Compared(page, followed_editions(), SETTING.at_rest, plant_at_rest(SETTING)["locks"])
    assert list(compared.differences(range(12))) == []


def interval(chance: Random, most: Fraction) -> Interval:
    low, high = sorted(most * chance.randrange(1001) / 1000 for _ in range(2))
    return chance.choice((Interval(low, high), Interval(high, high), Interval(Fraction(0), high)))


def random_piece(chance: Random, tag: str) -> Piece:
    part = SETTING.plant.parts[tag]
    assert part.capacity is not None
    whole = interval(chance, chance.choice((part.capacity, part.heel)))
    names = chance.sample(sorted(part.holds), chance.randrange(1, len(part.holds) + 1)) if whole.high else []
    return Piece(contents=contents(whole, {name: interval(chance, whole.high) for name in names}))


@pytest.mark.parametrize("system", ["metric", "US customary"])
def test_contents_are_said_in_the_words_of_the_dry_run(page: Page, system: str) -> None:
    chance = Random(7)
    tags = [tag for tag, part in SETTING.plant.parts.items() if part.capacity and part.holds]
    data = board_data(SETTING, words("en"))
    # The dry run calls materials by their ids.
    book = {**data, "units": system, "materials": {}}
    facts = replace(SETTING.facts, facts=replace(SETTING.facts.facts, units=Text(system, Span(""))))
    telling = StateWords(Setting(facts), words("en"))
    for _ in range(8):
        pieces = {tag: random_piece(chance, tag) for tag in tags}
        said = page.evaluate(SAY, [book, data["words"], portable_state(State(pieces))["pieces"]])
        held = [telling._held(tag, piece.contents) for tag, piece in pieces.items() if piece.contents is not None]
        assert said == [[each] for each in held]


def test_vessel_is_never_said_to_hold_more_than_it_can(page: Page) -> None:
    data = board_data(SETTING, words("en"))
    # Seen was 10 L or more, which says nothing of the most: the tank holds 250 L. What surely overflowed is told.
    for written, expected in ((["10", "1000000000"], "10 to 250 L"), (["260", "300"], "260 to 300 L")):
        found = {"contents": {"volume": written, "parts": {"softened-water": written}}}
        ((said,),) = page.evaluate(SAY, [data, data["words"], {"tank-250": found}])
        assert said == f"holds {expected} of Softened water"


# --- on the home page


def edition(name: str) -> Any:
    return json.loads(CHECKED.editions[name].canonical)


def begun(name: str, number: int, at: datetime) -> Straight:
    copy = Straight(edition(name), f"{number:016x}", at)
    return copy.start(confirmed=[each for _, each in asked(copy.copy.script)])


def this_minute() -> datetime:
    return datetime.now(UTC).replace(second=0, microsecond=0)


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    """A device on which nothing was ever kept; its clock is in no zone but UTC."""
    with browser.new_context(viewport={"width": 1024, "height": 768}, timezone_id="UTC") as found:
        yield found


@pytest.fixture
def home(context: BrowserContext, site: Path) -> Page:
    """The home page; what it complains of is kept in `said`."""
    found = context.new_page()
    found.goto((site / "index.html").as_uri())
    return found


def shown(home: Page, copies: list[Straight]) -> Any:
    """Keep copies, and return the lines of the board that is then shown."""
    keep(home, BOOK, copies)
    home.reload()
    home.wait_for_selector("[data-board]:not([hidden])")
    return home.evaluate(LINES)


def test_home_is_silent_where_nothing_was_recorded(home: Page) -> None:
    home.wait_for_timeout(300)
    assert home.locator("[data-board]").is_hidden()
    assert home.locator("[data-board-jump]").is_hidden()
    # Nor does it load what it does not need.
    assert home.evaluate("tankside.board === undefined && tankside.boardDrawing === undefined")


def test_home_is_silent_without_script(browser: Browser, site: Path) -> None:
    with browser.new_context(java_script_enabled=False) as context:
        page = context.new_page()
        page.goto((site / "index.html").as_uri())
        assert page.locator("[data-board]").is_hidden()
        assert page.locator("[data-board-jump]").is_hidden()


def test_scripts_of_the_board_are_all_there_and_in_order(site: Path) -> None:
    assert [each for each in BOARD_PAGE if not (site / each).is_file()] == []
    text = (site / "index.html").read_text(encoding="utf-8")
    assert text.index("copy-store.js") < text.index("board-page.js")


def test_board_says_what_is_known_since_when_and_from_what(home: Page) -> None:
    today = this_minute()
    blending = begun("blend-milk-line-cleaner", 1, today - timedelta(minutes=1))
    blending.before("add-first-water")
    (opened,) = (each for each in blending.events if each.get("visit") == len(blending.copy.trail) - 2)
    lines = shown(home, [blending])
    title = edition("blend-milk-line-cleaner")["written"]["title"]
    time = f"{opened['at'][:10]} {opened['at'][11:16]}"
    assert lines["V1"] == [f"open, since {time}, lot L-7, by {title}"]
    # 1.5 L is the heel; it was seen to be no more before the start, and to be one of two liquids, which is not told.
    assert lines["tank-250"][0].startswith("holds 0 to 1.5 L of anything it may hold, since ")
    assert any(each.startswith("clean, since ") for each in lines["tank-250"])
    assert "V1-lock" not in lines
    assert "V1-lock: Lever lock of V1" in (home.locator("[data-board-unrecorded]").text_content() or "")
    assert home.locator(".board-look").inner_text() == words("en")("board-look")


def test_time_of_today_is_told_without_its_day(home: Page) -> None:
    blending = begun("blend-milk-line-cleaner", 1, this_minute() - timedelta(minutes=1))
    at = blending.events[0]["at"]
    said = shown(home, [blending])["exhaust-1"][0]
    expected = (
        at[11:16] if at[:10] == home.evaluate("new Date().toISOString().slice(0, 10)") else at[:16].replace("T", " ")
    )
    assert f", since {expected}, " in said


def test_what_is_at_work_or_not_sure_comes_first(home: Page) -> None:
    blending = begun("blend-milk-line-cleaner", 1, this_minute() - timedelta(days=3)).before("add-first-water")
    blending.enter("begin", visit=len(blending.copy.trail) - 1)
    lines = shown(home, [blending])
    first = home.evaluate(
        "[...document.querySelectorAll('[data-board-first] > li')].map((each) => each.dataset.boardPiece)"
    )
    assert {"V1", "tank-250", "exhaust-1"} <= set(first)
    assert "V2" not in first
    assert lines["V1"][0].startswith("not sure since ")
    assert lines["V1"][1].startswith("open, since ")


def test_drawing_shows_by_form_and_by_word_what_is_known(home: Page) -> None:
    blended = begun("blend-milk-line-cleaner", 1, this_minute() - timedelta(days=30)).through()
    held = begun("hold-a-lot", 2, blended.now + timedelta(minutes=1)).before("decision")
    shown(home, [blended, held])
    tank, numbers = home.evaluate(DRAWN, "tank-250"), "6"
    assert tank["lines"][0] == numbers
    assert tank["lines"][2:] == ["on hold", "dirty"]
    assert len(tank["levels"]) == 1 or len(tank["levels"]) == 2
    assert tank["strokes"] >= 1
    assert home.evaluate(DRAWN, "V2")["looks"] == ["shut"]
    assert home.evaluate(DRAWN, "V2")["lines"] == ["shut"]
    # Nothing was recorded of what stands in the alkali line of the pump, nor of the lock.
    assert home.evaluate(DRAWN, "cleaner-line")["lines"][0] != "?"
    assert home.evaluate(DRAWN, "V2-lock")["signs"] == []
    # Of the other sides nothing is known, so they are not drawn.
    assert home.locator("[data-board-drawings] svg[aria-hidden]").count() == 1


def test_level_stands_as_high_as_its_share(home: Page) -> None:
    blending = begun("blend-milk-line-cleaner", 1, this_minute() - timedelta(days=3)).before("water-temperature")
    shown(home, [blending])
    (poured,) = (visit for visit in blending.copy.trail if visit.name == "add-first-water")
    litres = float(poured.total) * 1000
    sure, perhaps = home.evaluate(DRAWN, "tank-250")["levels"]
    # The tank is drawn 100 high round its middle and holds 250 L; 1.5 L of heel may be there beside the water.
    top = float(sure.split(" ")[1].split("H")[0])
    most = float(perhaps.split(" ")[1].split("H")[0])
    assert top == pytest.approx(50 - 100 * litres / 250, abs=0.05)
    assert most == pytest.approx(50 - 100 * (litres + 1.5) / 250, abs=0.05)


def test_locked_running_and_out_of_order_have_marks_and_words(home: Page) -> None:
    start = this_minute() - timedelta(days=9)
    locked = begun("lock-out-mixer", 1, start).before("unlock-m1-plug")
    filling = begun("fill-by-hand", 2, locked.now + timedelta(minutes=1)).before("fill-one")
    shown(home, [locked, filling])
    assert home.evaluate(DRAWN, "M1-plug")["signs"] == ["locked"]
    assert home.evaluate(DRAWN, "M1-plug")["looks"] == ["locked"]
    assert home.evaluate(DRAWN, "P1") == {
        "looks": ["running"],
        "signs": [],
        "lines": ["running"],
        "levels": [],
        "strokes": 0,
    }
    assert home.evaluate(DRAWN, "V3")["signs"] == ["out-of-order"]
    assert home.evaluate(DRAWN, "V3")["lines"] == ["shut", "out of order"]
    assert home.evaluate(DRAWN, "cleaner-line")["signs"] == ["pressure"]
    assert "under pressure" in home.evaluate(DRAWN, "cleaner-line")["lines"]


def test_unsure_piece_is_drawn_as_not_known(home: Page) -> None:
    blending = begun("blend-milk-line-cleaner", 1, this_minute() - timedelta(days=3)).before("add-first-water")
    blending.enter("begin", visit=len(blending.copy.trail) - 1)
    shown(home, [blending])
    assert home.evaluate(DRAWN, "V1")["looks"] == ["either"]
    assert home.evaluate(DRAWN, "V1")["lines"] == ["not sure"]
    assert home.evaluate(DRAWN, "tank-250")["lines"] == ["not sure"]
    assert home.evaluate(DRAWN, "tank-250")["levels"] == []


def test_joint_is_whole_while_it_is_known_to_be_joined(home: Page) -> None:
    blending = begun("blend-milk-line-cleaner", 1, this_minute() - timedelta(days=3)).before("add-alkali")
    shown(home, [blending])
    looks = home.evaluate(
        "Object.fromEntries([...document.querySelectorAll('[data-joint]')].map((each) => [each.dataset.joint,"
        " [...each.querySelectorAll('[data-look]')].find((look) => !look.hasAttribute('display')).dataset.look]))"
    )
    assert looks["P3 tank-250"] == "joined"
    assert looks["P2 tank-250"] == "joinable"


def test_record_whose_chain_is_broken_counts_up_to_there_and_is_named(home: Page) -> None:
    blending = begun("blend-milk-line-cleaner", 1, this_minute() - timedelta(days=3)).before("add-first-water")
    keep(home, BOOK, [blending])
    at = len(blending.events) - 1
    home.evaluate(
        """async ([book, copy, seq]) => {
          const store = await tankside.copyStore.open(book);
          await store.write(['events'], ({ events }) => {
            events.get([copy, seq]).onsuccess = ({ target }) => events.put({ ...target.result, who: 'ZZ' });
          });
          store.close();
        }""",
        [BOOK, blending.name, at],
    )
    lines = shown(home, [])
    title = edition("blend-milk-line-cleaner")["written"]["title"]
    assert home.locator("[data-board-troubles]").inner_text() == words("en")(
        "board-damaged", number=str(at + 1), title=title
    )
    # The last event opened V1.
    assert "open" not in "".join(lines["V1"])
    assert lines["V2"][0].startswith("shut, since ")


def test_store_that_cannot_be_read_is_said_and_nothing_else(context: BrowserContext, site: Path) -> None:
    context.add_init_script("IDBObjectStore.prototype.getAll = () => { throw new Error('worn out'); };")
    page = context.new_page()
    page.goto((site / "index.html").as_uri())
    page.wait_for_selector("[data-board]:not([hidden])")
    assert page.locator("[data-board-failed]").inner_text() == words("en")("board-failed")
    assert page.locator("[data-board-whole]").is_hidden()


def test_device_that_keeps_nothing_is_silent(context: BrowserContext, site: Path) -> None:
    context.add_init_script("Object.defineProperty(window, 'indexedDB', { get() { throw new Error('shut'); } });")
    page = context.new_page()
    page.goto((site / "index.html").as_uri())
    page.wait_for_timeout(300)
    assert page.locator("[data-board]").is_hidden()


def test_page_that_is_come_back_to_shows_what_was_recorded_since(home: Page, site: Path) -> None:
    start = this_minute() - timedelta(days=3)
    blending = begun("blend-milk-line-cleaner", 1, start).before("open-v1-first")
    assert "shut" in shown(home, [blending])["V1"][0]
    home.goto((site / "about.html").as_uri())
    home.goto((site / "index.html").as_uri())
    home.wait_for_selector("[data-board]:not([hidden])")
    before = home.evaluate("document.querySelectorAll('script').length")
    second = begun("blend-milk-line-cleaner", 2, start + timedelta(days=1)).before("add-first-water")
    keep(home, BOOK, [second])
    home.evaluate("window.dispatchEvent(new PageTransitionEvent('pageshow', { persisted: true }))")
    home.wait_for_selector("[data-board-piece=V1] li:has-text('open, since')")
    # Its scripts are loaded once.
    assert home.evaluate("document.querySelectorAll('script').length") == before


# --- for everybody, on every screen


@pytest.fixture
def full(home: Page) -> Page:
    """The home page with a board on which much is known, every fold open."""
    start = this_minute() - timedelta(days=20)
    blended = begun("blend-milk-line-cleaner", 1, start).through()
    locked = begun("lock-out-mixer", 2, blended.now + timedelta(minutes=1)).before("unlock-m1-plug")
    filling = begun("fill-by-hand", 3, locked.now + timedelta(minutes=1)).before("fill-one")
    filling.enter("begin", visit=len(filling.copy.trail) - 1)
    shown(home, [blended, locked, filling])
    home.evaluate("document.querySelectorAll('[data-board] details').forEach((each) => { each.open = true; })")
    return home


def test_full_board_fits_every_screen(full: Page) -> None:
    wide = []
    for name, (width, height) in SCREENS.items():
        full.set_viewport_size({"width": width, "height": height})
        if overflowing(full) > 0:
            wide.append(name)
    assert wide == []


def test_full_board_breaks_no_rule_of_access(full: Page) -> None:
    frame = [each for each in violations(full) if "search" in each]
    assert violations(full) == frame
    assert full.evaluate(CONTRAST) == []


def test_headings_of_the_board_are_in_order(full: Page) -> None:
    levels = full.evaluate(
        "[...document.querySelectorAll('[data-board] :is(h1,h2,h3,h4)')].map((each) => each.tagName)"
    )
    assert levels[0] == "H2"
    assert set(levels[1:]) == {"H3"}


def test_controls_of_the_board_can_be_touched_with_a_glove(full: Page) -> None:
    sizes = full.evaluate(
        "[...document.querySelectorAll('[data-board] summary, [data-board-jump]')]"
        ".map((each) => each.getBoundingClientRect().height)"
    )
    assert len(sizes) == 3
    assert min(sizes) >= 48


def test_words_of_the_drawing_stay_beside_one_another(full: Page) -> None:
    boxes = full.evaluate(BOXES)
    meeting = [
        (one[0], other[0])
        for texts in boxes
        for at, one in enumerate(texts)
        for other in texts[at + 1 :]
        if one[1] < other[3] and other[1] < one[3] and one[2] < other[4] and other[2] < one[4]
    ]
    assert len(boxes[0]) > 40
    assert meeting == []


def test_nothing_is_asked_of_elsewhere_and_nothing_is_complained_of(context: BrowserContext, address: str) -> None:
    page = context.new_page()
    asked_for: list[str] = []
    said: list[str] = []
    page.on("request", lambda request: asked_for.append(request.url))
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.goto(f"{address}/index.html")
    shown(page, [begun("blend-milk-line-cleaner", 1, this_minute() - timedelta(days=3)).before("add-alkali")])
    assert [each for each in asked_for if not each.startswith((address, "data:", "blob:"))] == []
    assert said == []

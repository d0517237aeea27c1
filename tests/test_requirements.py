"""Requirements of screens and records by their numbers: what no test of a single part proves, on the real page.

Every test that proves a clause carries the marker `requirement`, here and beside the parts; see DEVELOPERS.md.
"""

import ast
import json
import os
import re
import signal
from collections.abc import Callable
from io import BytesIO
from itertools import combinations, pairwise
from pathlib import Path

import pytest
from conftest import ARGUMENTS, CHROMIUM, LAN
from copies_in_browser import FULL, Device, page_data
from PIL import Image, ImageChops, ImageStat
from playwright.sync_api import Browser, Page, expect
from test_copy_files import chained, digest, plain_json
from work_page import (
    HELD,
    NO_SLIP,
    TABLET,
    at_work,
    begun_by_the_form,
    hold,
    kept,
    last,
    looked_at,
    now,
    press,
    row,
    tab_to,
)
from work_states import BLEED, BLEND, DESCALER, SHORT, STATES

from tankside.publish.outside import outside_addresses

TESTS = Path(__file__).parent
#: 24 is about competence, no part of the screens and sheets
NUMBERS = {*range(1, 24), 25}


def test_every_requirement_has_a_test_that_carries_its_number() -> None:
    found = {number for path in sorted(TESTS.glob("test_*.py")) for number in marked(path)}
    assert NUMBERS - found == set()
    assert found <= set(range(1, 26))


def marked(path: Path) -> set[int]:
    """Return the numbers of the requirements that tests of a module are marked with."""
    tests = (
        each
        for each in ast.parse(path.read_text(encoding="utf-8")).body
        if isinstance(each, ast.FunctionDef) and each.name.startswith("test_")
    )
    calls = (each for test in tests for each in test.decorator_list if isinstance(each, ast.Call))
    return {
        keyword.value.value
        for call in calls
        if ast.unparse(call.func) == "pytest.mark.requirement"
        for keyword in call.keywords
        if keyword.arg == "number" and isinstance(keyword.value, ast.Constant)
    }


# 2: on release, by taps alone.

#: what a gesture other than a touch is noticed by; `pointerleave` ends a press that slides off, and begins nothing
GESTURES = re.compile(r"^(touch|drag|drop|wheel|gesture|dblclick|mouse|swipe|pointer(move|enter|over|out))")
#: The driver of the browser listens, too: only what scripts of the site listen to counts.
LISTENED = """
window.listenedTo = new Set();
const add = EventTarget.prototype.addEventListener;
EventTarget.prototype.addEventListener = function (type, ...rest) {
  if (new Error().stack.includes('/tankside/')) window.listenedTo.add(type);
  return add.call(this, type, ...rest);
};
"""


@pytest.mark.requirement(number=2)
def test_press_counts_when_it_ends_on_the_row_it_began_on(page: Page, own: str) -> None:
    copy = at_work(page, own, SHORT)
    first = row(page, "point-red")
    box = first.bounding_box()
    assert box is not None
    inside, outside = (box["x"] + 60, box["y"] + 60), (box["x"] + 60, box["y"] + box["height"] + 60)
    page.wait_for_timeout(NO_SLIP)
    page.mouse.move(*inside)
    page.mouse.down()
    page.wait_for_timeout(HELD)
    last(page, copy, "resume")
    page.mouse.move(*outside)
    page.mouse.up()
    page.wait_for_timeout(NO_SLIP)
    last(page, copy, "resume")
    expect(first).to_have_attribute("data-state", "not started")
    page.mouse.move(*inside)
    page.mouse.down()
    page.mouse.up()
    expect(first).to_have_attribute("data-state", "complete")
    last(page, copy, "mark")


@pytest.mark.requirement(number=2)
def test_finger_that_slides_off_the_row_marks_nothing(browser: Browser, site: Path) -> None:
    with looked_at(browser, site.as_uri(), has_touch=True) as (page, complaints):
        copy = at_work(page, site.as_uri(), SHORT)
        box = row(page, "point-red").bounding_box()
        assert box is not None
        page.wait_for_timeout(NO_SLIP)
        x, y = box["x"] + 60, box["y"] + 60
        touched(page, ("touchStart", x, y), ("touchMove", x, y + box["height"]))
        page.wait_for_timeout(NO_SLIP)
        last(page, copy, "resume")
        assert complaints == []


def touched(page: Page, *touches: tuple[str, float, float], held: int = 0) -> None:
    """Touch the screen with one finger, and lift it after so long [ms]."""
    session = page.context.new_cdp_session(page)
    for kind, x, y in touches:
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [{"x": x, "y": y}]})
    page.wait_for_timeout(held)
    session.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})


@pytest.mark.requirement(number=2)
def test_taps_of_one_finger_alone_lead_from_the_first_step_to_the_record(browser: Browser, site: Path) -> None:
    with looked_at(browser, site.as_uri(), has_touch=True) as (page, complaints):
        page.add_init_script(LISTENED)
        copy = at_work(page, site.as_uri(), SHORT)
        # 14 things to do, 2 checks and 1 thing to write down come before the hold.
        for _ in range(17):
            page.wait_for_timeout(NO_SLIP)
            page.locator("[data-now] [data-press]").first.tap()
        held_by_finger(page, "[data-now] [data-hold=EF]")
        held_by_finger(page, "[data-finish]")
        page.locator("[data-rest] [data-save]").wait_for()
        assert [event["kind"] for event in kept(page, copy)][3:] == [*["mark"] * 17, "release", "finish"]
        listened = set(page.evaluate("[...window.listenedTo]"))
        assert {"click", "pointerdown"} <= listened
        assert [each for each in listened if GESTURES.match(each)] == []
        assert complaints == []


def held_by_finger(page: Page, selector: str) -> None:
    """Touch something and hold it."""
    page.wait_for_timeout(NO_SLIP)
    found = page.locator(selector).first
    found.scroll_into_view_if_needed()
    box = found.bounding_box()
    assert box is not None
    touched(page, ("touchStart", box["x"] + box["width"] / 2, box["y"] + box["height"] / 2), held=HELD)


@pytest.mark.requirement(number=2)
def test_no_style_of_the_page_of_a_copy_waits_for_a_pointer_above_it(site: Path) -> None:
    page = (site / "copies" / f"{SHORT}.html").read_text(encoding="utf-8")
    styles = [site / "copies" / href for href in re.findall(r'<link rel="stylesheet" href="([^"]+)"', page)]
    assert len(styles) > 3
    assert [each.name for each in styles if re.search(r":(hover|active)\b", each.read_text(encoding="utf-8"))] == []


# 3: states in word and shape.

WORDS = {
    "not started": "Not started",
    "started": "Started",
    "complete": "Complete",
    "not applicable": "Not applicable",
    "deviated": "Deviated",
}


def all_states(page: Page, own: str) -> None:
    """Bring a copy to where steps are in each state."""
    at_work(page, own, SHORT)
    press(page, "[data-now] [data-press]")
    for kind in ("skip", "deviate"):
        press(page, "[data-aside-open]")
        press(page, f"[data-instead={kind}]")
        press(page, "[data-offered]")
        press(page, f"[data-confirm={kind}]")
        page.locator("[data-panel] h2").wait_for(state="detached")
    press(page, "[data-now] [data-begin]")
    page.locator('[data-now][data-state="started"]').wait_for()


@pytest.mark.requirement(number=3)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_state_is_told_from_every_other_without_colour(browser: Browser, site: Path, scheme: str) -> None:
    with looked_at(browser, site.as_uri(), color_scheme=scheme) as (page, _):
        all_states(page, site.as_uri())
        drawn = {}
        for state, word in WORDS.items():
            one = page.locator(f'[data-row][data-state="{state}"]').first
            expect(one.locator("[data-state-word]")).to_have_text(word)
            shot = one.locator(".row-place .mark").screenshot()
            drawn[state] = Image.open(BytesIO(shot)).convert("L").resize((44, 44))
        # A slash across the ring takes some 5 % of its square: 6 % of 100 wide, 100 long, less what lies on the ring.
        alike = {
            pair: ImageStat.Stat(ImageChops.difference(drawn[pair[0]], drawn[pair[1]])).mean[0] / 255
            for pair in combinations(WORDS, 2)
        }
        assert {pair: share for pair, share in alike.items() if share < 0.04} == {}


#: signal word -> how much red, green and blue its panel has: by ANSI Z535.1 it is red, orange, yellow, blue
PANELS: dict[str, Callable[[int, int, int], bool]] = {
    "danger": lambda red, green, blue: red > 150 and green < 80 and blue < 80,
    "warning": lambda red, green, blue: red > 200 and 80 < green < 160 and blue < 80,
    "caution": lambda red, green, blue: red > 200 and green > 180 and blue < 80,
    "notice": lambda red, green, blue: red < 80 and green < 120 and blue > 100,
}
CAUTIONS = """[...document.querySelectorAll('.caution')].filter((each) => each.checkVisibility()).map((each) => ({
  word: each.querySelector('.signal').innerText.trim(), isFirst: each.firstElementChild.matches('.signal'),
  hasAlert: each.querySelector('.signal img') !== null, next: each.children[1].className,
  colour: getComputedStyle(each.querySelector('.signal')).backgroundColor.match(/\\d+/g).slice(0, 3).map(Number),
}))"""


@pytest.mark.requirement(number=3)
def test_cautions_are_panels_of_ansi_z535_and_steps_stand_below_one_another(page: Page, own: str) -> None:
    at_work(page, own, BLEND)
    found = page.evaluate(CAUTIONS)
    assert {each["word"] for each in found} == {"DANGER", "WARNING", "CAUTION", "NOTICE"}
    for each in found:
        assert each["isFirst"]
        assert each["next"] == "hazard"
        assert PANELS[each["word"].lower()](*each["colour"]), each
        # A notice warns of no injury, so it has no safety-alert symbol (ANSI Z535.4).
        assert each["hasAlert"] == (each["word"] != "NOTICE")
    assert page.locator(".admonition, [class^=md-]").count() == 0
    rows = page.evaluate(
        "[...document.querySelectorAll('[data-row]')].map((each) => each.getBoundingClientRect())"
        ".map(({ top, bottom, width }) => [top, bottom, width])"
    )
    assert len(rows) > 20
    assert [after for before, after in pairwise(rows) if after[0] < before[1]] == []
    assert min(width for _, _, width in rows) > TABLET["width"] * 0.8


# 4, 6, 7: what was entered first stays.


@pytest.mark.requirement(number=4)
def test_correction_is_a_line_through_with_initials_time_and_reason(page: Page, own: str) -> None:
    copy = at_work(page, own, BLEED, "record-reading-lot-and")
    press(page, "[data-more='0/last-conductivity']")
    press(page, "[data-correct]")
    page.locator("[data-panel] [data-typed]").first.fill("200")
    press(page, "[data-offered]")
    # One deliberate action leads there, the other one is a press that is held.
    press(page, "[data-panel] [data-confirm]")
    assert "correct" not in [event["kind"] for event in kept(page, copy)]
    hold(page, "[data-panel] [data-confirm]")
    page.locator("[data-panel] h2").wait_for(state="detached")
    measured = row(page, "last-conductivity")
    struck = measured.locator("s")
    expect(struck).to_contain_text("read 180 mS/cm")
    assert struck.evaluate("(each) => getComputedStyle(each).textDecorationLine") == "line-through"
    expect(measured).to_contain_text(re.compile(r"AB \d\d:\d\d corrected to 200 mS/cm.*Wrong key pressed"))
    event = last(page, copy, "correct")
    first = kept(page, copy)[event["corrects"]]
    assert (first["kind"], first["value"]) == ("read", "180")
    assert re.match(r"\d{4}-\d\d-\d\dT\d\d:\d\d", event["at"])


@pytest.mark.requirement(number=6)
def test_record_on_paper_says_that_a_check_was_not_independent(page: Page, own: str) -> None:
    copy = at_work(page, own, DESCALER, "sheet-is-right")
    press(page, "[data-now] [data-answer=yes]")
    # AB did it, so AB cannot be the one who looks.
    page.locator("[data-now] [data-hold=CD]").wait_for()
    assert page.locator("[data-now] [data-hold=AB]").count() == 0
    press(page, "[data-now] [data-alone]")
    page.locator("[data-panel] textarea").fill("The other one is at the eyewash.")
    press(page, "[data-confirm=alone]")
    page.locator("[data-panel] h2").wait_for(state="detached")
    last(page, copy, "alone")
    page.goto(f"{own}/copies/copy.record.html#{copy}")
    page.locator(".record-unlike").wait_for()
    page.emulate_media(media="print")
    told = page.locator(".record-unlike li", has_text="NOT INDEPENDENT")
    expect(told).to_be_visible()
    expect(told).to_contain_text("The other one is at the eyewash.")


@pytest.mark.requirement(number=7)
def test_bad_value_stops_the_work_and_stays_beside_the_good_one(page: Page, own: str) -> None:
    STATES["out_of_limits"](page, own)
    copy = page.url.partition("#")[2]
    bad = last(page, copy, "read")
    assert (bad["value"], bad["inside"], bad["low"], bad["high"]) == ("100", False, "180", "230")
    assert page.locator("[data-markable]").count() == 1
    assert page.locator("[data-now] [data-press]").evaluate_all(
        "(all) => all.map((each) => 'take' in each.dataset)"
    ) == [True]
    row(page, "record-reading-lot-and").locator(".row-place").click()
    last(page, copy, "read")
    # It was typed wrong: two people say so, and what was typed first is there for ever.
    press(page, "[data-fold^=correct] summary")
    page.locator("[data-fold^=correct] [data-typed]").first.fill("200")
    press(page, "[data-fold^=correct] [data-offered]")
    hold(page, "[data-fold^=correct] [data-hold=CD]")
    expect(row(page, "last-conductivity")).to_have_attribute("data-state", "deviated")
    expect(row(page, "last-conductivity").locator("s")).to_contain_text("read 100 mS/cm, OUT OF LIMITS")
    good = last(page, copy, "correct")
    assert (good["value"], good["corrects"], good["second"]) == ("200", bad["seq"], "CD")
    assert kept(page, copy)[bad["seq"]] == bad


# 5: holds and what is never gated.


@pytest.mark.requirement(number=5)
def test_hold_is_released_by_a_tile_and_without_typing(page: Page, own: str) -> None:
    at_work(page, own, BLEED, "hold-the-reading-is")
    held = page.locator("[data-now]")
    assert held.locator("input, textarea, [data-key]").count() == 0
    expect(held.locator("[data-hold=CD]")).to_contain_text("CD")
    expect(held.locator("[data-hold=CD]")).to_contain_text("Second person")


@pytest.mark.requirement(number=5)
def test_start_without_the_second_person_is_refused_with_what_to_do(page: Page, own: str) -> None:
    page.goto(f"{own}/copies/{BLEED}.html")
    page.locator("[data-missing]").wait_for(state="attached")
    page.locator(".work-new-person [data-typed]").fill("AB")
    press(page, ".work-new-person [data-tile=line-operator]")
    press(page, "[data-enter=person]")
    for each in page.locator("[data-start] [data-seen]").all():
        page.wait_for_timeout(NO_SLIP)
        each.click()
    assert page.locator("[data-start] [data-begin]").is_disabled()
    # Nothing else is missing.
    expect(page.locator("[data-missing] li")).to_contain_text(["second person has to be here"])


# 8: a browser that is killed.


@pytest.mark.requirement(number=8)
def test_browser_that_was_killed_is_opened_where_one_was(browser: Browser, site: Path, tmp_path: Path) -> None:
    own = site.as_uri()
    options = {"executable_path": CHROMIUM, "args": ARGUMENTS, "viewport": TABLET, "reduced_motion": "reduce"}
    context = browser.browser_type.launch_persistent_context(tmp_path / "profile", **options)
    page = context.new_page()
    copy = at_work(page, own, DESCALER, "shut-d-v2")
    address, before = page.url, kept(page, copy)
    # "<computer>-<process>" is what the lock of a profile leads to.
    process = int((tmp_path / "profile" / "SingletonLock").readlink().name.rpartition("-")[2])
    with context.expect_event("close"):
        os.kill(process, signal.SIGKILL)
    context = browser.browser_type.launch_persistent_context(tmp_path / "profile", **options)
    page = context.new_page()
    page.goto(address)
    # Whoever had the work is silent for long enough to be taken for gone.
    page.locator("[data-question]").wait_for(timeout=30_000)
    expect(page.locator("[data-resume-copy]")).to_contain_text("Blend a batch of acid descaler, lot L-7")
    expect(page.locator("[data-resume-last]")).to_contain_text(re.compile(r"Step \d+: .* AB, \d\d:\d\d, 34.8 L"))
    expect(page.locator("[data-resume-next]")).to_contain_text(re.compile(r"Step \d+: Shut D-V2"))
    expect(page.locator("[data-question]")).to_have_text(re.compile(r"Go and look. Is step \d+ really done\?"))
    press(page, "[data-sure=yes]")
    page.locator("[data-rest] h2").wait_for(state="detached")
    after = kept(page, copy)
    assert after[: len(before)] == before
    assert [event["kind"] for event in after[len(before) :]] == ["pause", "resume"]
    context.close()


# 9: what stays in view.

#: of each selector, the texts that cannot be seen just now: out of the window, or behind something
COVERED = """(wanted) => wanted.filter((selector) => {
  const found = document.querySelector(selector);
  const [box] = found.getClientRects();
  const top = document.elementFromPoint(box.left + Math.min(box.width / 2, 20), box.top + box.height / 2);
  return !(found.contains(top) && box.top >= 0 && box.bottom <= window.innerHeight && box.right <= window.innerWidth);
})"""


@pytest.mark.requirement(number=9)
@pytest.mark.parametrize("screen", ["1024x768", "768x1024", "390x844"])
def test_title_lot_revision_section_and_safe_stop_are_in_view_wherever_one_reads(
    browser: Browser, site: Path, screen: str
) -> None:
    width, height = map(int, screen.split("x"))
    with looked_at(browser, site.as_uri(), viewport={"width": width, "height": height}) as (page, _):
        at_work(page, site.as_uri(), BLEED, "run-off")
        expect(page.locator("[data-top] h1")).to_have_text("Bleed the filling line, milk-line cleaner")
        lot, revision = page.locator("[data-head-about] .whole").all()
        expect(lot).to_have_text("Lot L-7.")
        expect(revision).to_contain_text("Revision")
        expect(page.locator("[data-head-section] b")).to_contain_text("Section")
        expect(page.locator("[data-head-stop]")).to_contain_text("P1 off, V2 and V3 shut, step back")
        whole = page.evaluate("document.documentElement.scrollHeight - window.innerHeight")
        assert whole > 3 * height
        for place in range(0, whole + 1, whole // 8):
            page.evaluate("(place) => window.scrollTo(0, place)", place)
            page.wait_for_timeout(50)
            wanted = ["[data-top] h1", *(f"[data-head-about] .whole:nth-of-type({each})" for each in (1, 2))]
            wanted += ["[data-head-section] b", "[data-head-stop] p", "[data-stop]", ".emergency"]
            assert page.evaluate(COVERED, wanted) == [], place


# 10, 11: nothing is shown as kept that is not.

#: Each transaction that writes is kept open until the test lets go of it.
KEPT_OPEN = """
window.isKeptOpen = false;
const begin = IDBDatabase.prototype.transaction;
IDBDatabase.prototype.transaction = function (names, mode, ...rest) {
  const begun = begin.call(this, names, mode, ...rest);
  if (mode !== 'readwrite' || !begun.objectStoreNames.contains('events')) return begun;
  const store = begun.objectStore('events');
  const ask = () => { if (window.isKeptOpen) store.count().onsuccess = ask; };
  ask();
  return begun;
};
"""


@pytest.mark.requirement(number=10)
def test_mark_is_painted_once_its_transaction_is_complete_and_no_sooner(page: Page, own: str) -> None:
    page.add_init_script(KEPT_OPEN)
    copy = at_work(page, own, SHORT)
    page.evaluate("window.isKeptOpen = true")
    press(page, "[data-now] [data-press]")
    page.wait_for_timeout(500)
    expect(row(page, "point-red")).to_have_attribute("data-state", "not started")
    assert now(page) == "point-red"
    assert page.locator("[data-foot-said]").inner_text() != "Step 1: Done."
    page.evaluate("window.isKeptOpen = false")
    expect(row(page, "point-red")).to_have_attribute("data-state", "complete")
    last(page, copy, "mark")


@pytest.mark.requirement(number=11)
def test_browser_without_any_room_refuses_the_start_and_says_so(page: Page, own: str) -> None:
    page.add_init_script(f"({FULL})(true)")
    page.goto(f"{own}/copies/{SHORT}.html")
    expect(page.locator("[data-kept=no]")).to_contain_text("NOT SAVED. There is no room left.")
    expect(page.locator("[data-start] [role=alert]")).to_contain_text("There is no room left.")
    assert page.locator("[data-start] [data-begin]").count() == 0


@pytest.mark.requirement(number=11)
def test_page_of_a_copy_works_where_local_storage_throws(page: Page, own: str) -> None:
    page.add_init_script(
        "Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('no', 'SecurityError'); } });"
    )
    copy = at_work(page, own, SHORT)
    expect(page.locator("[data-kept=yes]")).to_contain_text("Kept on this device")
    press(page, "[data-now] [data-press]")
    expect(row(page, "point-red")).to_have_attribute("data-state", "complete")
    last(page, copy, "mark")


# 12, 13: from a folder, from this computer, from another one.


@pytest.mark.requirement(number=12)
@pytest.mark.parametrize(("origin", "is_secure"), [("file", True), ("localhost", True), (LAN, False)])
def test_everything_works_from_everywhere_and_asks_for_nothing_elsewhere(
    browser: Browser, site: Path, address: str, origin: str, is_secure: bool, tmp_path: Path
) -> None:
    own = site.as_uri() if origin == "file" else address.replace("127.0.0.1", origin)
    with looked_at(browser, own) as (page, complaints):
        begun_by_the_form(page, own)
        assert page.evaluate("window.isSecureContext") is is_secure
        for step in ("point-red", "read-red-labels"):
            press(page, "[data-now] [data-press]")
            expect(row(page, step)).to_have_attribute("data-state", "complete")
        copy = poured(page, own)
        with page.expect_download() as saved:
            press(page, "[data-aside-open]")
            press(page, "[data-panel] [data-save]")
        saved.value.save_as(tmp_path / "record.json")
        events = json.loads((tmp_path / "record.json").read_text(encoding="utf-8"))["events"]
        assert events == kept(page, copy)
        assert [event["kind"] for event in events[-3:]] == ["resume", "look", "pour"]
        STATES["out_of_limits"](page, own)
        page.goto(f"{own}/copies/index.html")
        page.locator("[data-list-about] li").first.wait_for()
        assert page.locator("[data-copy]").count() == 3
        assert complaints == []


def poured(page: Page, own: str) -> str:
    """Read a label back and put something in; return the copy."""
    STATES["pouring"](page, own)
    page.locator("[data-form] [data-typed^=pour]").fill("9.4")
    press(page, "[data-enter=pour]")
    expect(page.locator("[data-now] .row-past")).to_contain_text("put in 9.4 kg")
    return page.url.partition("#")[2]


@pytest.mark.requirement(number=13)
@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("page.html", '<img src="https://elsewhere.invalid/1">'),
        ("page.html", "<script defer src=//elsewhere.invalid/1></script>"),
        ("page.html", '<link rel="stylesheet" href="http://elsewhere.invalid/1">'),
        ("page.html", '<p style="background: url(https://elsewhere.invalid/1)">'),
        ("style.css", "@import 'https://elsewhere.invalid/1';"),
        ("style.css", ".a { background: url(//elsewhere.invalid/1); }"),
        ("drawing.svg", '<svg><image href="https://elsewhere.invalid/1"/></svg>'),
    ],
)
def test_whatever_would_be_fetched_from_elsewhere_is_found(name: str, text: str) -> None:
    assert [each.endswith("//elsewhere.invalid/1") for each in outside_addresses(name, text.encode())] == [True]


# 14: by keyboard alone.


def enter(page: Page, selector: str) -> None:
    tab_to(page, selector)
    page.wait_for_timeout(50)
    page.keyboard.press("Enter")


def held_by_key(page: Page, selector: str) -> None:
    tab_to(page, selector)
    page.keyboard.down("Enter")
    page.wait_for_timeout(HELD)
    page.keyboard.up("Enter")


@pytest.mark.requirement(number=14)
def test_keyboard_alone_leads_from_the_form_to_the_finished_record(page: Page, own: str) -> None:
    page.goto(f"{own}/copies/{SHORT}.html")
    page.locator("[data-missing]").wait_for(state="attached")
    for who, role in (("AB", "new-hire"), ("EF", "workshop-lead")):
        tab_to(page, ".work-new-person [data-typed]")
        page.keyboard.type(who)
        enter(page, f".work-new-person [data-tile={role}]")
        enter(page, "[data-enter=person]")
    seen = page.locator("[data-start] [data-seen]").evaluate_all("(all) => all.map((each) => each.dataset.seen)")
    for each in seen:
        enter(page, f"[data-seen='{each}']")
    enter(page, "[data-start] [data-begin]")
    page.locator('[data-now][data-step="point-red"]').wait_for()
    for _ in range(17):
        step = now(page)
        # It has the focus already: nobody looks for it with the tab key.
        expect(page.locator("[data-now] [data-press]").first).to_be_focused()
        page.keyboard.press("Enter")
        expect(row(page, step)).to_have_attribute("data-state", "complete")
    held_by_key(page, "[data-now] [data-hold=EF]")
    page.locator("[data-finish]").wait_for()
    held_by_key(page, "[data-finish]")
    page.locator("[data-rest] [data-save]").wait_for()
    with page.expect_download() as saved:
        enter(page, "[data-rest] [data-save]")
    assert saved.value.suggested_filename.startswith(f"{SHORT}-")
    copy = page.url.partition("#")[2]
    assert [event["kind"] for event in kept(page, copy)] == ["start", *["mark"] * 17, "release", "finish"]


# 25: there and back on another device.


@pytest.mark.requirement(number=25)
def test_copy_goes_on_elsewhere_with_the_revision_and_the_limits_it_was_begun_with(
    browser: Browser, device: Device, site: Path, tmp_path: Path
) -> None:
    now_here = page_data(site, BLEED)
    limits = "180 mS/cm", "230 mS/cm"
    assert now_here["edition"]["limits"]["milk-line-cleaner.conductivity"] == dict(
        zip(("from", "to"), limits, strict=True)
    )
    earlier = json.loads(plain_json(now_here).replace(limits[0], "150 mS/cm").replace(limits[1], "160 mS/cm"))
    earlier["edition"]["written"]["revision"] = earlier["shown"]["revision"] = "1"
    earlier["shown"]["hash"] = digest(earlier["edition"])
    steps = [event.get("step") for event in device.carried_out(earlier)["events"]]
    copy = device.carried_out(earlier, lot="L-7", count=steps.index("last-conductivity") - 1)["copy"]
    device.listed()
    path = device.saved(f"[data-key='work-list-save-{copy}']", tmp_path)
    other = Device(browser, device.base, viewport=TABLET)
    (said,) = other.brought(path)
    assert "brought in whole" in said
    assert other.state(copy) == device.state(copy)
    page = other.opened(f"copies/{BLEED}.html#{copy}")
    hold(page, "[data-take-here]")
    press(page, "[data-sure=yes]")
    expect(page.locator("[data-head-about]")).to_contain_text("Revision 1")
    expect(page.locator("[data-banner]")).to_contain_text("This copy keeps revision 1, with which it was begun.")
    expect(page.locator("[data-now]")).to_contain_text("In limits: 150 mS/cm to 160 mS/cm")
    # Outside what the site says now, inside what the copy was begun with.
    page.locator("[data-now] [data-typed]").first.fill("155")
    press(page, "[data-now] [data-enter]")
    press(page, "[data-now] [data-keep]")
    expect(row(page, "last-conductivity")).to_have_attribute("data-state", "complete")
    read = last(page, copy, "read")
    assert (read["low"], read["high"], read["inside"]) == ("150", "160", True)
    events = kept(page, copy)
    assert events == chained(events)
    other.close()

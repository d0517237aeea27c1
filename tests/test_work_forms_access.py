"""The forms of a working copy can be touched with wet gloves, worked with a keyboard alone, and read."""

import re
from collections.abc import Callable, Iterator, Mapping
from itertools import combinations
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect
from straight_copies import Straight
from work_forms_book import forms_book
from work_forms_page import ASSETS, Given, context_of, events, given, hold, keys, opened, press, until_events
from work_page import tab_to

from tankside.render_site.scripts import FORMS
from tankside.texts import words

SCREENS = {"tablet": (1024, 768), "phone": (390, 844)}
#: every control that can be seen, with its box [CSS px]
BOXES = """() => [...document.querySelectorAll('main :is(button, input, summary, textarea, a.work-press)')]
  .filter((each) => each.checkVisibility() && each.getClientRects().length > 0)
  .map((each) => {
    const { x, y, width, height } = each.getBoundingClientRect();
    return { x, y, width, height, isKey: each.dataset.key !== undefined, says: each.outerHTML.slice(0, 120) };
  })"""
OVERFLOW = "document.documentElement.scrollWidth - document.documentElement.clientWidth"


@pytest.fixture(scope="module")
def book() -> Mapping[str, Given]:
    """The small book."""
    return given(forms_book())


def label(page: Page) -> None:
    press(page.locator("[data-tile=acid]"))
    keys(page, "B-7")


def amount(page: Page) -> None:
    label(page)
    press(page.locator("[data-enter=look]"))
    page.locator("[data-enter=pour]").wait_for()
    keys(page, "6.5")
    press(page.locator("[data-enter=pour]"))
    page.locator("[data-sure]").wait_for()


def too_much(page: Page) -> None:
    amount(page)
    press(page.locator("[data-sure]"))
    press(page.locator("[data-fold^=correct] summary"))
    keys(page, "5.9", within="[data-fold^=correct]")
    press(page.locator("[data-fold^=correct] [data-offered]").first)


def reading(page: Page) -> None:
    press(page.locator("[data-checked]"))
    page.locator("[data-enter=read]").wait_for()


def seen(page: Page) -> None:
    reading(page)
    keys(page, "21.5")
    press(page.locator("[data-enter=read]"))


def nothing(page: Page) -> None:
    """Leave it as it is."""


def sheet(page: Page) -> None:
    press(page.locator("[data-fold=start-paper-open] summary"))
    page.locator("[data-missing]").wait_for(state="attached")


#: a state of a form: procedure, the step before which it stands (none: the start), and how one comes there
STATES: Mapping[str, tuple[str, str, Callable[[Page], None]]] = {
    "start": ("adding", "", nothing),
    "sheet": ("labelling", "", sheet),
    "tiles": ("adding", "add-acid", nothing),
    "label": ("adding", "add-acid", label),
    "amount": ("adding", "add-acid", amount),
    "too-much": ("adding", "add-acid", too_much),
    "instrument": ("measuring", "read-tank", nothing),
    "reading": ("measuring", "read-tank", reading),
    "seen": ("measuring", "read-tank", seen),
    "code": ("labelling", "labels-out", nothing),
    "counts": ("labelling", "labels-in", nothing),
}


@pytest.fixture
def at(browser: Browser, book: Mapping[str, Given], tmp_path: Path) -> Iterator[Callable[..., Page]]:
    """Opens a form in a state, on a screen."""
    contexts = []

    def opening(state: str, size: tuple[int, int] = SCREENS["tablet"]) -> Page:
        procedure, step, come = STATES[state]
        copy = Straight(book[procedure].portable)
        made = copy.start(bottle="5 L").before(step).events if step else None
        context = context_of(browser, size)
        contexts.append(context)
        page = opened(context, tmp_path, book[procedure], made)
        come(page)
        return page

    yield opening
    for each in contexts:
        each.close()


def apart(one: Mapping[str, float], other: Mapping[str, float]) -> float:
    """Return how far apart two boxes are [px]; below 0 where they overlap."""
    beside = max(one["x"], other["x"]) - min(one["x"] + one["width"], other["x"] + other["width"])
    below = max(one["y"], other["y"]) - min(one["y"] + one["height"], other["y"] + other["height"])
    return max(beside, below)


@pytest.mark.requirement(number=1)
@pytest.mark.parametrize("screen", SCREENS)
@pytest.mark.parametrize("state", STATES)
def test_everything_is_large_enough_and_far_enough_apart(state: str, screen: str, at: Callable[..., Page]) -> None:
    page = at(state, SCREENS[screen])
    boxes = page.evaluate(BOXES)
    assert boxes
    small = [each for each in boxes if min(each["width"], each["height"]) < (64 if each["isKey"] else 48) - 0.01]
    assert small == []
    close = [(one["says"], other["says"]) for one, other in combinations(boxes, 2) if apart(one, other) < 8 - 0.01]
    assert close == []
    assert page.evaluate(OVERFLOW) <= 0


@pytest.mark.requirement(number=14)
def test_phone_is_wide_enough_for_everything_at_320_px(at: Callable[..., Page]) -> None:
    for state in ("amount", "too-much", "start"):
        assert at(state, (320, 640)).evaluate(OVERFLOW) <= 0, state


@pytest.mark.requirement(number=14)
def test_keyboard_alone_adds_and_puts_right(at: Callable[..., Page]) -> None:
    page = at("tiles")
    count = len(events(page))
    tab_to(page, "[data-tile=acid]")
    page.keyboard.press("Enter")
    tab_to(page, "[data-typed^=look]")
    page.keyboard.type("B-7")
    page.keyboard.press("Enter")
    until_events(page, count + 1)
    tab_to(page, "[data-typed^=pour]")
    page.keyboard.type("60")
    page.keyboard.press("Enter")
    tab_to(page, "[data-sure]")
    page.wait_for_timeout(450)
    page.keyboard.press("Enter")
    until_events(page, count + 2)
    tab_to(page, "[data-fold^=correct] summary")
    page.keyboard.press("Enter")
    tab_to(page, "[data-typed$=value]")
    page.keyboard.type("6")
    tab_to(page, "[data-offered]")
    page.keyboard.press(" ")
    tab_to(page, "[data-hold=CD]")
    page.keyboard.down("Enter")
    page.wait_for_timeout(1000)
    page.keyboard.up("Enter")
    until_events(page, count + 3)
    assert [each["kind"] for each in events(page)[count:]] == ["look", "pour", "correct"]


def test_keyboard_goes_on_with_the_next_part_by_itself(at: Callable[..., Page]) -> None:
    page = at("tiles")
    tab_to(page, "[data-tile=acid]")
    page.keyboard.press("Enter")
    page.wait_for_function("document.activeElement.matches('[data-other]')")
    tab_to(page, "[data-typed^=look]")
    page.keyboard.type("B-7")
    page.keyboard.press("Enter")
    page.wait_for_function("document.activeElement.matches('[data-typed^=pour]')")


@pytest.mark.requirement(number=14)
def test_keyboard_alone_begins(at: Callable[..., Page]) -> None:
    page = at("start")
    page.locator("[data-missing]").wait_for(state="attached")
    tab_to(page, "[data-typed=start-lot]")
    page.keyboard.type("L-7")
    tab_to(page, "[data-size='60']")
    page.keyboard.press("Enter")
    for who, role in (("AB", "line-operator"), ("CD", "second-person")):
        tab_to(page, "[data-typed=start-new-who]")
        page.keyboard.type(who.lower())
        tab_to(page, f"[data-tile={role}]")
        page.wait_for_timeout(450)
        page.keyboard.press("Enter")
        tab_to(page, "[data-enter=person]")
        page.wait_for_timeout(450)
        page.keyboard.press("Enter")
    for each in ("ready", "goggles"):
        tab_to(page, f"[data-seen={each}]")
        page.wait_for_timeout(450)
        page.keyboard.press("Enter")
    tab_to(page, "[data-begin]")
    page.wait_for_timeout(450)
    page.keyboard.press("Enter")
    page.wait_for_function("window.begun === true")
    assert [each["who"] for each in events(page)[0]["people"]] == ["AB", "CD"]


def test_enter_that_is_held_down_does_not_confirm(at: Callable[..., Page]) -> None:
    page = at("reading")
    page.locator("[data-typed^=read]").focus()
    page.keyboard.type("21.5")
    page.keyboard.down("Enter")
    page.wait_for_timeout(500)
    for _ in range(3):
        page.keyboard.down("Enter")
    page.keyboard.up("Enter")
    expect(page.locator("[data-seen]")).to_have_text("21.5 °C")
    assert [each["kind"] for each in events(page)] == ["start", "checked"]


@pytest.mark.requirement(number=2)
def test_brush_against_a_hold_does_nothing(at: Callable[..., Page]) -> None:
    page = at("too-much")
    count = len(events(page))
    press(page.locator("[data-hold=CD]"))
    page.wait_for_timeout(1000)
    assert len(events(page)) == count
    hold(page.locator("[data-hold=CD]"))
    until_events(page, count + 1)


def test_what_is_said_of_what_was_typed_is_read_aloud(at: Callable[..., Page]) -> None:
    page = at("reading")
    assert page.locator("[data-said]").get_attribute("aria-live") == "polite"
    assert page.locator("main input").get_attribute("id") == page.locator("main label").get_attribute("for")


# --- the words

SAID = re.compile(r"say\(\s*'([a-z-]+)'|'(work-[a-z-]+)'|`(work-[a-z-]+)\$\{")
#: beginnings of words whose ends are worked out: counts of labels, faults of a serial, reasons against a start
BEGINNINGS = ("work-labels-", "work-paper-serial-", "work-against-", "work-")
#: names of styles that look like words
STYLES = ("work-begin", "work-typed-now")
#: what makes code of text, loads or asks elsewhere, keeps something, or writes style or markup into the page
UNWANTED = re.compile(
    r"\beval\b|\bFunction\b|\bimport\b|\bexport\b|\bfetch\b|XMLHttpRequest|\w+Storage\b|\.style\b|innerHTML"
    r"|https?://(?!www\.w3\.org/2000/svg)"
)


def test_every_word_that_a_form_says_is_in_the_table() -> None:
    table = words("en").table
    for name in FORMS:
        text = (ASSETS / "js" / name).read_text(encoding="utf-8")
        for whole, other, beginning in SAID.findall(text):
            if beginning:
                assert beginning in BEGINNINGS, f"{name}: {beginning}"
            elif (whole or other) not in STYLES:
                assert (whole or other) in table, f"{name}: {whole or other}"


def test_words_whose_ends_are_worked_out_are_in_the_table() -> None:
    table = words("en").table
    for each in ("issued", "used", "spoiled", "left"):
        assert f"work-labels-{each}" in table
    for each in ("length", "character", "check"):
        assert f"work-paper-serial-{each}" in table
    for each in ("contradicted", "out-of-order", "locked", "on-hold", "in-use"):
        assert {f"work-against-{each}", f"work-against-{each}-do"} <= set(table)


@pytest.mark.parametrize("name", FORMS)
def test_script_is_classic_and_strict_and_short(name: str) -> None:
    text = (ASSETS / "js" / name).read_text(encoding="utf-8")
    assert text.startswith("'use strict';\n\nvar tankside = window.tankside || {};\n")
    assert UNWANTED.findall(text) == []
    assert len(text.splitlines()) <= 250

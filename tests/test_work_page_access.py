"""The page of a working copy for eyes, keys and screen readers: axe, contrast of 7:1, large text, narrow screens."""

from collections.abc import Callable, Iterator
from itertools import pairwise
from pathlib import Path

import pytest
from axe import violations
from playwright.sync_api import Browser, Page, expect
from test_access import CONTRAST, overflowing
from work_page import at_work, hold, looked_at, press, row, walked

#: WCAG 2.2, 1.4.6 (AAA), which our own requirements ask for while somebody works
ENOUGH = 7
SHORT = "two-sides"
BLEED = "bleed-cleaner-line"


def resting(page: Page, own: str) -> None:
    walked(page, own, SHORT, "read-red-labels")


def working(page: Page, own: str) -> None:
    at_work(page, own, BLEED, "run-off")


def aside(page: Page, own: str) -> None:
    at_work(page, own, BLEED, "record-reading-lot-and")
    press(page, "[data-more='0/last-conductivity']")


def correcting(page: Page, own: str) -> None:
    aside(page, own)
    press(page, "[data-correct]")


def people(page: Page, own: str) -> None:
    at_work(page, own, SHORT)
    press(page, "[data-aside-open]")
    press(page, "[data-aside=people]")


def given(page: Page, own: str) -> None:
    at_work(page, own, SHORT)
    press(page, "[data-aside-open]")
    press(page, "[data-aside=give]")
    hold(page, "[data-confirm=give]")
    page.locator("[data-rest] h2").wait_for()


def wrong(page: Page, own: str) -> None:
    at_work(page, own, BLEED)
    press(page, "[data-wrong]")


def second(page: Page, own: str) -> None:
    at_work(page, own, BLEED, "right-drum")
    press(page, "[data-now] [data-answer=yes]")
    page.locator("[data-awaits=second]").wait_for()


def holding(page: Page, own: str) -> None:
    at_work(page, own, BLEED, "hold-the-reading-is")


def waiting(page: Page, own: str) -> None:
    at_work(page, own, "lock-out-mixer", "wait-the-shaft-to")
    press(page, "[data-now] [data-begin]")
    page.locator("[data-timer]").wait_for()


def choosing(page: Page, own: str) -> None:
    at_work(page, own, "hold-a-lot", "decision")


def sent(page: Page, own: str) -> None:
    at_work(page, own, "last-look", "no-smell")
    press(page, "[data-now] [data-answer=no]")
    page.locator("[data-away]").wait_for()


def ending(page: Page, own: str) -> None:
    at_work(page, own, SHORT, "hold-the-new-hire")
    hold(page, "[data-now] [data-hold=EF]")
    page.locator("[data-finish]").wait_for()


def ended(page: Page, own: str) -> None:
    ending(page, own)
    hold(page, "[data-finish]")
    page.locator("[data-rest] [data-save]").wait_for()


STATES: dict[str, Callable[[Page, str], None]] = {
    each.__name__: each
    for each in (
        *(resting, working, aside, correcting, people, given, wrong, second, holding, waiting, choosing, sent),
        *(ending, ended),
    )
}


@pytest.fixture
def own(site: Path) -> str:
    """Where the site is."""
    return site.as_uri()


@pytest.fixture(params=["light", "dark"])
def page(browser: Browser, site: Path, request: pytest.FixtureRequest) -> Iterator[Page]:
    """A page by day and by night."""
    with looked_at(browser, site.as_uri(), color_scheme=request.param) as (opened, _):
        yield opened


@pytest.mark.parametrize("state", STATES)
def test_no_state_of_the_page_breaks_a_rule_of_access(page: Page, own: str, state: str) -> None:
    STATES[state](page, own)
    # What is scrolled below head and foot just now counts as covered, however large it is.
    page.evaluate(
        "for (const each of document.querySelectorAll('[data-top], [data-foot]')) each.style.position = 'static'"
    )
    assert violations(page) == []


@pytest.mark.parametrize("state", STATES)
def test_all_text_is_told_from_its_ground_by_seven_to_one(page: Page, own: str, state: str) -> None:
    STATES[state](page, own)
    # The colours of a caution's signal word are those of ANSI Z535, which come to less.
    low = page.evaluate(CONTRAST.replace("contrast < 4.5", f"contrast < {ENOUGH} && !element.closest('.signal')"))
    assert low == []


@pytest.mark.parametrize("state", STATES)
@pytest.mark.parametrize(("width", "size"), [(320, 1), (1024, 2), (390, 2)])
def test_nothing_is_cut_off_on_a_narrow_screen_or_in_large_text(
    browser: Browser, site: Path, state: str, width: int, size: int
) -> None:
    own = site.as_uri()
    with looked_at(browser, own) as (page, _):
        STATES[state](page, own)
        page.set_viewport_size({"width": width, "height": 768})
        page.evaluate(
            "(size) => { const { style } = document.documentElement;"
            " style.fontSize = size * parseFloat(getComputedStyle(document.documentElement).fontSize) + 'px'; }",
            size,
        )
        # The head is fitted in the next frame.
        page.wait_for_timeout(100)
        assert overflowing(page) <= 0
        # What is in view at all times leaves room for what is to be read.
        head, foot = (page.locator(each).bounding_box() for each in ("[data-top]", "[data-foot]"))
        assert head is not None
        assert foot is not None
        fixed = page.evaluate("getComputedStyle(document.querySelector('[data-top]')).position")
        assert fixed == "static" or head["height"] + foot["height"] < 768 * 0.6
        expect(page.locator(".emergency")).to_be_in_viewport(ratio=1)


def test_headings_are_in_order(page: Page, own: str) -> None:
    for state in ("working", "resting", "aside", "ended"):
        STATES[state](page, own)
        levels = page.evaluate(
            "[...document.querySelectorAll('h1,h2,h3,h4')].filter((h) => h.checkVisibility()).map((h) => +h.tagName[1])"
        )
        assert levels[0] == 1
        assert levels.count(1) == 1
        assert all(after - before <= 1 for before, after in pairwise(levels)), (state, levels)


def test_state_of_a_step_is_said_in_words_and_drawn_without_colour(page: Page, own: str) -> None:
    working(page, own)
    done, ahead = row(page, "open-v3"), row(page, "stop-p1")
    expect(done.locator("[data-state-word]")).to_have_text("Complete")
    expect(ahead.locator("[data-state-word]")).to_have_text("Not started")
    shapes = [each.locator(".row-place svg").inner_html() for each in (done, ahead)]
    assert shapes[0] != shapes[1]
    assert page.evaluate(
        "[...document.querySelectorAll('.row-place svg *')].every((e) => !/#[0-9a-f]{3}/i.test(e.outerHTML))"
    )


def test_what_was_done_is_read_aloud(page: Page, own: str) -> None:
    at_work(page, own, SHORT)
    line = page.locator("[data-foot-said]")
    assert line.get_attribute("role") == "status"
    press(page, "[data-now] [data-press]")
    expect(line).to_contain_text("Step 1: Done. AB ")


def test_everything_about_a_step_can_be_done_by_keyboard(page: Page, own: str) -> None:
    at_work(page, own, BLEED, "right-drum")
    expect(page.locator("[data-now] [data-answer=yes]")).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.locator("[data-now] [data-hold=CD]")).to_be_focused()
    page.keyboard.down("Enter")
    page.wait_for_timeout(950)
    page.keyboard.up("Enter")
    expect(row(page, "right-drum")).to_have_attribute("data-state", "complete")
    expect(page.locator('[data-now][data-step="carry-pail"] [data-press], [data-now] .press-row').first).to_be_focused()
    shown = page.evaluate("getComputedStyle(document.activeElement).outlineWidth")
    assert float(shown.removesuffix("px")) >= 3


def test_step_that_has_the_focus_is_not_behind_head_or_foot(page: Page, own: str) -> None:
    at_work(page, own, SHORT)
    for _ in range(12):
        page.keyboard.press("Tab")
        covered = page.evaluate(
            """() => {
              const own = document.activeElement.getBoundingClientRect();
              const main = document.querySelector('main').contains(document.activeElement);
              const head = document.querySelector('[data-top]').getBoundingClientRect().bottom;
              const foot = document.querySelector('[data-foot]').getBoundingClientRect().top;
              return main && (own.bottom <= head || own.top >= foot);
            }"""
        )
        assert not covered


def test_paper_gets_the_record_and_no_presses(page: Page, own: str) -> None:
    ended(page, own)
    page.emulate_media(media="print")
    for each in (".foot", ".ways", ".row-more", "[data-save]"):
        assert page.locator(each).first.is_hidden()
    assert page.locator("[data-logged]").first.is_visible()
    kept = page.evaluate("[...document.querySelectorAll('.row, .caution')].map((e) => getComputedStyle(e).breakInside)")
    assert set(kept) == {"avoid"}

"""The page of a working copy for gloves, eyes, keys and screen readers, in every state it has.

Each state is opened once, and only looked at: every test says itself by which light, how wide and how large.
"""

from collections.abc import Iterator
from itertools import combinations, pairwise
from pathlib import Path
from typing import Any

import pytest
from axe import violations
from playwright.sync_api import Browser, Page, expect
from test_access import COLOURS, CONTRAST, overflowing
from work_page import at_work, looked_at, press, row
from work_states import BLEED, SHORT, STATES

#: WCAG 2.2, 1.4.6 (AAA), which our own requirements ask for while somebody works
ENOUGH = 7
#: light or dark, width and height of the screen [CSS px], size of the text, and whether head and foot stay in view
SEEN = """([scheme, size, isFixed]) => {
  const { style } = document.documentElement;
  style.fontSize = '';
  style.fontSize = size === 1 ? '' : `${size * parseFloat(getComputedStyle(document.documentElement).fontSize)}px`;
  const position = isFixed ? '' : 'static';
  for (const each of document.querySelectorAll('[data-top], [data-foot]')) each.style.position = position;
}"""
#: every control with its box, and every row that is pressed as a whole; a link inside a sentence is none (WCAG 2.5.8)
TARGETS = """() => [...document.querySelectorAll('button, input, textarea, summary, a, [data-row]:has(.press-row)')]
  .filter((each) => each.checkVisibility({ visibilityProperty: true }) && getComputedStyle(each).display !== 'inline')
  .map((each, at, all) => ({
    says: `${each.tagName} ${(each.ariaLabel || each.textContent).trim().slice(0, 50)}`,
    isRow: each.matches('[data-row]'),
    holds: all.flatMap((other, place) => (each !== other && each.contains(other) ? [place] : [])),
    ...each.getBoundingClientRect().toJSON(),
  }))"""
ROWS = "[...document.querySelectorAll('[data-row]')].filter((r) => r.checkVisibility()).map((r) => r.offsetHeight)"
#: controls that cannot be told from what is around them, by their line or by their ground (WCAG 2.2, 1.4.11)
PALE = (
    "() => {"
    + COLOURS
    + """
  return [...document.querySelectorAll('button:enabled, input, textarea, summary, a.press, .ways a, .emergency')]
    .filter((each) => each.checkVisibility({ visibilityProperty: true }) && !each.closest('[inert]'))
    .filter((each) => {
      const framed = each.matches('summary') ? each.parentElement : each;
      const [around, { borderTopStyle, borderTopWidth, borderTopColor }] =
        [ground(framed.parentElement), getComputedStyle(framed)];
      const hasLine = borderTopStyle !== 'none' && parseFloat(borderTopWidth) > 0;
      const line = hasLine ? contrastOf(over(numbers(borderTopColor), around), around) : 1;
      return Math.max(line, contrastOf(ground(framed), around)) < 3;
    })
    .map((each) => each.outerHTML.slice(0, 120));
}"""
)


#: of what is wanted, all that a finger in its middle would not meet
UNDER = """(wanted) => [...document.querySelectorAll(wanted)].filter((each) => {
  const { left, top, width, height } = each.getBoundingClientRect();
  return !each.contains(document.elementFromPoint(left + width / 2, top + height / 2));
}).map((each) => each.outerHTML.slice(0, 80))"""


@pytest.fixture(scope="module", params=STATES)
def stood(browser: Browser, site: Path, request: pytest.FixtureRequest) -> Iterator[Page]:
    """A page in one of its states; look at it, and do nothing on it."""
    with looked_at(browser, site.as_uri()) as (opened, complaints):
        STATES[request.param](opened, site.as_uri())
        yield opened
        assert complaints == []


def seen(
    page: Page, *, scheme: Any = "light", width: int = 1024, height: int = 768, size: int = 1, is_fixed: bool = False
) -> Page:
    """Return the page as it is by some light, on some screen, with text of some size.

    What is scrolled below head and foot just now counts as covered, so they lie beside it unless they are asked for.
    """
    page.emulate_media(color_scheme=scheme)
    page.set_viewport_size({"width": width, "height": height})
    page.evaluate(SEEN, [scheme, size, is_fixed])
    # The head is fitted in the next frame.
    page.wait_for_timeout(100)
    return page


@pytest.mark.requirement(number=1)
@pytest.mark.parametrize("screen", ["1024x768", "768x1024", "390x844"])
def test_whole_row_and_every_control_is_large_enough_and_apart(stood: Page, screen: str) -> None:
    width, height = map(int, screen.split("x"))
    page = seen(stood, width=width, height=height)
    assert min(page.evaluate(ROWS), default=104) >= 104
    boxes = page.evaluate(TARGETS)
    assert boxes
    assert [each["says"] for each in boxes if min(each["width"], each["height"]) < (104 if each["isRow"] else 48)] == []
    near = [
        (one["says"], other["says"])
        for (first, one), (second, other) in combinations(enumerate(boxes), 2)
        if second not in one["holds"] and first not in other["holds"] and apart(one, other) < 8 - 0.01
    ]
    assert near == []


def apart(one: dict[str, Any], other: dict[str, Any]) -> float:
    """Return how far apart two boxes are [CSS px]; below 0 where they overlap."""
    beside = max(one["left"], other["left"]) - min(one["right"], other["right"])
    below = max(one["top"], other["top"]) - min(one["bottom"], other["bottom"])
    return float(max(beside, below))


@pytest.mark.requirement(number=14)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_state_of_the_page_breaks_a_rule_of_access(stood: Page, scheme: str) -> None:
    assert violations(seen(stood, scheme=scheme)) == []


@pytest.mark.requirement(number=14)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_all_text_is_told_from_its_ground_by_seven_to_one(stood: Page, scheme: str) -> None:
    page = seen(stood, scheme=scheme)
    # The colours of a caution's signal word are those of ANSI Z535, which come to less.
    low = page.evaluate(CONTRAST.replace("contrast < 4.5", f"contrast < {ENOUGH} && !element.closest('.signal')"))
    assert low == []


@pytest.mark.requirement(number=14)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_control_is_told_from_its_ground_by_three_to_one(stood: Page, scheme: str) -> None:
    assert seen(stood, scheme=scheme).evaluate(PALE) == []


@pytest.mark.requirement(number=14)
def test_control_that_is_too_pale_is_found(browser: Browser) -> None:
    with browser.new_context() as context:
        page = context.new_page()
        # W3C: #949494 on white is 3.03:1, #959595 is 2.99:1
        page.set_content(
            "<button style='border: 2px solid #959595; background: white'>pale</button>"
            "<button style='border: 2px solid #949494; background: white'>just enough</button>"
            "<button style='border: 0; background: white'>none</button>"
        )
        found = page.evaluate(PALE)
        assert [each[-13:-9] for each in found] == ["pale", "none"]


@pytest.mark.requirement(number=14)
@pytest.mark.parametrize(("width", "size"), [(320, 1), (1024, 2), (390, 2)])
def test_nothing_is_cut_off_on_a_narrow_screen_or_in_large_text(stood: Page, width: int, size: int) -> None:
    page = seen(stood, width=width, size=size, is_fixed=True)
    assert overflowing(page) <= 0
    # What is in view at all times leaves room for what is to be read.
    head, foot = (page.locator(each).bounding_box() for each in ("[data-top]", "[data-foot]"))
    assert head is not None
    assert foot is not None
    fixed = page.evaluate("getComputedStyle(document.querySelector('[data-top]')).position")
    assert fixed == "static" or head["height"] + foot["height"] < 768 * 0.6
    expect(page.locator(".emergency")).to_be_in_viewport(ratio=1)


@pytest.mark.requirement(number=5)
@pytest.mark.parametrize("screen", ["1024x768", "768x1024", "390x844"])
def test_emergencies_and_the_safe_stop_are_one_touch_away(stood: Page, screen: str) -> None:
    width, height = map(int, screen.split("x"))
    page = seen(stood, width=width, height=height, is_fixed=True)
    assert page.locator(".emergency").get_attribute("href") == "../emergency/index.html"
    is_at_work = "#" in page.url and page.locator("[data-record]").count() == 0
    assert page.locator("[data-stop]:enabled").count() == int(is_at_work)
    assert page.evaluate(UNDER, ".emergency, [data-stop]") == []


@pytest.mark.requirement(number=11)
def test_one_line_says_whether_records_are_kept_on_this_device(stood: Page) -> None:
    page = seen(stood)
    line = page.locator("[data-head-kept] [data-kept]")
    assert line.count() == 1
    expect(line).to_be_visible()
    expect(line).to_contain_text("NOT SAVED." if line.get_attribute("data-kept") == "no" else "Kept on this device")


# What is done on the page.


@pytest.fixture(params=["light", "dark"])
def page(browser: Browser, site: Path, request: pytest.FixtureRequest) -> Iterator[Page]:
    """A page by day and by night."""
    with looked_at(browser, site.as_uri(), color_scheme=request.param) as (opened, _):
        yield opened


def test_headings_are_in_order(page: Page, own: str) -> None:
    for state in ("working", "resting", "aside", "ended"):
        STATES[state](page, own)
        levels = page.evaluate(
            "[...document.querySelectorAll('h1,h2,h3,h4')].filter((h) => h.checkVisibility()).map((h) => +h.tagName[1])"
        )
        assert levels[0] == 1
        assert levels.count(1) == 1
        assert all(after - before <= 1 for before, after in pairwise(levels)), (state, levels)


@pytest.mark.requirement(number=3)
def test_state_of_a_step_is_said_in_words_and_drawn_without_colour(page: Page, own: str) -> None:
    STATES["working"](page, own)
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


@pytest.mark.requirement(number=14)
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


@pytest.mark.requirement(number=14)
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
    STATES["ended"](page, own)
    page.emulate_media(media="print")
    for each in (".foot", ".ways", ".row-more", "[data-save]"):
        assert page.locator(each).first.is_hidden()
    assert page.locator("[data-logged]").first.is_visible()
    kept = page.evaluate("[...document.querySelectorAll('.row, .caution')].map((e) => getComputedStyle(e).breakInside)")
    assert set(kept) == {"avoid"}

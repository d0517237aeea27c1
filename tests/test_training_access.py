"""The pages of training for gloves, eyes, keys and screen readers, in every state they have."""

from collections.abc import Iterator
from itertools import combinations, pairwise
from pathlib import Path

import pytest
from axe import violations
from playwright.sync_api import Browser, Page, expect
from test_access import CONTRAST, overflowing
from test_work_page_access import ENOUGH, PALE, SEEN, TARGETS, apart
from train_states import STATES
from trained_pages import begin, kept, lesson, on_day, trained
from work_page import looked_at, tab_to


@pytest.fixture(scope="module", params=STATES)
def stood(browser: Browser, site: Path, request: pytest.FixtureRequest) -> Iterator[Page]:
    """A page in one of its states; look at it, and do nothing on it."""
    with looked_at(browser, site.as_uri()) as (opened, complaints):
        STATES[request.param](opened, site.as_uri())
        yield opened
        assert complaints == []


def seen(page: Page, width: int = 1024, height: int = 768, size: int = 1, scheme: str = "light") -> Page:
    """Return the page by some light, on some screen, with text of some size."""
    page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    page.set_viewport_size({"width": width, "height": height})
    page.evaluate(SEEN, [scheme, size, False])
    return page


@pytest.mark.requirement(number=1)
@pytest.mark.parametrize("screen", ["1024x768", "768x1024", "390x844"])
def test_every_control_is_large_enough_and_apart(stood: Page, screen: str) -> None:
    width, height = map(int, screen.split("x"))
    boxes = seen(stood, width, height).evaluate(TARGETS)
    assert boxes
    assert [each["says"] for each in boxes if min(each["width"], each["height"]) < 48] == []
    near = [
        (one["says"], other["says"])
        for (first, one), (second, other) in combinations(enumerate(boxes), 2)
        if second not in one["holds"] and first not in other["holds"] and apart(one, other) < 8 - 0.01
    ]
    assert near == []


@pytest.mark.requirement(number=14)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_state_breaks_a_rule_of_access(stood: Page, scheme: str) -> None:
    assert violations(seen(stood, scheme=scheme)) == []


@pytest.mark.requirement(number=14)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_all_text_is_told_from_its_ground_by_seven_to_one(stood: Page, scheme: str) -> None:
    assert seen(stood, scheme=scheme).evaluate(CONTRAST.replace("contrast < 4.5", f"contrast < {ENOUGH}")) == []


@pytest.mark.requirement(number=14)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_control_is_told_from_its_ground_by_three_to_one(stood: Page, scheme: str) -> None:
    assert seen(stood, scheme=scheme).evaluate(PALE) == []


@pytest.mark.requirement(number=14)
@pytest.mark.parametrize(("width", "size"), [(320, 1), (1024, 2), (390, 2)])
def test_nothing_is_cut_off_on_a_narrow_screen_or_in_large_text(stood: Page, width: int, size: int) -> None:
    assert overflowing(seen(stood, width, size=size)) <= 0


@pytest.mark.requirement(number=14)
def test_headings_are_in_order(stood: Page) -> None:
    levels = stood.evaluate(
        "[...document.querySelectorAll('h1,h2,h3,h4')].filter((h) => h.checkVisibility()).map((h) => +h.tagName[1])"
    )
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels)), levels


@pytest.mark.requirement(number=5)
def test_emergencies_are_one_touch_away(stood: Page) -> None:
    link = stood.locator(".ways .emergency")
    expect(link).to_be_visible()
    assert str(link.get_attribute("href")).endswith("emergency/index.html")


@pytest.mark.requirement(number=14)
def test_somebody_is_shown_and_signed_for_by_keyboard_alone(browser: Browser, own: str) -> None:
    with trained(browser, own) as page:
        on_day(page, "2026-12-01")
        lesson(page, own, "two-sides", begin(page, own))
        tab_to(page, "[data-train-i-have-read]")
        page.keyboard.press("Enter")
        expect(page.locator("[data-train-has-read]")).to_be_visible()
        tab_to(page, "[data-train-asking] input")
        page.keyboard.press("Space")
        tab_to(page, "[data-train-answer]")
        page.keyboard.press("Enter")
        expect(page.locator("[data-train-explained]")).to_be_focused()
        tab_to(page, "input[name=train-method]")
        page.keyboard.press("Space")
        tab_to(page, "input[name=train-result]")
        page.keyboard.press("Space")
        tab_to(page, "[data-typed=watched-who]")
        page.keyboard.type("WL")
        tab_to(page, "[data-tile=workshop-lead]")
        page.keyboard.press("Enter")
        tab_to(page, "[data-train-hold=watched]")
        page.keyboard.down("Enter")
        page.wait_for_timeout(950)
        page.keyboard.up("Enter")
        expect(page.locator("[data-train-standing]")).to_have_text("Shown.")
        assert [event["kind"] for event in kept(page)[0]["events"]] == ["begin", "signed", "answered", "signed"]


def test_paper_gets_what_is_to_be_read_and_no_forms(browser: Browser, own: str) -> None:
    with trained(browser, own) as page:
        STATES["watched"](page, own)
        page.emulate_media(media="print")
        for each in ("[data-train-hold]", "[data-train-asking]", ".button"):
            assert page.locator(each).first.is_hidden()
        assert page.locator(".train-questions h3").first.is_visible()
        assert page.locator("[data-watch]").first.is_visible()

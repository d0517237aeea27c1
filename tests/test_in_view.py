"""What must stay in view stays in view: how to stop, where the keyboard is, and where a link led."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

SCREENS = {"tablet": (1024, 768), "upright": (768, 1024), "phone": (390, 844)}
LONG = "procedures/batch/blend-milk-line-cleaner.html"

#: Whether what has the focus can be seen, at least in part, and is outlined (WCAG 2.2, 2.4.7 and 2.4.11).
FOCUS = """() => {
  const it = document.activeElement;
  const points = [...it.getClientRects()].flatMap(
    (box) => [0.1, 0.5, 0.9].map((share) => [box.left + box.width / 2, box.top + box.height * share]));
  const isSeen = points.some((point) => it.contains(document.elementFromPoint(...point)));
  const {outlineStyle, outlineWidth} = getComputedStyle(it);
  const isOutlined = outlineStyle !== 'none' && parseFloat(outlineWidth) >= 2;
  return it === document.body || (isSeen && isOutlined) ? '' : it.outerHTML.slice(0, 160);
}"""

#: Elements that cut off a part of their text.
CUT = """() => [...document.querySelectorAll('body *')]
  .filter((each) => each.checkVisibility({visibilityProperty: true}) && each.clientWidth > 1 && each.clientHeight > 1)
  .filter((each) => {
    const cuts = (overflow) => overflow === 'hidden' || overflow === 'clip';
    const {overflowX, overflowY} = getComputedStyle(each);
    return (cuts(overflowX) && each.scrollWidth > each.clientWidth + 1)
      || (cuts(overflowY) && each.scrollHeight > each.clientHeight + 1);
  })
  .filter((each) => each.textContent.trim() !== '')
  .map((each) => `${each.className}: ${each.textContent.trim().slice(0, 40)}`)"""


@contextmanager
def opened(browser: Browser, site: Path, address: str, screen: str) -> Iterator[Page]:
    """Open a page of the site on a screen that is touched."""
    width, height = SCREENS[screen]
    with browser.new_context(viewport={"width": width, "height": height}, has_touch=True) as context:
        page = context.new_page()
        page.goto((site / address).as_uri())
        yield page


def top_and_bottom(shown: Locator) -> tuple[float, float]:
    box = shown.bounding_box(timeout=2000)
    assert box is not None
    return box["y"], box["y"] + box["height"]


@pytest.mark.parametrize("screen", SCREENS)
def test_stopping_safely_and_emergencies_stay_in_view_among_the_steps(
    browser: Browser, site: Path, screen: str
) -> None:
    with opened(browser, site, LONG, screen) as page:
        page.evaluate("window.scrollTo(0, document.querySelector('#step-start-p3').offsetTop)")
        emergency, stop = page.locator(".book-emergency"), page.locator(".stop-safely")
        expect(emergency).to_be_in_viewport(ratio=1)
        expect(stop).to_be_in_viewport(ratio=1)
        assert top_and_bottom(emergency)[1] <= top_and_bottom(stop)[0]
        page.get_by_role("link", name="Emergency", exact=True).click(timeout=2000)
        assert page.url.endswith("/emergency/index.html")


@pytest.mark.parametrize("screen", SCREENS)
def test_place_that_a_link_leads_to_is_not_covered(browser: Browser, site: Path, screen: str) -> None:
    with opened(browser, site, LONG, screen) as page:
        page.evaluate("location.hash = '#section-not-right'")
        page.wait_for_timeout(200)
        assert top_and_bottom(page.locator(".stop-safely"))[1] <= top_and_bottom(page.locator(":target"))[0]


@pytest.mark.parametrize("screen", ["tablet", "phone"])
@pytest.mark.parametrize(
    "address",
    [
        "index.html",
        "procedures/filling/bleed-cleaner-line.html",
        "checklists/open-the-workshop.html",
        "emergency/splash.html",
    ],
)
def test_focus_is_seen_and_not_covered(browser: Browser, site: Path, address: str, screen: str) -> None:
    with opened(browser, site, address, screen) as page:
        hidden = []
        for key in ["Tab"] * 20 + ["Shift+Tab"] * 10:
            page.keyboard.press(key)
            page.wait_for_timeout(20)
            hidden.append(f"{key}: {page.evaluate(FOCUS)}")
        assert [each for each in hidden if "<" in each] == []


def test_keyboard_alone_opens_the_menu_and_reaches_a_family(browser: Browser, site: Path) -> None:
    with opened(browser, site, "index.html", "phone") as page:
        page.get_by_role("button", name="Menu").focus()
        page.keyboard.press("Enter")
        family = page.get_by_role("link", name="Checklists", exact=True)
        expect(family).to_be_in_viewport(ratio=1)
        page.keyboard.press("Tab")
        for _ in range(30):
            if family.evaluate("(link) => link === document.activeElement"):
                break
            page.keyboard.press("Tab")
        page.keyboard.press("Enter")
        page.wait_for_url("**/checklists/index.html")


@pytest.mark.parametrize("address", ["index.html", LONG, "checklists/open-the-workshop.html", "emergency/splash.html"])
def test_text_of_twice_the_size_is_not_cut(browser: Browser, site: Path, address: str) -> None:
    with opened(browser, site, address, "tablet") as page:
        page.evaluate(
            "(root) => { root.style.fontSize = 2 * parseFloat(getComputedStyle(root).fontSize) + 'px'; }",
            page.query_selector("html"),
        )
        assert page.evaluate(CUT) == []

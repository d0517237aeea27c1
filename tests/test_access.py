"""Every kind of page on every kind of screen: nothing cut off, big enough to touch, readable, in order."""

from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

SCREENS = {
    "laptop": (1280, 900),
    "tablet": (1024, 768),
    "upright": (768, 1024),
    "phone": (390, 844),
    "narrow": (320, 640),
}
KINDS = (
    "index.html",
    "about.html",
    "procedures/safety/index.html",
    "procedures/filling/bleed-cleaner-line.html",
    "procedures/batch/blend-milk-line-cleaner.html",
    "procedures/lockout/lock-out-mixer.html",
    "checklists/index.html",
    "checklists/open-the-workshop.html",
    "checklists/first-day.html",
    "materials/index.html",
    "materials/hypochlorite-solution.html",
    "materials/milk-line-cleaner.html",
    "equipment/index.html",
    "equipment/m1.html",
    "equipment/cleaner-line.html",
    "line-diagram/index.html",
    "what-meets-what/index.html",
    "audit/index.html",
    "audit/rules.html",
    "audit/standards.html",
    "audit/assessments.html",
    "signs/index.html",
    "emergency/index.html",
    "emergency/splash.html",
    "emergency/small-spill.html",
)
#: our own controls; links inside a sentence are exempt (WCAG 2.5.8, inline)
CONTROLS = (
    ".links > li > a, .parts > li > a, [data-search-field], .book-emergency, .book-title, .book-menu, summary, "
    "header nav a, .one > h2 a, p.sheet > a"
)

#: How light a colour is, what stands behind an element, how far two colours are apart (WCAG 2.2, contrast ratio).
COLOURS = """
  const channel = (value) => value <= 0.04045 * 255 ? value / 255 / 12.92 : ((value / 255 + 0.055) / 1.055) ** 2.4;
  const luminance = ([r, g, b]) => 0.2126 * channel(r) + 0.7152 * channel(g) + 0.0722 * channel(b);
  const numbers = (colour) => colour.match(/[\\d.]+/g).map(Number);
  const over = ([r, g, b, a = 1], back) => [r, g, b].map((value, at) => value * a + back[at] * (1 - a));
  function ground(element) {
    const layers = [];
    for (let each = element; each; each = each.parentElement) {
      const colour = numbers(getComputedStyle(each).backgroundColor);
      layers.push(colour);
      if ((colour[3] ?? 1) === 1) break;
    }
    return layers.reverse().reduce((back, layer) => over(layer, back), [255, 255, 255]);
  }
  function contrastOf(one, other) {
    const [a, b] = [luminance(one), luminance(other)];
    return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
  }"""
#: The contrast of every visible text with the nearest background that is not see-through (WCAG 2.2, 1.4.3).
CONTRAST = (
    "() => {"
    + COLOURS
    + """
  const low = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const element = node.parentElement;
    if (!node.data.trim() || !element.checkVisibility({visibilityProperty: true, opacityProperty: true})) continue;
    if (['SCRIPT', 'STYLE', 'NOSCRIPT'].includes(element.tagName)) continue;
    const box = element.getBoundingClientRect();
    if (box.width === 0 || box.height === 0) continue;
    const back = ground(element);
    const contrast = contrastOf(over(numbers(getComputedStyle(element).color), back), back);
    if (contrast < 4.5) low.push(`${contrast.toFixed(2)} ${node.data.trim().slice(0, 40)}`);
  }
  return low;
}"""
)


@pytest.fixture(params=SCREENS)
def screen(request: pytest.FixtureRequest, browser: Browser) -> Iterator[Page]:
    """A page on one of the screens."""
    width, height = SCREENS[request.param]
    with browser.new_context(viewport={"width": width, "height": height}) as context:
        yield context.new_page()


@pytest.fixture
def desk(browser: Browser) -> Iterator[Page]:
    """A page on a laptop."""
    with browser.new_context(viewport={"width": 1280, "height": 900}) as context:
        yield context.new_page()


def overflowing(page: Page) -> int:
    return int(page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth"))


@pytest.mark.requirement(number=14)
def test_no_page_scrolls_sideways(screen: Page, site: Path) -> None:
    too_wide = []
    for kind in KINDS:
        screen.goto((site / kind).as_uri())
        if overflowing(screen) > 0:
            too_wide.append(kind)
    assert too_wide == []


def test_every_control_can_be_touched_with_a_glove(screen: Page, site: Path) -> None:
    heights: dict[str, float] = {}
    for kind in KINDS:
        screen.goto((site / kind).as_uri())
        measured = screen.evaluate(
            "(wanted) => [...document.querySelectorAll(wanted)].filter(each => each.checkVisibility())"
            ".map(each => [each.textContent.trim(), each.getBoundingClientRect().height])",
            CONTROLS,
        )
        heights |= {f"{kind}: {words}": height for words, height in measured}
    assert len(heights) > 50
    assert {where: height for where, height in heights.items() if 0 < height < 48} == {}


@pytest.mark.requirement(number=14)
def test_all_text_can_be_told_from_its_ground(desk: Page, site: Path) -> None:
    low = []
    for kind in KINDS:
        desk.goto((site / kind).as_uri())
        low += [f"{kind}: {each}" for each in desk.evaluate(CONTRAST)]
    assert low == []


def test_contrast_finds_what_is_too_pale(desk: Page) -> None:
    desk.set_content("<p style='color:#777'>pale</p><p style='color:#767676'>just enough</p>")
    assert desk.evaluate(CONTRAST) == ["4.48 pale"]  # W3C: #777 on white is 4.48:1, #767676 is 4.54:1


@pytest.mark.parametrize("kind", KINDS)
def test_headings_are_in_order_and_the_page_has_its_landmarks(desk: Page, site: Path, kind: str) -> None:
    desk.goto((site / kind).as_uri())
    levels = [
        int(name[1])
        for name in desk.evaluate("[...document.querySelectorAll('h1,h2,h3,h4,h5,h6')].map(h => h.tagName)")
    ]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))
    assert desk.locator("main").count() == 1
    assert desk.evaluate("document.documentElement.lang") == "en"


@pytest.mark.requirement(number=14)
def test_text_of_twice_the_size_stays_in_view(desk: Page, site: Path) -> None:
    cut = []
    for kind in KINDS:
        desk.goto((site / kind).as_uri())
        desk.evaluate(
            "document.documentElement.style.fontSize = "
            "2 * parseFloat(getComputedStyle(document.documentElement).fontSize) + 'px'"
        )
        if overflowing(desk) > 0:
            cut.append(kind)
    assert cut == []


def test_focus_can_be_seen(desk: Page, site: Path) -> None:
    seen = 0
    for kind in ("index.html", "emergency/splash.html"):
        desk.goto((site / kind).as_uri())
        for _ in range(6):
            desk.keyboard.press("Tab")
            if desk.evaluate("document.activeElement === document.body"):
                break
            seen += 1
            style = desk.evaluate(
                "(() => { const s = getComputedStyle(document.activeElement);"
                " return [s.outlineStyle, parseFloat(s.outlineWidth)]; })()"
            )
            assert style[0] != "none", (kind, desk.evaluate("document.activeElement.outerHTML")[:120])
            assert style[1] >= 1
    assert seen > 6


def test_steps_stay_whole_in_print(desk: Page, site: Path) -> None:
    desk.goto((site / "procedures/filling/bleed-cleaner-line.html").as_uri())
    desk.emulate_media(media="print")
    assert desk.locator(".book-header").is_hidden()
    kept = desk.evaluate("[...document.querySelectorAll('.step,.caution')].map(s => getComputedStyle(s).breakInside)")
    assert set(kept) == {"avoid"}

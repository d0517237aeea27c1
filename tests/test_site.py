"""The built site: nothing from elsewhere, no broken link, a policy that holds, and every page without script."""

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urldefrag, urljoin, urlsplit

import pytest
from playwright.sync_api import Browser, BrowserContext

#: the element and attribute by which a page makes the browser fetch something (HTML standard, "Resources")
FETCHES = {
    ("audio", "src"),
    ("embed", "src"),
    ("form", "action"),
    ("iframe", "src"),
    ("image", "href"),
    ("img", "src"),
    ("img", "srcset"),
    ("input", "src"),
    ("link", "href"),
    ("object", "data"),
    ("script", "src"),
    ("source", "src"),
    ("source", "srcset"),
    ("track", "src"),
    ("use", "href"),
    ("video", "poster"),
    ("video", "src"),
}
#: what names something without fetching it
NAMES = ("http://www.w3.org/2000/svg", "http://www.w3.org/1999/xlink")
LISTEN = """
window.refused = [];
document.addEventListener('securitypolicyviolation', (event) => window.refused.push(event.violatedDirective));
"""


@dataclass
class Page(HTMLParser):
    """What a page is made of."""

    path: Path
    tags: list[tuple[str, dict[str, str]]] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__()
        self.feed(self.path.read_text(encoding="utf-8"))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {name: value or "" for name, value in attrs}))

    def every(self, *names: str) -> Iterator[dict[str, str]]:
        return (attributes for tag, attributes in self.tags if tag in names)

    @property
    def ids(self) -> list[str]:
        return [attributes["id"] for _, attributes in self.tags if "id" in attributes]


@pytest.fixture(scope="module")
def pages(site: Path) -> dict[str, Page]:
    """All pages of the site, by address."""
    return {path.relative_to(site).as_posix(): Page(path) for path in sorted(site.rglob("*.html"))}


@cache
def text(path: Path) -> str:
    return path.read_text(encoding="utf-8")


def is_outside(address: str) -> bool:
    return bool(urlsplit(address.strip()).netloc)


def test_site_holds_every_kind_of_page(pages: dict[str, Page]) -> None:
    # So that no test below is satisfied by an empty folder.
    assert len(pages) > 50
    expected = (
        "index.html",
        "about.html",
        "procedures/filling/bleed-cleaner-line.html",
        "checklists/first-day.html",
        "materials/milk-line-cleaner.html",
        "equipment/v2.html",
        "emergency/splash.html",
    )
    assert [page for page in expected if page not in pages] == []


@pytest.mark.requirement(number=13)
def test_no_page_fetches_anything_from_elsewhere(pages: dict[str, Page]) -> None:
    found = [
        (page, attributes[name])
        for page, parsed in pages.items()
        for tag, attributes in parsed.tags
        for name in attributes
        if (tag, name) in FETCHES and is_outside(attributes[name])
    ]
    assert found == []


@pytest.mark.requirement(number=13)
@pytest.mark.parametrize("suffix", [".css", ".html", ".svg", ".js"])
def test_no_style_fetches_anything_from_elsewhere(site: Path, suffix: str) -> None:
    addressed = re.compile(r"""(?:url\(|@import)\s*(?:url\()?\s*["']?([^"')\s;]+)""")
    files = list(site.rglob(f"*{suffix}"))
    assert files
    found = [(path.name, each) for path in files for each in addressed.findall(text(path)) if is_outside(each)]
    assert found == []


def test_our_scripts_name_no_address_of_elsewhere(site: Path) -> None:
    scripts = [site / "tankside" / name for name in ("search.js", "search-index.js")]
    assert [path.name for path in scripts if re.search(r"(?:https?|wss?):", text(path))] == []


@pytest.mark.requirement(number=13)
def test_no_drawing_fetches_anything(site: Path) -> None:
    drawings = list(site.rglob("*.svg"))
    assert len(drawings) > 20
    found = [
        (path.name, each)
        for path in drawings
        for each in re.findall(r"""(?:href|src)\s*=\s*["']([^"']+)""", text(path))
        if not each.startswith(("#", "data:"))
    ]
    assert found == []
    outside = {each for path in drawings for each in re.findall(r"""https?://[^"'\s<]+""", text(path))}
    assert outside <= set(NAMES)


def test_every_link_leads_to_a_page_and_a_place_on_it(site: Path, pages: dict[str, Page]) -> None:
    broken = []
    for page, parsed in pages.items():
        for link in parsed.every("a", "link"):
            to, anchor = urldefrag(urljoin(f"/{page}", link.get("href", "")))
            if is_outside(to):
                continue
            target = unquote(to).lstrip("/")
            if not (site / target).is_file() or (anchor and anchor not in pages[target].ids):
                broken.append((page, link["href"]))
    assert broken == []


def test_every_picture_is_there_and_says_what_it_shows(site: Path, pages: dict[str, Page]) -> None:
    missing, silent = [], []
    for page, parsed in pages.items():
        for picture in parsed.every("img"):
            if not (site / unquote(urljoin(f"/{page}", picture["src"])).lstrip("/")).is_file():
                missing.append((page, picture["src"]))
            if "alt" not in picture:
                silent.append((page, picture["src"]))
    assert (missing, silent) == ([], [])


def test_ids_are_unique_on_each_page(pages: dict[str, Page]) -> None:
    twice = {page: [name for name, count in Counter(parsed.ids).items() if count > 1] for page, parsed in pages.items()}
    assert {page: names for page, names in twice.items() if names} == {}


@pytest.mark.requirement(number=13)
def test_policy_stands_before_everything_it_governs(pages: dict[str, Page]) -> None:
    loose = []
    for page, parsed in pages.items():
        order = [
            "policy" if attributes.get("http-equiv") == "Content-Security-Policy" else tag
            for tag, attributes in parsed.tags
            if tag in ("link", "script", "style", "img") or "http-equiv" in attributes
        ]
        if order[0] != "policy" or order.count("policy") != 1:
            loose.append(page)
    assert loose == []


@pytest.mark.requirement(number=13)
def test_policy_allows_nothing_inline(pages: dict[str, Page]) -> None:
    for page, parsed in pages.items():
        (policy,) = [each["content"] for each in parsed.every("meta") if "http-equiv" in each]
        assert "unsafe" not in policy, page
        assert policy.startswith("default-src 'none'; "), page


def test_emergency_pages_hold_no_script_and_nothing_of_the_theme(pages: dict[str, Page]) -> None:
    emergencies = {page: parsed for page, parsed in pages.items() if page.startswith("emergency/")}
    assert len(emergencies) >= 5
    for page, parsed in emergencies.items():
        assert list(parsed.every("script")) == [], page
        assert [each["href"] for each in parsed.every("link") if "/tankside/" not in each["href"]] == [], page


def test_emergencies_are_one_touch_away_and_the_book_one_touch_back(pages: dict[str, Page]) -> None:
    for page, parsed in pages.items():
        links = {urldefrag(urljoin(f"/{page}", each.get("href", "")))[0] for each in parsed.every("a")}
        assert "/emergency/index.html" in links, page
        assert "/index.html" in links, page


def recorded(context: BrowserContext, own: str) -> list[str]:
    """Return the list in which every request that leaves the site is written."""
    left: list[str] = []
    context.on("request", lambda asked: None if asked.url.startswith((own, "data:")) else left.append(asked.url))
    return left


@pytest.mark.requirement(number=13)
@pytest.mark.requirement(number=12)
@pytest.mark.parametrize("scheme", ["file", "http"])
def test_no_page_complains_is_refused_or_asks_elsewhere(
    browser: Browser, site: Path, address: str, pages: dict[str, Page], scheme: str
) -> None:
    own = site.as_uri() if scheme == "file" else address
    complaints: list[str] = []
    with browser.new_context() as context:
        context.add_init_script(LISTEN)
        left = recorded(context, own)
        page = context.new_page()
        page.on("console", lambda said: complaints.append(f"{page.url}: {said.type}: {said.text}"))
        page.on("pageerror", lambda error: complaints.append(f"{page.url}: {error}"))
        page.on("response", lambda got: complaints.append(f"{page.url}: {got.status}") if got.status >= 400 else None)
        for name in pages:
            page.goto(f"{own}/{name}")
            complaints += [f"{name}: policy {each}" for each in page.evaluate("window.refused")]
    assert left == []
    assert complaints == []


@pytest.mark.requirement(number=13)
def test_listeners_notice_what_they_are_there_for(browser: Browser, site: Path) -> None:
    # A page that breaks its policy and asks elsewhere: the test above must not be deaf.
    complaints: list[str] = []
    with browser.new_context() as context:
        context.add_init_script(LISTEN)
        left = recorded(context, site.as_uri())
        page = context.new_page()
        page.on("console", lambda said: complaints.append(said.type))
        page.goto((site / "index.html").as_uri())
        page.evaluate(
            "document.body.append(Object.assign(document.createElement('script'), {textContent: 'window.ran = true'}))"
        )
        page.evaluate("location.href = 'http://elsewhere.invalid/'")
        page.wait_for_event("requestfailed")
    assert left == ["http://elsewhere.invalid/"]
    assert "error" in complaints


#: a page, and texts of the book that must be readable on it
READABLE = {
    "index.html": ("Something is wrong now", "Bleed the filling line, milk-line cleaner"),
    "procedures/filling/bleed-cleaner-line.html": (
        "P1 off, V2 and V3 shut, step back, call the second person.",
        "Cleaner under pressure can spray from the nozzle.",
        "Shut V2",
    ),
    "checklists/open-the-workshop.html": ("Start of the day",),
    "materials/milk-line-cleaner.html": ("Causes severe skin burns and eye damage",),
    "equipment/v2.html": ("V2",),
    "emergency/splash.html": ("Hold both eyes wide open",),
}


@pytest.mark.parametrize("page", READABLE)
def test_page_is_readable_without_script(browser: Browser, site: Path, page: str) -> None:
    with browser.new_context(java_script_enabled=False, viewport={"width": 390, "height": 844}) as context:
        shown = context.new_page()
        shown.goto((site / page).as_uri())
        for expected in READABLE[page]:
            assert shown.get_by_text(expected).locator("visible=true").count() > 0, expected


def test_menu_leads_to_a_family_without_script(browser: Browser, site: Path) -> None:
    with browser.new_context(java_script_enabled=False, viewport={"width": 390, "height": 844}) as context:
        page = context.new_page()
        page.goto((site / "index.html").as_uri())
        menu = page.get_by_role("navigation", name="Navigation")
        page.get_by_role("button", name="Menu").click()
        menu.locator("label.md-nav__link:visible", has_text="Procedures").click()
        menu.get_by_role("navigation", name="Procedures").get_by_role("link", name="Filling").click()
        assert page.url.endswith("/procedures/filling/index.html")
        page.get_by_role("link", name="Bleed the filling line, milk-line cleaner").click()
        assert page.get_by_role("heading", level=1).inner_text() == "Bleed the filling line, milk-line cleaner"


def test_without_script_the_page_says_that_the_search_is_off(browser: Browser, site: Path) -> None:
    with browser.new_context(java_script_enabled=False) as context:
        page = context.new_page()
        page.goto((site / "index.html").as_uri())
        assert page.get_by_text("The search needs script").is_visible()
        assert page.get_by_role("searchbox").count() == 0

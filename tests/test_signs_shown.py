"""Wherever a sign is shown, visible words stand beside it, and no row holds signs of two families (requirement 22)."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tankside.checkup import check_book
from tankside.drawing.signs import SIGNS, MixedFamilies, sign_svg
from tankside.edition.sheets import sheet_editions
from tankside.loading.sources import picture_data
from tankside.model.sheets import BINDER
from tankside.render_print.engine import Engine, data_address
from tankside.render_print.sheets import SheetMaker
from tankside.templating import Medium
from tankside.texts import words

ROOT = Path(__file__).parent.parent
TEMPLATES = ROOT / "tools" / "tankside" / "assets" / "templates"
#: the signs a page shows, each with the visible words of the smallest thing around it that has any and no other sign
SHOWN = r"""() => [...document.images].filter((image) => /\/signs\/\w+\.svg$/.test(image.src))
  .filter((image) => image.checkVisibility({visibilityProperty: true, opacityProperty: true})).map((image) => {
  let around = image.parentElement;
  let words = '';
  while (around && !words && around.querySelectorAll('img[src*="/signs/"]').length === 1) {
    words = around.innerText.trim();
    around = around.parentElement;
  }
  const {left, top, right, bottom} = image.getBoundingClientRect();
  return {code: image.src.match(/(\w+)\.svg$/)[1], words: words.replace(/\s+/g, ' '), left, top, right, bottom};
})"""


def family(code: str) -> str:
    """Return what the code itself says of the family: the letter, or GHS (ISO 7010, UN GHS)."""
    return "GHS" if code.startswith("GHS") else code[0]


def lacks_words(code: str, beside: str) -> bool:
    """Return whether nobody would know what a sign means from the words beside it.

    A piece of protective equipment is named itself, and a call for help has its number; all others say their meaning.
    """
    return len(beside) < 3 or (family(code) in ("GHS", "W", "P", "F") and SIGNS[code].name not in beside)


def in_one_row(one: dict[str, Any], other: dict[str, Any]) -> bool:
    """Return whether two boxes stand beside each other: by more than half of the lower one."""
    common = min(one["bottom"], other["bottom"]) - max(one["top"], other["top"])
    return bool(common > min(one["bottom"] - one["top"], other["bottom"] - other["top"]) / 2)


@pytest.fixture
def desk(browser: Browser) -> Iterator[Page]:
    """A wide page, on which most signs come to stand beside each other."""
    with browser.new_context(viewport={"width": 1600, "height": 900}) as context:
        yield context.new_page()


@pytest.mark.requirement(number=22)
def test_signs_of_pages_have_words_and_rows_one_family(desk: Page, site: Path) -> None:
    seen: set[str] = set()
    for path in sorted(site.rglob("*.html")):
        desk.goto(path.as_uri(), wait_until="domcontentloaded")
        shown = desk.evaluate(SHOWN)
        seen |= {each["code"] for each in shown}
        for each in shown:
            assert not lacks_words(each["code"], each["words"]), f"{path.name}: {each}"
        for one, other in combinations(shown, 2):
            same = family(one["code"]) == family(other["code"])
            assert same or not in_one_row(one, other), f"{path.name}: {one} beside {other}"
    assert seen == set(SIGNS)


def test_bare_signs_and_mixed_rows_of_a_page_are_found(desk: Page) -> None:
    image = '<img alt="" style="width:60px;height:60px" src="http://localhost/signs/{}.svg">'
    one, other = (image.format(code) for code in ("M004", "GHS05"))
    desk.set_content(f"<ul style='display:flex'><li>{one} Goggles</li><li>{other}<b hidden>Corrosive</b></li></ul>")
    goggles, bare = desk.evaluate(SHOWN)
    assert (goggles["words"], bare["words"]) == ("Goggles", "")
    assert not lacks_words("M004", "Goggles") and lacks_words("GHS05", "") and lacks_words("GHS05", "Goggles")
    assert in_one_row(goggles, bare)
    desk.set_content(f"<p>{one} Goggles</p><p>{other} Corrosive</p>")
    assert not in_one_row(*desk.evaluate(SHOWN))


@pytest.mark.requirement(number=22)
def test_page_of_signs_says_of_each_its_code_meaning_source_and_how_it_was_checked(desk: Page, site: Path) -> None:
    desk.goto((site / "signs/index.html").as_uri())
    texts = desk.eval_on_selector_all(".all-signs li", "all => all.map((each) => each.innerText.replace(/\\s+/g, ' '))")
    assert len(texts) == len(SIGNS) == 43
    said = {re.findall(r"\b(?:[EFMPW]\d{3}|GHS0\d)\b", text)[0]: text for text in texts}
    for code, sign in SIGNS.items():
        for part in (sign.name, sign.means, sign.source, sign.seen):
            assert part in said[code], code
        assert "Compared with a listing only." in said[code]
    whole = desk.inner_text("article")
    assert "our own" in whole and "not the registered originals" in whole
    assert "what to do or what to expect in the room" in whole and "what a substance is" in whole
    # each family by itself, under a heading of its own
    lists = desk.eval_on_selector_all(
        ".all-signs", "all => all.map((each) => [...each.querySelectorAll('img')].map((image) => image.src))"
    )
    families = [{family(Path(source).stem) for source in each} for each in lists]
    assert families == [{"M"}, {"P"}, {"W"}, {"E"}, {"F"}, {"GHS"}]


def test_page_of_signs_is_led_to_from_home_and_from_a_label(desk: Page, site: Path) -> None:
    for start in ("index.html", "materials/hypochlorite-solution.html"):
        desk.goto((site / start).as_uri())
        link = desk.locator("article a[href$='signs/index.html']")
        assert link.count() == 1
        link.click()
        assert desk.inner_text("h1").strip() == "Signs"


@dataclass
class Element:
    """An element of a sheet."""

    tag: str
    attributes: dict[str, str | None]
    parent: "Element | None"
    inside: "list[Element | str]" = field(default_factory=list)

    def elements(self) -> Iterator["Element"]:
        """Return this element and all inside it."""
        yield self
        for each in self.inside:
            if isinstance(each, Element):
                yield from each.elements()

    def text(self) -> str:
        """Return the words inside."""
        return " ".join(each.text() if isinstance(each, Element) else each for each in self.inside)


class Reader(HTMLParser):
    """Reads a sheet before it is laid out."""

    def __init__(self) -> None:
        super().__init__()
        self.root = self.at = Element("", {}, None)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = Element(tag, dict(attrs), self.at)
        self.at.inside.append(found)
        if tag not in ("img", "meta", "link", "br", "col", "hr", "input"):
            self.at = found

    def handle_endtag(self, tag: str) -> None:
        at: Element | None = self.at
        while at is not None and at.tag != tag:
            at = at.parent
        if at is not None and at.parent is not None:
            self.at = at.parent

    def handle_data(self, data: str) -> None:
        self.at.inside.append(data)


#: how a sheet holds each sign -> its code
HELD = {data_address("image/svg+xml", sign_svg(code).encode("utf-8")): code for code in SIGNS}


def signs_in(element: Element) -> list[tuple[Element, str]]:
    """Return the pictures of signs inside an element, each with its code."""
    images = ((each, HELD.get(str(each.attributes.get("src")))) for each in element.elements() if each.tag == "img")
    return [(each, code) for each, code in images if code is not None]


def words_beside(image: Element) -> str:
    """Return the words of the smallest thing around a sign that has any and no other sign."""
    around, said = image.parent, ""
    while around is not None and not said and len(signs_in(around)) == 1:
        said = " ".join(around.text().split())
        around = around.parent
    return said


def rows_in(element: Element) -> Iterator[set[str]]:
    """Return the families of each row: of what holds nothing but signs, each with its words."""
    for each in element.elements():
        parts = [part for part in each.inside if isinstance(part, Element)]
        if len(parts) > 1 and all(signs_in(part) for part in parts):
            yield {family(code) for _, code in signs_in(each)}


@pytest.fixture(scope="module")
def sheets() -> dict[str, Element]:
    """All sheets of the demonstration before they are laid out, by id."""
    checkup = check_book(ROOT)
    assert checkup.book is not None
    maker = SheetMaker(Engine(), picture_data(ROOT), checkup.book.plant, "en", {})
    read = {}
    found = sheet_editions(checkup.book.plant, checkup.editions)
    for name, sheet in ((name, each) for name, each in found.items() if each.kind != BINDER):
        reader = Reader()
        reader.feed(maker.draft(sheet).html)
        read[name] = reader.root
    return read


def test_bare_signs_and_mixed_rows_of_a_sheet_are_found() -> None:
    one, other = (f'<img src="{source}">' for source, code in HELD.items() if code in ("M004", "GHS05"))
    reader = Reader()
    reader.feed(f"<section><div><div>{one}<p>Goggles</p></div><div>{other}</div></div></section><p>Corrosive</p>")
    assert [(code, words_beside(image)) for image, code in signs_in(reader.root)] == [
        ("M004", "Goggles"),
        ("GHS05", ""),
    ]
    assert list(rows_in(reader.root)) == [{"M", "GHS"}]


@pytest.mark.requirement(number=22)
def test_signs_of_sheets_have_words_and_rows_one_family(sheets: dict[str, Element]) -> None:
    bare, mixed, seen = [], [], set()
    for name, sheet in sheets.items():
        for image, code in signs_in(sheet):
            seen.add(code)
            if lacks_words(code, words_beside(image)):
                bare.append((name, code, words_beside(image)))
        mixed += [(name, row) for row in rows_in(sheet) if len(row) > 1]
    assert {"M004", "M009", "E004", "GHS05"} <= seen
    assert bare == []
    assert mixed == []


@pytest.mark.parametrize("path", sorted(TEMPLATES.rglob("*.html")), ids=lambda path: path.name)
def test_template_takes_signs_from_a_row_that_was_checked(path: Path) -> None:
    # A single sign is named in the template itself; any other comes out of `row`, which refuses two families.
    text = path.read_text(encoding="utf-8")
    for macro in re.split(r"(?=\{% macro )", text):
        for asked in re.finditer(r"m\.sign\(([^)]*)\)", macro):
            is_piece = path.name == "pieces.html" and macro.startswith("{% macro sign(")
            is_named = re.fullmatch(r'"[EFMPWGHS0-9]+"', asked[1]) is not None
            assert is_piece or is_named or "m.row(" in macro[: asked.start()], f"{path.name}: {asked[0]}"


def test_medium_refuses_a_row_of_two_families() -> None:
    m = Medium(words("en"), sign=str, mark=str, picture=str, link=lambda _: None)
    assert [each.name for each in m.row(["GHS05", "GHS09"])] == ["Corrosive", "Harmful to the aquatic environment"]
    with pytest.raises(MixedFamilies):
        m.row(["M004", "GHS05"])

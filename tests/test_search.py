"""The search of the built site, from a file, without a network."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

HOME = "index.html"
BLEED = "Bleed the filling line, milk-line cleaner"
#: pages at each depth of the site
DEPTHS = ("index.html", "materials/index.html", "procedures/filling/index.html")


@pytest.fixture
def page(browser: Browser, site: Path) -> Iterator[Page]:
    """The home page, opened from a file; the test fails when any script complains."""
    complaints: list[str] = []
    with browser.new_context(offline=True) as context:
        page = context.new_page()
        page.on("console", lambda said: complaints.append(said.text))
        page.on("pageerror", lambda error: complaints.append(str(error)))
        page.goto((site / HOME).as_uri())
        yield page
    assert complaints == []


def typed(page: Page, words: str) -> list[str]:
    """Return the titles that are found for some words, the best first."""
    page.get_by_role("searchbox").fill(words)
    expect(page.locator("[data-search-found]")).to_be_visible(visible=bool(words.strip()))
    return page.locator("[data-search-found] a b").all_inner_texts()


def test_word_of_a_title_finds_the_procedure_first(page: Page) -> None:
    assert typed(page, "bleed filling cleaner")[0] == BLEED
    assert all(title.startswith("Bleed ") for title in typed(page, "bleed")[:2])


def test_tag_finds_the_piece_of_equipment_first(page: Page) -> None:
    assert typed(page, "V2")[0] == "V2: Outlet of the mixing tank"


def test_tag_finds_the_procedures_that_use_it(page: Page) -> None:
    assert BLEED in typed(page, "V2")


def test_material_is_found_by_its_name(page: Page) -> None:
    assert typed(page, "hypochlorite solution")[0].startswith("Sodium hypochlorite solution")


def test_code_on_a_label_finds_what_is_in_the_bottle(page: Page) -> None:
    assert typed(page, "MLC-5L")[0] == "Milk-line cleaner, chlorinated alkaline"
    assert typed(page, "ADE-500ML")[0] == "Acid descaler for coffee machines"


def test_word_of_a_step_finds_its_procedure(page: Page, site: Path) -> None:
    # "funnel" stands in two steps of the procedure, in no title and in no purpose.
    assert "funnel" not in (site / "procedures/filling/index.html").read_text(encoding="utf-8")
    assert BLEED in typed(page, "funnel")


def test_word_at_the_end_of_a_sentence_is_found(page: Page) -> None:
    # "Dip a sample of the last runnings from the pail with the sample cup."
    assert BLEED in typed(page, "cup")


def test_unfinished_word_finds(page: Page) -> None:
    assert BLEED in typed(page, "blee")


def test_capitals_do_not_matter(page: Page) -> None:
    assert typed(page, "BLEED FILLING CLEANER")[0] == BLEED


def test_emergency_is_found_and_said_to_be_one(page: Page) -> None:
    assert typed(page, "splash eyes")[0] == "Splash in the eyes or on the skin"
    assert page.locator("[data-search-found] a span").first.inner_text() == "Emergency"


def test_nothing_found_is_said(page: Page) -> None:
    assert typed(page, "zzzz") == []
    expect(page.get_by_text("Nothing found.")).to_be_visible()


@pytest.mark.parametrize("marks", ["*", "+", "-", "^~:", "title:bleed", "<b>", "  ", "bleed~9", "\\"])
def test_marks_are_no_commands(page: Page, marks: str) -> None:
    # In the search library's own query language these are operators, and some of them errors.
    typed(page, marks)


def test_emptied_field_closes_the_list(page: Page) -> None:
    typed(page, "bleed")
    expect(page.locator("[data-search-found]")).to_be_visible()
    typed(page, "")
    expect(page.locator("[data-search-found]")).to_be_hidden()


def test_escape_closes_and_stays_in_the_field(page: Page) -> None:
    typed(page, "bleed")
    page.keyboard.press("Tab")
    page.keyboard.press("Escape")
    expect(page.locator("[data-search-found]")).to_be_hidden()
    expect(page.get_by_role("searchbox")).to_be_focused()


def test_touch_elsewhere_closes(page: Page) -> None:
    typed(page, "bleed")
    page.mouse.click(20, 700)
    expect(page.locator("[data-search-found]")).to_be_hidden()


def test_enter_follows_the_first(page: Page) -> None:
    typed(page, "bleed filling cleaner")
    page.keyboard.press("Enter")
    page.wait_for_url("**/procedures/filling/bleed-cleaner-line.html")


def test_enter_with_nothing_found_stays(page: Page) -> None:
    typed(page, "zzzz")
    page.keyboard.press("Enter")
    page.wait_for_timeout(100)
    assert page.url.endswith(HOME)


def test_keyboard_alone_reaches_the_second_found(page: Page) -> None:
    for _ in range(12):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.type") == "search":
            break
    page.keyboard.type("V2")
    second = page.locator("[data-search-found] a").nth(1)
    wanted = second.locator("b").inner_text()
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    expect(second).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text(wanted)


def test_letters_typed_into_the_field_are_no_commands_of_the_theme(page: Page) -> None:
    # The theme answers to n, p, comma, full stop, f, s and slash.
    page.get_by_role("searchbox").focus()
    page.keyboard.type("n,p.s/f")
    assert page.get_by_role("searchbox").input_value() == "n,p.s/f"
    assert page.url.endswith(HOME)


@pytest.mark.parametrize("start", DEPTHS)
@pytest.mark.parametrize(
    ("words", "address"),
    [
        ("bleed filling cleaner", "procedures/filling/bleed-cleaner-line.html"),
        ("first day of a new hire", "checklists/first-day.html"),
        ("citric", "materials/citric-acid.html"),
        ("V2", "equipment/v2.html"),
        ("splash eyes", "emergency/splash.html"),
    ],
)
def test_found_is_reached_from_every_depth(page: Page, site: Path, start: str, words: str, address: str) -> None:
    page.goto((site / start).as_uri())
    typed(page, words)
    page.locator("[data-search-found] a").first.click()
    page.wait_for_url((site / address).as_uri())


def test_every_document_of_the_index_is_a_page_of_the_site(page: Page, site: Path) -> None:
    typed(page, "bleed")
    addresses = page.evaluate("tankside.documents.map((each) => each[0])")
    assert len(addresses) > 50
    assert [each for each in addresses if not (site / each).is_file()] == []


NO_STORAGE = """
Object.defineProperty(window, 'localStorage', {
  get() { throw new DOMException('The operation is insecure.', 'SecurityError'); },
});
"""


def test_search_works_where_storage_is_refused(browser: Browser, site: Path) -> None:
    # The theme may throw there; ours may not.
    thrown: list[str] = []
    with browser.new_context(offline=True) as context:
        context.add_init_script(NO_STORAGE)
        page = context.new_page()
        page.on("pageerror", lambda error: thrown.append(error.stack or str(error)))
        page.goto((site / HOME).as_uri())
        assert page.evaluate("(() => { try { return String(localStorage) } catch (e) { return e.name } })()") == (
            "SecurityError"
        )
        assert typed(page, "bleed filling cleaner")[0] == BLEED
        page.keyboard.press("Enter")
        page.wait_for_url("**/procedures/filling/bleed-cleaner-line.html")
    ours = re.compile(r"/tankside/|emergency/")
    assert [each for each in thrown if ours.search(each)] == []


def test_emergency_page_throws_nothing_where_storage_is_refused(browser: Browser, site: Path) -> None:
    thrown: list[str] = []
    with browser.new_context(offline=True) as context:
        context.add_init_script(NO_STORAGE)
        page = context.new_page()
        page.on("pageerror", lambda error: thrown.append(str(error)))
        page.goto((site / "emergency/splash.html").as_uri())
        expect(page.get_by_text("Hold both eyes wide open")).to_be_visible()
    assert thrown == []

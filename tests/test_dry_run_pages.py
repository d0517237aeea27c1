"""What the dry run adds to the site, as a reader meets it in a browser."""

import re
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

import pdfplumber
import pytest
from demo_book import ROOT
from playwright.sync_api import Browser, Page, expect
from test_site import LISTEN

BLEED = "procedures/filling/bleed-cleaner-line.html"
DIAGRAM, MEETING = "line-diagram/index.html", "what-meets-what/index.html"
#: the steps of that procedure that move, turn, drive, join or label something, as its file lists them
CHANGING = [
    "pail-in-place",
    "open-v3",
    "open-v2",
    "start-p1",
    "run-off",
    "stop-p1",
    "shut-v2",
    "shut-v3",
    "pail-away",
    "pour-pail",
    "not-ready-tail",
    "tag-the-tank",
]
LIMITS = (
    "It knows what the book says",
    "It sees no dead leg, no leak",
    "as if all of it mixed at once",
    "It never replaces looking",
)
FOLD = "details.plant-after"


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A page that fails its test when it complains or breaks its policy."""
    said: list[str] = []
    with browser.new_context(viewport={"width": 1280, "height": 900}) as context:
        context.add_init_script(LISTEN)
        shown = context.new_page()
        shown.on("console", lambda message: said.append(message.text))
        shown.on("pageerror", lambda error: said.append(str(error)))
        shown.on("requestfailed", lambda request: said.append(request.url))
        yield shown
        assert shown.evaluate("window.refused") == []
    assert said == []


@pytest.fixture
def phone(browser: Browser) -> Iterator[Page]:
    with browser.new_context(viewport={"width": 390, "height": 844}) as context:
        yield context.new_page()


def opened(page: Page, site: Path, address: str) -> Page:
    page.goto((site / address).as_uri())
    return page


# --- the page of a procedure


def test_each_step_that_changes_the_plant_has_a_fold_and_no_other_has(page: Page, site: Path) -> None:
    opened(page, site, BLEED)
    folds = page.locator(FOLD)
    steps = [folds.nth(at).locator("xpath=..").get_attribute("id") for at in range(folds.count())]
    assert steps == [f"step-{name}" for name in CHANGING]
    assert page.locator(f"{FOLD}[open]").count() == 0


def test_drawing_is_fetched_when_its_fold_is_opened_and_not_before(page: Page, site: Path) -> None:
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    opened(page, site, BLEED)
    fold = page.locator("#step-start-p1").locator(FOLD)
    fold.scroll_into_view_if_needed()
    page.wait_for_load_state("networkidle")
    assert [url for url in asked if "/tankside/plant/" in url] == []
    fold.locator("summary").click()
    picture = fold.locator("img")
    picture.scroll_into_view_if_needed()
    expect(picture).to_have_js_property("complete", True)
    page.wait_for_function("picture => picture.naturalWidth > 0", arg=picture.element_handle())
    assert len({url for url in asked if "/tankside/plant/" in url}) == 1


def test_drawing_says_in_words_what_it_shows(page: Page, site: Path) -> None:
    opened(page, site, BLEED)
    alt = page.locator("#step-start-p1").locator(f"{FOLD} img").get_attribute("alt")
    assert alt is not None
    # V2 and V3 were opened and P1 started before; the pail stands under the nozzle.
    for words in ("V2, V3 open", "P1 runs", "cleaner-line under pressure", "N1 joined to waste-pail-20-l"):
        assert words in alt


def test_fold_says_what_changed_what_may_reach_the_person_and_what_stays_behind(page: Page, site: Path) -> None:
    opened(page, site, BLEED)
    fold = page.locator("#step-run-off").locator(FOLD)
    fold.locator("summary").click()
    text = fold.inner_text()
    # 11.5 L, within 0.5 L either way, are run into the pail, which was empty.
    assert "waste-pail-20-l holds 11 to 12 L of milk-line-cleaner" in text
    assert re.search(r"May reach you: .*milk-line-cleaner", text)
    assert re.search(r"Stays behind if you stop here: .*N1 joined to waste-pail-20-l", text)


def test_section_says_how_much_was_rehearsed_and_what_stays_behind(page: Page, site: Path) -> None:
    opened(page, site, BLEED)
    text = page.locator("main").inner_text()
    assert re.search(r"34 steps, \d+ states of the plant, \d+ ways on", text)
    first, *_ = page.locator("table.left-behind tbody tr").all()
    # Nothing is touched in the first five steps, which only look.
    assert first.locator("th").inner_text() == "1 to 5"
    assert first.locator("td").inner_text() == "nothing"


@pytest.mark.parametrize("address", [BLEED, DIAGRAM, MEETING])
def test_limits_of_the_model_stand_on_every_page_that_shows_it(page: Page, site: Path, address: str) -> None:
    opened(page, site, address)
    for words in LIMITS:
        assert page.get_by_text(words).first.is_visible(), words


def test_every_page_with_a_fold_has_the_limits(site: Path) -> None:
    pages = [path for path in site.rglob("*.html") if 'class="plant-after"' in path.read_text(encoding="utf-8")]
    assert len(pages) > 10
    lacking = [path.name for path in pages if path.read_text(encoding="utf-8").count('class="model-limits"') != 1]
    assert lacking == []


def test_emergencies_and_checklists_stay_as_they_were(site: Path) -> None:
    for folder in ("emergency", "checklists"):
        pages = list((site / folder).glob("*.html"))
        assert len(pages) > 3
        for path in pages:
            assert "plant-after" not in path.read_text(encoding="utf-8")


def test_sheet_carries_nothing_of_the_model(site: Path) -> None:
    with pdfplumber.open(site / "sheets/bleed-cleaner-line.pdf") as sheet:
        text = " ".join(page.extract_text() for page in sheet.pages)
    assert "Transfer pump".lower() in text.lower()
    for words in ("The plant after", "Rehearsed", "stays behind"):
        assert words.lower() not in text.lower()


def test_equal_drawings_are_one_file_named_by_what_is_in_it(site: Path) -> None:
    used = [
        match
        for path in site.rglob("*.html")
        for match in re.findall(r'tankside/plant/([0-9a-f]+)\.svg"', path.read_text(encoding="utf-8"))
    ]
    there = {path.stem: path for path in (site / "tankside/plant").iterdir()}
    assert set(used) == set(there)
    assert len(used) > len(there) > 50
    for name, path in there.items():
        assert sha256(path.read_bytes()).hexdigest().startswith(name)


def test_fold_opens_and_scrolls_inside_its_box_on_a_phone(phone: Page, site: Path) -> None:
    opened(phone, site, BLEED)
    fold = phone.locator("#step-run-off").locator(FOLD)
    fold.locator("summary").click()
    box = fold.locator(".scroll")
    assert box.evaluate("box => box.scrollWidth > box.clientWidth")
    assert phone.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_fold_opens_without_script(browser: Browser, site: Path) -> None:
    with browser.new_context(java_script_enabled=False) as context:
        page = opened(context.new_page(), site, BLEED)
        fold = page.locator("#step-open-v2").locator(FOLD)
        fold.locator("summary").click()
        expect(fold.get_by_text("V2 open.")).to_be_visible()


# --- the line diagram


def tags_with_a_place() -> set[str]:
    """Return the tags of equipment.yaml under which `at:` stands."""
    text = (
        (ROOT / "procedures/plant/equipment.yaml").read_text(encoding="utf-8").partition("\nprotective_equipment:")[0]
    )
    pieces = re.split(r"(?m)^  (?=\S)", text)[1:]
    return {piece.partition(":")[0] for piece in pieces if re.search(r"(?m)^    at: ", piece)}


def test_every_tag_with_a_place_is_text_of_the_drawing(page: Page, site: Path) -> None:
    opened(page, site, DIAGRAM)
    whole = page.locator(".line-diagram svg").first
    # A long tag is broken into lines after a hyphen.
    drawn = "".join(whole.locator("text").all_text_contents())
    tags = tags_with_a_place()
    assert len(tags) > 40
    assert [tag for tag in sorted(tags) if tag not in drawn] == []


def test_tag_on_the_drawing_is_found_by_the_search_of_the_browser(page: Page, site: Path) -> None:
    opened(page, site, DIAGRAM)
    assert page.evaluate("window.find('spray-ball') && getSelection().anchorNode.parentElement.closest('svg') !== null")


def test_every_piece_is_listed_with_a_link_to_its_page(page: Page, site: Path) -> None:
    opened(page, site, DIAGRAM)
    lists = page.locator("main ul.links")
    assert lists.count() == 2
    linked = {
        (link.get_attribute("href") or "").rpartition("/")[2].removesuffix(".html")
        for link in lists.first.locator("a").all()
    }
    assert linked == {tag.lower() for tag in tags_with_a_place()}
    lists.first.get_by_role("link", name="V2: Outlet of the mixing tank").click()
    assert page.locator("h1").inner_text() == "V2: Outlet of the mixing tank"


def test_each_side_of_the_plant_has_a_drawing_without_the_other_sides(page: Page, site: Path) -> None:
    opened(page, site, DIAGRAM)
    names = [
        heading.inner_text() for heading in page.locator("h2").all() if heading.inner_text().startswith("Side of ")
    ]
    assert [name.partition(":")[0] for name in names] == ["Side of tank-250", "Side of tank-60", "Side of tank-100"]
    drawings = page.locator(".line-diagram svg").all()[1:]
    cleaner, descaler, degreaser = ("".join(each.locator("text").all_text_contents()) for each in drawings)
    assert [tag in cleaner for tag in ("tank-250", "tank-60", "tank-100")] == [True, False, False]
    assert [tag in descaler for tag in ("tank-250", "tank-60", "tank-100")] == [False, True, False]
    assert [tag in degreaser for tag in ("tank-250", "tank-60", "tank-100")] == [False, False, True]


# --- what meets what


def cell(page: Page, material: str, other: str) -> str:
    """Return what the table says of two materials, the first of which stands below the other in it."""
    table = page.locator("table.meeting")
    row = table.locator("tbody tr").filter(has=page.get_by_role("rowheader", name=re.compile(rf"\d+ {material}$")))
    column = int(table.get_by_role("rowheader", name=re.compile(rf"\d+ {other}$")).inner_text().partition(" ")[0])
    return row.locator("td").nth(column - 1).inner_text()


@pytest.mark.parametrize(
    ("material", "other", "word", "said"),
    [
        # materials.yaml: groups acids and hypochlorites under never_meet
        ("Citric acid, powder", "Sodium hypochlorite solution, .*", "never", "Chlorine gas"),
        # groups water and acids under may_meet
        ("Citric acid, powder", "Softened water", "may", "Acid goes into water"),
        # groups acids and hypochlorite-proof-polymers in neither list, nor published
        ("Citric acid, powder", "Scale inhibitor, .*", "not known", "Kept apart"),
    ],
)
def test_pair_says_whether_it_may_meet_and_its_number_leads_to_why(
    page: Page, site: Path, material: str, other: str, word: str, said: str
) -> None:
    opened(page, site, MEETING)
    found = cell(page, material, other)
    assert found.startswith(f"{word} ")
    reason = page.locator("table.reasons tbody tr").filter(has=page.get_by_role("rowheader", name=found, exact=True))
    assert said in reason.inner_text()


def test_every_reason_has_its_source_or_says_that_there_is_none(page: Page, site: Path) -> None:
    opened(page, site, MEETING)
    rows = page.locator("table.reasons tbody tr").all()
    assert len(rows) > 5
    for row in rows:
        name, source = row.locator("th").inner_text(), row.locator("td").nth(1).inner_text()
        assert source.strip()
        assert (source == "none known") is name.startswith("not known")


def test_material_in_a_vessel_leads_to_the_step_that_brings_it_there(page: Page, site: Path) -> None:
    opened(page, site, MEETING)
    bodies = page.locator("table.parts-inside tbody")
    tank = bodies.filter(has=page.get_by_role("link", name="tank-60", exact=True))
    row = tank.locator("tr").filter(has_text="Citric acid")
    assert "yes" in row.inner_text()
    row.get_by_role("link", name=re.compile("Blend .* descaler.*, step ")).click()
    assert re.search(r"#step-", page.url)
    target = page.locator(page.url.partition("#")[2].join(("#", "")))
    assert "citric acid" in target.inner_text().lower()


def test_what_a_vessel_is_meant_for_and_never_gets_says_so(page: Page, site: Path) -> None:
    opened(page, site, MEETING)
    tank = page.locator("table.parts-inside tbody").filter(has=page.get_by_role("link", name="tank-250", exact=True))
    # equipment.yaml: tank-250 holds wash-solution, which is made in it by name only
    assert "by no procedure" in tank.locator("tr").filter(has_text="Wash solution").inner_text()


def test_wide_tables_scroll_inside_their_boxes_on_a_phone(phone: Page, site: Path) -> None:
    for address in (DIAGRAM, MEETING):
        opened(phone, site, address)
        assert phone.evaluate("document.documentElement.scrollWidth <= innerWidth"), address
        for box in phone.locator("main .scroll").all():
            assert box.get_attribute("tabindex") == "0"
            assert box.evaluate("box => box.scrollWidth > box.clientWidth")


# --- how they are found


def test_both_pages_are_linked_from_home_and_from_the_navigation(page: Page, site: Path) -> None:
    opened(page, site, "index.html")
    checking = page.locator("h2#checking ~ ul.links").last
    for name, address in (("Line diagram", DIAGRAM), ("What meets what", MEETING)):
        assert checking.get_by_role("link", name=name).get_attribute("href") == address
        assert page.get_by_role("navigation", name="Navigation").get_by_role("link", name=name).count() == 1


@pytest.mark.parametrize(("typed", "title"), [("line diagram", "Line diagram"), ("what meets", "What meets what")])
def test_both_pages_are_found_by_the_search(page: Page, site: Path, typed: str, title: str) -> None:
    opened(page, site, "index.html")
    page.get_by_role("searchbox").fill(typed)
    expect(page.locator("[data-search-found] b", has_text=re.compile(f"^{title}$"))).to_be_visible()

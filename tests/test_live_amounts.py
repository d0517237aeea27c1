"""Amounts that follow what is typed for the input of their procedure, in a real browser."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from demo_book import ROOT, replace
from live_page import NONE, PLACES, assert_nothing_is_worked_out, refusal, typed, unfold
from playwright.sync_api import Browser, Page, expect

from tankside.checkup import check_book
from tankside.units import QuantityError, parse_quantity

BLEND = "procedures/batch/blend-milk-line-cleaner.html"
OWN = "blend-milk-line-cleaner"
TIMES = "\N{MULTIPLICATION SIGN}"
SCREENS = {"tablet": (820, 1180), "phone": (390, 844)}

#: for 137 L of 1.06 kg/L, so 145.22 kg; each share of it to what its vessel can show
AT_137 = {
    "water": "106 L (about 28 US gal)",  # 73 % over 0.9982 kg/L is 106.202 L, to 0.5 L; / 3.785 = 28.00
    "first-water": "101 L (about 26.7 US gal)",  # 95 % of 106.202 L is 100.892 L; 101 / 3.785 = 26.68
    "last-water": "5.5 L (about 1.45 US gal)",  # 5 % of 106.202 L is 5.310 L; 5.5 / 3.785 = 1.453
    "inhibitor": "2.905 kg (about 6.4 lb)",  # 2 % is 2.9044 kg, to 0.005 kg; / 0.45359 = 6.404
    "alkali": "14.5 kg (about 32 lb)",  # 10 % is 14.522 kg, to 0.05 kg; / 0.45359 = 31.97
    "hypochlorite": "21.8 kg (about 48.1 lb)",  # 15 % is 21.783 kg, to 0.05 kg; / 0.45359 = 48.06
}
ALKALI = f"{OWN}/alkali"


@pytest.fixture
def page(browser: Browser, site: Path) -> Iterator[Page]:
    """The page of the demo procedure that has an input, on an upright tablet; its scripts run without an error."""
    errors: list[str] = []
    with browser.new_context(viewport={"width": 820, "height": 1180}) as context:
        found = context.new_page()
        found.on("pageerror", lambda error: errors.append(str(error)))
        found.goto((site / BLEND).as_uri())
        yield found
    assert errors == []


# --- what is shown


def test_script_says_at_first_what_the_page_says_without_it(browser: Browser, site: Path, page: Page) -> None:
    with browser.new_context(java_script_enabled=False) as context:
        plain = context.new_page()
        plain.goto((site / BLEND).as_uri())
        without = plain.evaluate(PLACES)
        assert plain.locator("[data-live-field]").is_hidden()
        assert plain.get_by_role("table", name="How much is made?").is_visible()
        assert plain.get_by_text("How much: 15.9 kg (for 150 L)").is_visible()
    assert len(without) == 3 * len(AT_137) + 6
    unfold(page)
    assert page.evaluate(PLACES) == without


def test_all_places_follow_before_the_handler_returns(page: Page) -> None:
    said = typed(page, "137")
    for amount, both in AT_137.items():
        assert said[f"{OWN}/{amount}", "both"] == {both}
        assert said[f"{OWN}/{amount}", "at"] == {"for 137 L"}
        assert said[f"{OWN}/{amount}", "inside"] == {f"{both.partition(' (')[0]} (for 137 L)"}
    assert page.locator("[data-live-status]").inner_text() == "Worked out for 137 L."


def test_working_follows(page: Page) -> None:
    (working,) = typed(page, "137")[f"{OWN}/water", "working"]
    lines = working.splitlines()
    assert lines[:7] == [
        f"softened-water.mass = make {TIMES} product.density {TIMES} softened-water.share",
        f"= 137 L {TIMES} 1.06 kg/L {TIMES} 73 %w/w",
        f"= 137 L {TIMES} 1.06 kg/L {TIMES} 0.73",
        "= 106.0106 kg",
        "softened-water.volume = softened-water.mass ÷ softened-water.density",
        "= 106.0106 kg ÷ 0.9982 kg/L",
        "≈ 106.202 L",
    ]
    assert lines[-1] == "rounded to the nearest 0.5 L of meter-1: 106 L"


def test_working_that_is_folded_away_is_not_an_old_one_when_it_is_opened(page: Page) -> None:
    page.locator("[data-live-field]").fill("137")
    working = page.locator("[data-shows=working]").first
    assert working.text_content() == ""
    page.locator("details summary").first.click()
    expect(working).to_contain_text(f"= 137 L {TIMES} 1.06 kg/L")


def test_step_shows_the_amount_that_follows(page: Page) -> None:
    page.locator("[data-live-field]").fill("137")
    assert "How much: 14.5 kg (for 137 L)" in page.locator("#step-add-alkali").inner_text()
    assert "First and last water together are within 4 L of 106 L (for 137 L)." in (
        page.locator("#step-water-adds-up").inner_text()
    )


def test_numbers_are_those_of_the_trees_of_the_edition(page: Page) -> None:
    # The record of a batch will be judged by these trees.
    amounts = check_book(ROOT).editions[OWN].amounts
    found = page.evaluate(
        """(trees) => {
          const procedure = JSON.parse(document.querySelector('[data-live-data]').textContent);
          const {decimalText, evaluation, amounts} = tankside;
          return Array.from({length: 143}, (_, step) => `${100 + 0.7 * step}`.slice(0, 6)).flatMap((size) => {
            const chosen = amounts.readInput(procedure.input, size);
            const worked = amounts.workedAmounts(procedure, chosen);
            return Object.entries(trees).map(([name, tree]) => {
              const value = evaluation.evaluate(tree, new Map([['batch', chosen.value]]));
              const texts = [value, worked.get(name).shown.value].map((each) => decimalText.decimalText(each));
              return [size, name, ...texts];
            });
          });
        }""",
        {name: amount.tree for name, amount in amounts.items()},
    )
    assert len(found) == 143 * len(AT_137)
    assert [each for each in found if each[2] != each[3]] == []


def test_usual_value_comes_back(page: Page) -> None:
    before = page.evaluate(PLACES)
    page.locator("[data-live-field]").fill("137")
    assert page.evaluate(PLACES) != before
    page.get_by_role("button", name="Back to 150 L").click()
    assert page.evaluate(PLACES) == before
    assert page.locator("[data-live-field]").input_value() == "150"
    expect(page.locator("[data-live-field]")).to_be_focused()


@pytest.mark.parametrize(
    ("text", "at"),
    [
        ("100", "100 L"),
        ("200", "200 L"),
        ("137.25", "137.25 L"),
        (" 137 ", "137 L"),
        ("137 L", "137 L"),
        ("0.15 m3", "150 L"),
        ("40 US gal", "151.41647136 L"),  # 40 * 3.785411784
    ],
)
def test_value_is_understood_in_the_unit_beside_the_field(page: Page, text: str, at: str) -> None:
    assert typed(page, text)[ALKALI, "at"] == {f"for {at}"}
    assert page.locator("[data-live-refusal]").is_hidden()


def test_search_does_not_take_the_amounts_away(page: Page) -> None:
    # The index of the search is put into the same global.
    page.locator("[data-search-field]").fill("V2")
    page.locator("[data-search-found] a").first.wait_for()
    assert typed(page, "137")[ALKALI, "both"] == {AT_137["alkali"]}


def test_page_that_is_come_back_to_shows_what_its_field_says(page: Page, site: Path) -> None:
    page.locator("[data-live-field]").fill("137")
    page.goto((site / "index.html").as_uri())
    page.go_back()
    size = page.locator("[data-live-field]").input_value()
    expect(page.locator("[data-live-status]")).to_have_text(f"Worked out for {size} L.")
    assert {words for _, way, words in page.evaluate(PLACES) if way == "at"} == {f"for {size} L"}


# --- what is refused


def python_refusal(text: str) -> str:
    """What Python says of a text for a volume; a number alone is given the unit that stands beside the field."""
    for each in (text, f"{text} L"):
        try:
            parse_quantity(each, ["volume"])
        except QuantityError as error:
            if error.code != "unit-missing":
                return str(error)
    raise AssertionError(f"Python takes {text!r}")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("1,5", "leave commas out and use '.' as the decimal mark"),
        ("1,500", "leave commas out and use '.' as the decimal mark"),
        ("", "does not begin with a plain decimal number"),
        ("much", "does not begin with a plain decimal number"),
        ("1e2", "does not begin with a plain decimal number"),
        ("0150", "does not begin with a plain decimal number"),
        ("1 50", "has a space inside the number"),
        ("150L", "has no space before the unit; write '150 L'"),
        ("150 kg", "is of the kind mass, not volume"),
        ("40 gal", "does not name one size; write 'US gal' or 'UK gal'"),
        ("150 litres", "is not known; write 'L'"),
    ],
)
def test_what_is_no_value_gets_the_sentence_of_python_and_no_number_stays(page: Page, text: str, words: str) -> None:
    typed(page, "137")
    said = typed(page, text)
    assert refusal(page) == python_refusal(text)
    assert words in refusal(page)
    assert_nothing_is_worked_out(page, said)


@pytest.fixture
def demo(tmp_path: Path) -> Path:
    for part in ("procedures", "checklists", "site_src"):
        shutil.copytree(ROOT / part, tmp_path / part)
    return tmp_path


@pytest.mark.parametrize("size", ["99.999", "200.01", "9999999999"])
def test_value_out_of_range_gets_the_sentence_that_check_has_for_it(page: Page, demo: Path, size: str) -> None:
    said = typed(page, size)
    assert refusal(page) == f"'{size} L' is not from '100 L' to '200 L'; write a value from 100 L to 200 L"
    assert_nothing_is_worked_out(page, said)
    replace(demo / "procedures/batch/blend-milk-line-cleaner.yaml", "    usual: 150 L", f"    usual: {size} L")
    messages = [each.message for each in check_book(demo).problems if each.code == "input-out-of-range"]
    assert messages == [refusal(page).partition(";")[0]]


@pytest.mark.parametrize("size", ["0", "-150", "0 L", "3 m3"])
def test_nothing_and_less_is_out_of_range(page: Page, size: str) -> None:
    assert_nothing_is_worked_out(page, typed(page, size))
    assert "is not from '100 L' to '200 L'" in refusal(page)


def test_right_value_after_a_wrong_one_is_worked_out(page: Page) -> None:
    typed(page, "1,5")
    assert typed(page, "137")[ALKALI, "both"] == {AT_137["alkali"]}
    assert page.locator("[data-live-field]").get_attribute("aria-invalid") == "false"
    assert page.locator("[data-live-refusal]").is_hidden()
    assert page.locator(".not-worked-out").count() == 0


def test_fault_in_a_script_leaves_no_number_standing(browser: Browser, site: Path) -> None:
    with browser.new_context() as context:
        page = context.new_page()
        page.goto((site / BLEND).as_uri())
        page.evaluate("() => { Array.prototype.flatMap = () => { throw new TypeError('broken on purpose'); }; }")
        assert_nothing_is_worked_out(page, typed(page, "137"))
        assert refusal(page) == "This page cannot work it out. Take the amounts from the table."


# --- how it looks and reads


@pytest.mark.parametrize("screen", SCREENS)
def test_field_and_button_can_be_touched_with_a_glove(page: Page, screen: str) -> None:
    width, height = SCREENS[screen]
    page.set_viewport_size({"width": width, "height": height})
    boxes = [page.locator(f"[data-live-{part}]").bounding_box() for part in ("field", "reset")]
    assert all(box is not None and box["height"] >= 48 and box["width"] >= 48 for box in boxes)
    field, button = (box for box in boxes if box is not None)
    apart = max(button["x"] - field["x"] - field["width"], button["y"] - field["y"] - field["height"])
    assert apart >= 8
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")


def test_field_says_what_it_is_for_and_what_is_wrong(page: Page) -> None:
    typed(page, "1,5")
    field = page.get_by_role("textbox", name="How much is made? It stands on the batch sheet.")
    assert field.get_attribute("inputmode") == "decimal"
    ids = (field.get_attribute("aria-describedby") or "").split()
    described = [page.locator(f"[id='{each}']").inner_text() for each in ids]
    assert described == ["L", "From 100 L to 200 L. Usually 150 L.", refusal(page)]
    label, box = page.locator("[data-live-asked] label").bounding_box(), field.bounding_box()
    assert label is not None
    assert box is not None
    assert label["y"] + label["height"] <= box["y"]


def test_result_is_announced_politely(page: Page) -> None:
    status = page.get_by_role("status").filter(has_text="Worked out")
    page.locator("[data-live-field]").fill("137")
    assert status.inner_text() == "Worked out for 137 L."
    page.locator("[data-live-field]").fill("1,5")
    assert page.get_by_role("status").filter(has_text=NONE).count() == 1


def test_keyboard_alone_changes_the_amounts_and_brings_the_usual_back(page: Page) -> None:
    page.locator("[data-live-field]").focus()
    page.keyboard.press("Control+A")
    page.keyboard.type("137")
    assert "14.5 kg (for 137 L)" in page.locator("#step-add-alkali").inner_text()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert "15.9 kg (for 150 L)" in page.locator("#step-add-alkali").inner_text()


@pytest.mark.parametrize("text", ["137", "1,5"])
def test_print_says_what_the_amounts_are_for(page: Page, text: str) -> None:
    typed(page, text)
    page.emulate_media(media="print")
    assert page.locator("[data-live-field]").is_hidden()
    assert page.locator("[data-live-reset]").is_hidden()
    assert page.locator("[data-live-status]").is_visible()
    (words,) = page.locator("#step-add-alkali .amount").all_inner_texts()
    assert words == ("14.5 kg (for 137 L)" if text == "137" else NONE)


def test_page_keeps_nothing_of_what_was_typed(page: Page) -> None:
    page.locator("[data-live-field]").fill("137")
    assert page.evaluate("localStorage.length + sessionStorage.length") == 0
    page.reload()
    assert page.locator("[data-live-field]").input_value() == "150"
    expect(page.locator("[data-live-status]")).to_have_text("Worked out for 150 L.")

"""The forms on the real page of a working copy: begun, worked with, and taken over from paper."""

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect
from work_forms_page import keys
from work_page import at_work, hold, kept, now, press, row

from tankside.checkup import check_book

OWN = "blend-milk-line-cleaner"
#: by ISO/IEC 7064, MOD 37-2; see test_work_forms_paper.py
SERIAL = "234567894"


def name_people(page: Page) -> None:
    """Name two people."""
    for who, role in (("AB", "line-operator"), ("CD", "second-person")):
        keys(page, who, within=".work-new-person")
        press(page, f".work-new-person [data-tile={role}]")
        press(page, "[data-enter=person]")


def test_copy_is_begun_by_the_form_and_goes_on_with_its_first_step(page: Page, own: str) -> None:
    page.goto(f"{own}/copies/{OWN}.html")
    keys(page, "L-7", within="[data-start-form]")
    press(page, "[data-size='150']")
    name_people(page)
    for each in page.locator("[data-start-form] [data-seen]").all():
        page.wait_for_timeout(450)
        each.click()
    press(page, "[data-begin]")
    page.locator("[data-now]").wait_for()
    assert now(page) == "sheet-is-right"
    assert page.locator("[data-start-form]").count() == 0
    page.wait_for_url("**#*")
    copy = page.url.rpartition("#")[2]
    (event,) = kept(page, copy)
    assert (event["lot"], event["product"], event["inputs"]) == ("L-7", "milk-line-cleaner", {OWN: {"batch": "150 L"}})
    # what is worn and what must be so, as the procedure lists it
    assert event["confirmed"] == [
        *("exhaust-proved", "eyewash-clear", "spill-kit-complete", "tank-clean", "dressed"),
        *("boots", "apron", "splash-goggles", "face-shield", "alkali-gloves"),
    ]


def test_label_amount_and_second_person_lead_on_to_the_next_step(page: Page, own: str) -> None:
    copy = at_work(page, own, OWN, "add-alkali")
    press(page, "[data-form] [data-tile=potassium-hydroxide-solution]")
    keys(page, "B-7", within="[data-form]")
    press(page, "[data-enter=look]")
    page.locator("[data-enter=pour]").wait_for()
    # 150 L * 1.06 kg/L * 0.10 is 15.9 kg, in two goes
    for number in ("9.4", "6.5"):
        keys(page, number, within="[data-form]")
        press(page, "[data-enter=pour]")
        expect(page.locator("[data-now] .row-past")).to_contain_text(f"put in {number} kg")
    page.wait_for_timeout(450)
    hold(page, "[data-now] [data-presses] > [data-hold=CD]")
    row(page, "stop-p3").locator(".row-call").wait_for()
    assert now(page) == "stop-p3"
    made = [(each["kind"], each.get("total", "")) for each in kept(page, copy)[-4:]]
    assert made == [("look", ""), ("pour", "9.4"), ("pour", "15.9"), ("second", "")]


def test_part_that_is_to_be_done_now_stands_between_head_and_foot(page: Page, own: str) -> None:
    at_work(page, own, OWN, "add-alkali")
    press(page, "[data-form] [data-tile=potassium-hydroxide-solution]")
    keys(page, "B-7", within="[data-form]")
    press(page, "[data-enter=look]")
    page.locator("[data-enter=pour]").wait_for()
    page.wait_for_timeout(200)
    found: Any = page.evaluate(
        """() => {
      const box = (selector) => document.querySelector(selector).getBoundingClientRect();
      const [head, foot] = [box('[data-top]').bottom, box('[data-foot]').top];
      return { head, foot, top: box('[data-wanted]').top, bottom: box('[data-enter=pour]').bottom };
    }"""
    )
    assert found["head"] <= found["top"] < found["bottom"] <= found["foot"]


@pytest.mark.requirement(number=10)
def test_value_that_was_not_kept_stays_typed_on_the_page(page: Page, own: str) -> None:
    copy = at_work(page, own, OWN, "add-first-water")
    count = len(kept(page, copy))
    page.evaluate(
        """() => {
      const { add } = IDBObjectStore.prototype;
      IDBObjectStore.prototype.add = function (value) {
        queueMicrotask(() => this.transaction.abort());
        return add.call(this, value);
      };
    }"""
    )
    keys(page, "110.5", within="[data-form]")
    press(page, "[data-enter=pour]")
    page.locator("[data-head-kept] .not-kept, [data-head-kept] [role=alert], [data-foot-said]").first.wait_for()
    page.wait_for_timeout(500)
    expect(page.locator("[data-typed^=pour]")).to_have_value("110.5")
    assert len(kept(page, copy)) == count


def test_sheet_is_taken_over_line_by_line(page: Page, own: str) -> None:
    page.goto(f"{own}/copies/start-of-day.html")
    name_people(page)
    for each in page.locator("[data-start-form] [data-seen]").all():
        page.wait_for_timeout(450)
        each.click()
    press(page, "[data-fold=start-paper-open] summary")
    page.locator("[data-typed=paper-serial]").fill(SERIAL)
    page.locator("[data-typed=paper-day]").fill("2026-01-05")
    page.locator("[data-typed=paper-begun]").fill("0800")
    press(page, "[data-begin]")
    band = page.locator("[data-sheet-taken]")
    expect(band).to_contain_text("Taking over from paper, sheet 234 567 894")
    # nothing can be pressed at the step before its time is known
    assert page.locator("[data-now] [data-press]").count() == 0
    page.wait_for_url("**#*")
    copy = page.url.rpartition("#")[2]
    keys(page, "0805", within="[data-now] [data-line-time]")
    press(page, "[data-now] [data-set-time]")
    expect(page.locator("[data-now] [data-line-time]")).to_contain_text("This line: 2026-01-05, 08:05")
    first = now(page)
    press(page, "[data-now] [data-press]")
    expect(page.locator("[data-now] [data-set-time]")).to_be_visible()
    assert now(page) != first
    event = kept(page, copy)[-1]
    assert (event["kind"], event["paper"], event["at"][:16]) == ("mark", SERIAL, "2026-01-05T08:05")
    assert event["entered_at"][:10] > "2026-01-05"


def test_page_knows_the_plant_at_rest_so_that_the_board_can_speak_against_a_start(page: Page, own: str) -> None:
    page.goto(f"{own}/copies/{OWN}.html")
    around = page.evaluate("JSON.parse(document.querySelector('[data-work-data]').textContent).around")
    book = check_book(Path(__file__).parent.parent).book
    assert book is not None
    assert set(around["rest"]["pieces"]) <= {str(tag) for tag in book.plant.equipment.equipment}
    assert around["locks"]["M1"] == ["M1-plug"]
    raw = {name for name, each in book.plant.materials.materials.items() if each.kind == "raw"}
    assert {name for name, kind in around["kinds"].items() if kind == "raw"} == set(map(str, raw))

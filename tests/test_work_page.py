"""A working copy followed on its page: by touch and by keyboard, from the first step to the record."""

import json
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect
from work_page import PEOPLE, at_work, begun_by_the_form, hold, kept, last, looked_at, now, press, row, walked

#: a phone held upright, on which the head may take a third of the height
PHONE = {"width": 390, "height": 844}


@pytest.mark.requirement(number=12)
@pytest.mark.parametrize("scheme", ["file", "http"])
def test_whole_copy_is_followed_by_touch_and_becomes_a_record(
    browser: Browser, site: Path, address: str, scheme: str
) -> None:
    own = site.as_uri() if scheme == "file" else address
    with looked_at(browser, own) as (page, complaints):
        copy = at_work(page, own, "two-sides")
        # "two-sides" has 14 things to do, 2 checks, 1 thing to write down and 1 hold.
        for _ in range(17):
            press(page, "[data-now] [data-press]")
        hold(page, "[data-now] [data-hold=EF]")
        hold(page, "[data-finish]")
        page.locator("[data-rest] [data-save]").wait_for()
        kinds = [event["kind"] for event in kept(page, copy)]
        assert kinds == ["start", "pause", "resume", *["mark"] * 17, "release", "finish"]
        assert page.locator("[data-state=complete]").count() == 18
        assert page.locator("[data-logged]").count() == 22
        assert page.locator("[data-now]").count() == 0
        assert complaints == []


def test_start_form_leads_to_the_first_step(page: Page, own: str) -> None:
    begun_by_the_form(page, own)
    page.wait_for_url("**#*")
    copy = page.url.partition("#")[2]
    assert [event["kind"] for event in kept(page, copy)] == ["start"]
    expect(page.locator("[data-now] .row-call")).to_be_in_viewport(ratio=1)
    press(page, "[data-now] [data-press]")
    assert last(page, copy, "mark")["step"] == "point-red"


def test_what_was_written_down_is_kept_with_its_mark(page: Page, own: str) -> None:
    copy = at_work(page, own, "two-sides", "record-shown-and-said")
    page.locator("[data-now] [data-written]").fill("Shown and said, all of it.")
    press(page, "[data-now] [data-press]")
    event = last(page, copy, "mark")
    assert (event["step"], event["text"]) == ("record-shown-and-said", "Shown and said, all of it.")
    expect(row(page, "record-shown-and-said")).to_contain_text("Shown and said, all of it.")


@pytest.mark.requirement(number=1)
def test_whole_row_is_the_press(page: Page, own: str) -> None:
    copy = at_work(page, own, "two-sides")
    first = row(page, "point-red")
    box = first.bounding_box()
    assert box is not None
    assert box["height"] >= 104
    page.wait_for_timeout(450)
    # Anywhere in the row: the place of the mark, far from the words of the press.
    page.mouse.click(box["x"] + 30, box["y"] + 30)
    expect(first).to_have_attribute("data-state", "complete")
    assert last(page, copy, "mark")["step"] == "point-red"


@pytest.mark.requirement(number=2)
def test_touch_on_another_row_right_after_the_last_one_is_a_slip(page: Page, own: str) -> None:
    copy = at_work(page, own, "open-the-workshop")
    page.wait_for_timeout(450)
    # In loose order both rows may be marked: only the slip speaks against the second touch.
    one, other = (row(page, name).locator("[data-answer=yes]") for name in ("second-person-here", "phone-works"))
    spots = [box for box in (one.bounding_box(), other.bounding_box()) if box is not None]
    page.mouse.click(spots[0]["x"] + 20, spots[0]["y"] + 20)
    page.mouse.click(spots[1]["x"] + 20, spots[1]["y"] + 20)
    expect(row(page, "second-person-here")).to_have_attribute("data-state", "complete")
    page.wait_for_timeout(450)
    assert [event["step"] for event in kept(page, copy) if event["kind"] == "mark"] == ["second-person-here"]
    press(page, '[data-step="phone-works"] [data-answer=yes]')
    expect(row(page, "phone-works")).to_have_attribute("data-state", "complete")


def test_steps_of_a_section_known_by_heart_are_marked_in_any_order(page: Page, own: str) -> None:
    copy = at_work(page, own, "open-the-workshop")
    expect(page.locator("[data-head-section]")).to_contain_text("Do the work, then check each step.")
    press(page, '[data-step="phone-works"] [data-answer=yes]')
    expect(row(page, "phone-works")).to_have_attribute("data-state", "complete")
    assert now(page) == "second-person-here"
    assert last(page, copy, "mark")["step"] == "phone-works"


def test_later_step_is_read_and_not_marked(page: Page, own: str) -> None:
    copy = at_work(page, own, "two-sides")
    later = row(page, "point-bad-things")
    expect(later).to_contain_text("point", ignore_case=True)
    assert later.locator("[data-press]").count() == 0
    later.locator(".row-place").click()
    expect(page.locator("[data-foot-said]")).to_have_text("That step comes later. Step 1 is to be done now.")
    last(page, copy, "resume")


def test_key_that_is_kept_down_marks_one_step(page: Page, own: str) -> None:
    copy = at_work(page, own, "two-sides")
    page.locator("[data-now] [data-press]").focus()
    for _ in range(4):
        # The second and later ones are repetitions, as those of a key that is kept down.
        page.keyboard.down("Enter")
        page.wait_for_timeout(60)
    page.keyboard.up("Enter")
    assert [event["kind"] for event in kept(page, copy)].count("mark") == 1


@pytest.mark.requirement(number=14)
def test_keyboard_alone_goes_from_step_to_step(page: Page, own: str) -> None:
    copy = at_work(page, own, "two-sides")
    for step in ("point-red", "read-red-labels", "point-bad-things"):
        expect(row(page, step).locator("[data-press]")).to_be_focused()
        page.keyboard.press("Enter")
        expect(row(page, step)).to_have_attribute("data-state", "complete")
    assert [event["step"] for event in kept(page, copy) if event["kind"] == "mark"] == [
        *("point-red", "read-red-labels", "point-bad-things")
    ]


def test_chosen_person_does_what_is_done_next(page: Page, own: str) -> None:
    copy = at_work(page, own, "two-sides")
    press(page, "[data-who] [data-tile=CD]")
    press(page, "[data-now] [data-press]")
    event = last(page, copy, "mark")
    assert (event["who"], event["role"]) == ("CD", "second-person")
    expect(row(page, "point-red")).to_contain_text("CD ")


def test_cautions_that_cover_a_step_stand_right_before_it_and_where_they_first_stand(page: Page, own: str) -> None:
    # The warning that the liquid can spray covers open-v3, before which it stands, and run-off three steps later.
    at_work(page, own, "bleed-cleaner-line", "run-off")
    again = page.locator("[data-cautions-again]")
    expect(again).to_contain_text("Cleaner under pressure can spray from the nozzle.")
    assert page.locator(".caution", has_text="Cleaner under pressure can spray").count() == 2
    assert page.evaluate("document.querySelector('[data-cautions-again]').nextElementSibling.dataset.step") == "run-off"
    expect(again).to_be_in_viewport()


@pytest.mark.parametrize("width", [1024, 768, 390])
def test_picture_of_a_step_can_be_seen(page: Page, own: str, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 900})
    at_work(page, own, "bleed-cleaner-line", "run-off")
    box = page.locator("[data-now] .picture").bounding_box()
    assert box is not None
    assert box["width"] >= 200
    assert box["height"] >= 120


def test_caution_right_before_its_step_is_not_said_twice(page: Page, own: str) -> None:
    at_work(page, own, "bleed-cleaner-line", "open-v3")
    assert page.locator("[data-cautions-again]").count() == 0
    assert page.locator(".caution", has_text="Cleaner under pressure can spray").count() == 1


def test_amounts_are_those_for_what_was_chosen(page: Page, own: str) -> None:
    # 20 L is half of the usual batch of 40 L, which takes 34.8 L of water: 34.8 / 2 = 17.4
    at_work(page, own, "blend-descaler", "add-water", inputs={"blend-descaler": {"batch": "20 L"}})
    expect(row(page, "add-water").locator(".detail").first).to_have_text("How much: 17.4 L (for 20 L)")


@pytest.mark.requirement(number=9)
@pytest.mark.parametrize("people", [PEOPLE[:2], PEOPLE])
def test_head_and_foot_leave_a_phone_room_to_read(
    browser: Browser, site: Path, people: tuple[tuple[str, str], ...]
) -> None:
    with looked_at(browser, site.as_uri(), viewport=PHONE) as (page, _):
        walked(page, site.as_uri(), "two-sides", people=people)
        press(page, "[data-sure=yes]")
        page.locator("[data-foot-said]", has_text="Gone on").wait_for()
        head, foot = (page.locator(each).bounding_box() for each in ("[data-top]", "[data-foot]"))
        assert head is not None
        assert foot is not None
        assert head["height"] <= PHONE["height"] / 3
        assert foot["height"] <= PHONE["height"] / 6
        for each in (".emergency", "[data-stop]", "[data-who] button", "[data-head-kept]", "[data-now] .row-call"):
            expect(page.locator(each).first).to_be_in_viewport(ratio=1)


def test_reading_ahead_is_not_interrupted_and_there_is_a_way_back(page: Page, own: str) -> None:
    at_work(page, own, "two-sides")
    expect(page.locator("[data-back]")).to_be_hidden()
    row(page, "walk-out").scroll_into_view_if_needed()
    page.wait_for_timeout(100)
    before = page.evaluate("window.scrollY")
    expect(page.locator("[data-back]")).to_be_visible()
    press(page, "[data-who] [data-tile=CD]")
    page.wait_for_timeout(300)
    assert page.evaluate("window.scrollY") == before
    press(page, "[data-back]")
    expect(page.locator("[data-now] .row-call")).to_be_in_viewport(ratio=1)


def test_red_line_takes_two_touches_and_words_may_follow(page: Page, own: str) -> None:
    copy = at_work(page, own, "two-sides")
    press(page, "[data-aside-open]")
    press(page, "[data-redline=near-miss]")
    page.locator("[data-text=note]").wait_for()
    event = last(page, copy, "redline")
    assert (event["about"], event["step"], event["procedure"]) == ("near-miss", "point-red", "two-sides")
    page.locator("[data-text=note]").fill("The floor was wet.")
    press(page, "[data-confirm=note]")
    page.locator("[data-panel] h2").wait_for(state="detached")
    note = last(page, copy, "note")
    assert (note["text"], note["step"]) == ("The floor was wet.", "point-red")
    expect(row(page, "point-red")).to_contain_text("The floor was wet.")
    expect(row(page, "point-red")).to_have_attribute("data-state", "not started")


@pytest.mark.requirement(number=4)
def test_mark_is_taken_back_in_two_deliberate_actions_and_stays_to_be_read(page: Page, own: str) -> None:
    copy = at_work(page, own, "two-sides")
    press(page, "[data-now] [data-press]")
    press(page, "[data-more='0/point-red']")
    press(page, "[data-unmark]")
    assert page.locator("[data-confirm=unmark]").is_disabled()
    press(page, "[data-offered]")
    # A touch that is too short takes nothing back.
    press(page, "[data-confirm=unmark]")
    last(page, copy, "mark")
    hold(page, "[data-confirm=unmark]")
    page.locator("[data-panel] h2").wait_for(state="detached")
    assert last(page, copy, "unmark")["reason"] == "Pressed by mistake"
    first = row(page, "point-red")
    expect(first.locator("s")).to_contain_text("done")
    expect(first).to_have_attribute("data-state", "not started")
    assert now(page) == "point-red"


@pytest.mark.requirement(number=4)
def test_value_is_corrected_and_the_first_one_stays_to_be_read(page: Page, own: str) -> None:
    copy = at_work(page, own, "bleed-cleaner-line", "record-reading-lot-and")
    press(page, "[data-more='0/last-conductivity']")
    press(page, "[data-correct]")
    page.locator("[data-panel] [data-typed]").first.fill("200")
    press(page, "[data-offered]")
    hold(page, "[data-panel] [data-confirm]")
    page.locator("[data-panel] h2").wait_for(state="detached")
    event = last(page, copy, "correct")
    assert (event["value"], event["unit"], event["reason"]) == ("200", "mS/cm", "Wrong key pressed")
    measured = row(page, "last-conductivity")
    expect(measured.locator("s")).to_contain_text("read 180 mS/cm")
    expect(measured).to_contain_text("corrected to 200 mS/cm")


@pytest.mark.requirement(number=3)
def test_step_is_not_applicable_with_a_reason(page: Page, own: str) -> None:
    copy = at_work(page, own, "two-sides")
    press(page, "[data-aside-open]")
    press(page, "[data-instead=skip]")
    press(page, "[data-offered]")
    press(page, "[data-confirm=skip]")
    expect(row(page, "point-red")).to_have_attribute("data-state", "not applicable")
    assert last(page, copy, "skip")["reason"] == "It is not there today"


def test_check_can_neither_be_left_out_nor_be_done_otherwise(page: Page, own: str) -> None:
    at_work(page, own, "bleed-cleaner-line")
    press(page, "[data-aside-open]")
    assert page.locator("[data-instead]").count() == 0
    expect(page.locator("[data-panel]")).to_contain_text("stop safely and tell the lead")


def test_what_to_do_if_it_goes_wrong_is_one_touch_away(page: Page, own: str) -> None:
    at_work(page, own, "bleed-cleaner-line")
    press(page, "[data-wrong]")
    expect(page.locator("[data-panel]")).to_contain_text("P1 off at once, it must not run dry.")
    expect(page.locator("[data-panel] a", has_text="Splash")).to_have_attribute("href", "../emergency/splash.html")
    press(page, "[data-close]")
    expect(page.locator("[data-now] .row-call")).to_be_in_viewport(ratio=1)


def test_record_is_handed_over_as_a_file(page: Page, own: str, tmp_path: Path) -> None:
    copy = at_work(page, own, "two-sides")
    press(page, "[data-aside-open]")
    with page.expect_download() as saved:
        press(page, "[data-panel] [data-save]")
    saved.value.save_as(tmp_path / "record.json")
    record = json.loads((tmp_path / "record.json").read_text(encoding="utf-8"))
    assert (record["layout"], record["copy"]) == ("tankside-record-1", copy)
    expect(page.locator("[data-head-kept]")).to_contain_text("All in the file of")


@pytest.mark.parametrize(
    ("address", "leads"),
    [
        ("procedures/safety/two-sides.html", "../../copies/two-sides.html"),
        ("checklists/open-the-workshop.html", "../copies/open-the-workshop.html"),
    ],
)
def test_page_of_a_procedure_leads_to_where_it_is_carried_out(page: Page, own: str, address: str, leads: str) -> None:
    page.goto(f"{own}/{address}")
    expect(page.get_by_role("link", name="Carry it out")).to_have_attribute("href", leads)


def test_checklist_of_titles_is_not_carried_out(page: Page, own: str) -> None:
    page.goto(f"{own}/checklists/first-day.html")
    assert page.get_by_role("link", name="Carry it out").count() == 0

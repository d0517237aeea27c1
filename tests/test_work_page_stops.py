"""Where a working copy stops on its page: second person, hold, time, reading, choice, decision, end."""

import pytest
from playwright.sync_api import Page, expect
from work_page import PEOPLE, at_work, hold, kept, last, now, press, row

#: the first two steps of "lock-out-mixer" that wait do so for 1 min
MINUTE = 60_000


def said(page: Page) -> str:
    return page.locator("[data-foot-said]").inner_text()


# A second person.


@pytest.mark.requirement(number=6)
def test_second_person_is_another_one_who_presses_and_holds(page: Page, own: str) -> None:
    copy = at_work(page, own, "blend-descaler", "sheet-is-right")
    press(page, "[data-now] [data-answer=yes]")
    step = row(page, "sheet-is-right")
    expect(step).to_have_attribute("data-state", "started")
    # AB did it: everybody else has a tile.
    assert step.locator("[data-hold]").evaluate_all("(all) => all.map((each) => each.dataset.hold)") == [
        "CD",
        "EF",
        "GH",
    ]
    press(page, "[data-now] [data-hold=CD]")
    last(page, copy, "mark")
    hold(page, "[data-now] [data-hold=CD]")
    expect(step).to_have_attribute("data-state", "complete")
    event = last(page, copy, "second")
    assert (event["who"], event["step"]) == ("CD", "sheet-is-right")


@pytest.mark.requirement(number=2)
def test_hold_that_slides_off_does_nothing(page: Page, own: str) -> None:
    copy = at_work(page, own, "blend-descaler", "sheet-is-right")
    press(page, "[data-now] [data-answer=yes]")
    box = page.locator("[data-now] [data-hold=CD]").bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + 20, box["y"] + 20)
    page.mouse.down()
    page.wait_for_timeout(200)
    page.mouse.move(box["x"] + 20, box["y"] - 60)
    page.wait_for_timeout(800)
    page.mouse.up()
    last(page, copy, "mark")


@pytest.mark.requirement(number=6)
def test_without_a_second_person_it_goes_on_and_says_so_for_ever(page: Page, own: str) -> None:
    copy = at_work(page, own, "blend-descaler", "sheet-is-right")
    press(page, "[data-now] [data-answer=yes]")
    press(page, "[data-now] [data-alone]")
    expect(page.locator("[data-panel]")).to_contain_text("NOT INDEPENDENT")
    assert page.locator("[data-confirm=alone]").is_disabled()
    page.locator("[data-panel] textarea").fill("The other one is at the eyewash.")
    press(page, "[data-confirm=alone]")
    step = row(page, "sheet-is-right")
    expect(step).to_have_attribute("data-state", "deviated")
    expect(step).to_contain_text("NOT INDEPENDENT, no second person: The other one is at the eyewash.")
    assert last(page, copy, "alone")["reason"] == "The other one is at the eyewash."


# Holds.


@pytest.mark.requirement(number=5)
def test_nothing_behind_a_hold_is_marked_before_its_role_releases_it(page: Page, own: str) -> None:
    copy = at_work(page, own, "bleed-cleaner-line", "hold-the-reading-is")
    after = row(page, "right-drum")
    expect(after).to_contain_text("The drum says alkaline with hypochlorite.")
    assert after.locator("[data-press]").count() == 0
    after.locator(".row-place").click()
    assert said(page) == "Step 18 is a hold. First the Second person releases it."
    assert page.locator("[data-now] [data-hold]").evaluate_all("(all) => all.map((e) => e.dataset.hold)") == ["CD"]
    hold(page, "[data-now] [data-hold=CD]")
    expect(row(page, "hold-the-reading-is")).to_have_attribute("data-state", "complete")
    event = last(page, copy, "release")
    assert (event["who"], event["role"]) == ("CD", "second-person")
    assert now(page) == "right-drum"


@pytest.mark.requirement(number=5)
def test_hold_whose_role_is_not_here_leads_to_who_comes(page: Page, own: str) -> None:
    copy = at_work(page, own, "two-sides", "hold-the-new-hire", people=PEOPLE[:2])
    assert page.locator("[data-now] [data-hold]").count() == 0
    expect(page.locator("[data-now]")).to_contain_text("No Workshop lead is here. Call one.")
    press(page, "[data-now] [data-comes]")
    page.locator("[data-panel] [data-typed]").first.fill("EF")
    hold(page, "[data-confirm=join]")
    hold(page, "[data-now] [data-hold=EF]")
    page.locator("[data-finish]").wait_for()
    assert [event["kind"] for event in kept(page, copy)[-2:]] == ["join", "release"]


@pytest.mark.requirement(number=5)
def test_stop_and_emergency_are_never_gated(page: Page, own: str) -> None:
    copy = at_work(page, own, "bleed-cleaner-line", "hold-the-reading-is")
    expect(page.locator(".emergency")).to_have_attribute("href", "../emergency/index.html")
    press(page, "[data-stop]")
    expect(page.locator("[data-rest] h2")).to_have_text("Stopped safely")
    last(page, copy, "stop")
    expect(page.locator(".emergency")).to_be_in_viewport(ratio=1)
    # Once more, while it rests: the press is still there and still kept.
    press(page, "[data-stop]")
    page.wait_for_timeout(200)
    assert [event["kind"] for event in kept(page, copy)[-2:]] == ["stop", "stop"]


# Waits.


def waiting(page: Page, own: str) -> str:
    """Start the first time of "lock-out-mixer"; return the copy."""
    page.clock.install()
    copy = at_work(page, own, "lock-out-mixer", "wait-the-shaft-to")
    page.locator("[data-now] [data-begin]").press("Enter")
    page.locator("[data-timer]").wait_for()
    return copy


def test_wait_that_is_finished_too_early_says_how_long_it_still_lasts(page: Page, own: str) -> None:
    copy = waiting(page, own)
    page.clock.fast_forward(20_000)
    page.locator("[data-waited]").press("Enter")
    page.locator("[data-foot-said]", has_text="Too early").wait_for()
    # 60 s less 20 s, and what the page took meanwhile.
    assert said(page)[:17] == "Too early. Wait 0"
    assert 30 <= int(said(page).split("0:")[1][:2]) <= 40
    last(page, copy, "begin")


def test_time_that_is_over_is_counted_up_and_says_what_to_do(page: Page, own: str) -> None:
    copy = waiting(page, own)
    expect(page.locator("[data-timer-state]")).to_have_text("left.")
    page.clock.fast_forward(MINUTE + 30_000)
    expect(page.locator("[data-timer-state]")).to_have_text("The time is up.")
    assert page.locator("[data-timer-figures]").inner_text()[:3] == "+0:"
    expect(page.locator("[data-now]")).to_contain_text("If late: Nothing is harmed. Look at the mark now.")
    expect(page).to_have_title("The time is up. Carry out: Lock out the mixer M1 - The workshop book")
    page.locator("[data-waited]").press("Enter")
    expect(row(page, "wait-the-shaft-to")).to_have_attribute("data-state", "complete")
    last(page, copy, "mark")


def test_time_goes_on_over_a_reload(page: Page, own: str) -> None:
    waiting(page, own)
    page.reload()
    page.locator("[data-sure=yes]").press("Enter")
    expect(page.locator("[data-timer-state]")).to_have_text("left.")
    page.clock.fast_forward(MINUTE)
    expect(page.locator("[data-timer-state]")).to_have_text("The time is up.")


# Readings.


def read(page: Page, value: str) -> None:
    """Look at the instrument and enter a reading."""
    press(page, "[data-now] [data-checked]")
    page.locator("[data-now] [data-typed]").first.fill(value)
    press(page, "[data-now] [data-enter]")
    press(page, "[data-now] [data-keep]")


@pytest.mark.requirement(number=7)
def test_reading_outside_its_limits_goes_where_the_procedure_says_and_stays(page: Page, own: str) -> None:
    copy = at_work(page, own, "bleed-cleaner-line", "last-conductivity")
    read(page, "100")
    page.locator("[data-take]").wait_for()
    assert page.locator("[data-now] [data-press]").count() == 1
    expect(page.locator("[data-take]")).to_have_text('Stop and go to "Reading out of limits"')
    press(page, "[data-take]")
    expect(row(page, "last-conductivity")).to_have_attribute("data-state", "deviated")
    expect(row(page, "last-conductivity")).to_contain_text("read 100 mS/cm, OUT OF LIMITS (180 mS/cm to 230 mS/cm)")
    assert last(page, copy, "take")["step"] == "last-conductivity"
    assert now(page) == "tag-the-tank"
    expect(page.locator("[data-head-section]")).to_contain_text("Sent here: Reading out of limits")


def test_reading_inside_its_limits_goes_on(page: Page, own: str) -> None:
    copy = at_work(page, own, "bleed-cleaner-line", "last-conductivity")
    read(page, "200")
    expect(row(page, "last-conductivity")).to_have_attribute("data-state", "complete")
    assert last(page, copy, "read")["inside"] is True


# Choices, passes, and ways that lead elsewhere.


def test_choice_takes_one_answer_and_shows_which_way_is_not_taken(page: Page, own: str) -> None:
    copy = at_work(page, own, "hold-a-lot", "decision")
    assert page.locator("[data-now] [data-answer]").count() == 2
    press(page, "[data-now] [data-answer='Test it once more']")
    expect(row(page, "decision")).to_contain_text("decided: Test it once more")
    assert last(page, copy, "mark")["answer"] == "Test it once more"
    taken, other = page.locator("p.answer").all()
    assert taken.get_attribute("data-off") is None
    expect(other).to_contain_text("not taken")
    assert row(page, now(page)).get_attribute("data-row").startswith("0/")


def test_check_that_is_not_so_leads_where_it_says(page: Page, own: str) -> None:
    copy = at_work(page, own, "bleed-cleaner-line")
    no = page.locator("[data-now] [data-answer=no]")
    expect(no).to_contain_text('go to "Not ready"')
    press(page, "[data-now] [data-answer=no]")
    expect(page.locator("[data-head-section]")).to_contain_text("Sent here: Not ready")
    assert now(page) == "not-ready-stop"
    assert last(page, copy, "mark")["answer"] == "no"


def test_passes_of_a_repetition_have_a_mark_each(page: Page, own: str) -> None:
    at_work(page, own, "blend-descaler", "dissolve-it")
    press(page, "[data-now] [data-press]")
    for again in (True, False):
        press(page, '[data-now][data-step="stir-citric"] [data-press]')
        press(page, '[data-now][data-step="look-for-crystals"] [data-press]')
        hold(page, "[data-now] [data-hold=CD]")
        press(page, f"[data-now] [data-answer={'again' if again else 'enough'}]")
    page.locator('[data-now][data-step="shut-hatch-after-citric"]').wait_for()
    stirred = row(page, "stir-citric")
    assert stirred.locator("[data-pass]").count() == 1
    assert stirred.locator("[data-pass] [data-drawn=complete]").count() == 1
    expect(stirred).to_have_attribute("data-state", "complete")


def test_one_more_pass_shows_its_steps_as_not_started(page: Page, own: str) -> None:
    at_work(page, own, "blend-descaler", "dissolve-it")
    press(page, "[data-now] [data-press]")
    press(page, "[data-now] [data-press]")
    press(page, "[data-now] [data-press]")
    hold(page, "[data-now] [data-hold=CD]")
    press(page, "[data-now] [data-answer=again]")
    expect(row(page, "stir-citric")).to_have_attribute("data-now", "")
    looked = row(page, "look-for-crystals")
    expect(looked).to_have_attribute("data-state", "not started")
    assert looked.locator("[data-pass] [data-drawn=complete]").count() == 1


def test_who_is_sent_away_comes_back_to_the_step_or_ends(page: Page, own: str) -> None:
    copy = at_work(page, own, "last-look", "no-smell")
    press(page, "[data-now] [data-answer=no]")
    sent = page.locator("[data-now]")
    expect(sent).to_contain_text("You were sent to: Gas, fire or a big spill, leave now")
    expect(sent.locator("[data-away]")).to_have_attribute("href", "../emergency/leave-now.html")
    press(page, "[data-now] [data-then=again]")
    press(page, "[data-offered]")
    press(page, "[data-confirm=decide]")
    page.locator('[data-now][data-step="no-smell"]').wait_for()
    assert last(page, copy, "decide")["then"] == "again"
    press(page, "[data-now] [data-answer=no]")
    press(page, "[data-now] [data-then=end]")
    press(page, "[data-offered]")
    press(page, "[data-confirm=decide]")
    expect(page.locator("[data-list=open]")).to_contain_text("It ends before its last step.")


def test_section_into_which_one_was_sent_ends_with_a_decision(page: Page, own: str) -> None:
    copy = at_work(page, own, "bleed-cleaner-line")
    press(page, "[data-now] [data-answer=no]")
    for _ in range(4):
        press(page, "[data-now] [data-press]")
    hold(page, "[data-now] [data-hold=EF]")
    expect(page.locator("[data-now]")).to_contain_text("You have done what you were sent to. What now?")
    expect(page.locator("[data-now] [data-then=again]")).to_have_text("Again: step 1")
    press(page, "[data-now] [data-then=again]")
    press(page, "[data-offered]")
    press(page, "[data-confirm=decide]")
    page.locator('[data-now][data-step="label-released"]').wait_for()
    assert last(page, copy, "decide")["reason"] == "It is put right"


# The end.


def test_end_lists_what_was_out_of_the_way_and_is_held(page: Page, own: str) -> None:
    copy = at_work(page, own, "two-sides", "walk-out")
    press(page, "[data-aside-open]")
    press(page, "[data-redline=wrong]")
    press(page, "[data-close]")
    press(page, "[data-aside-open]")
    press(page, "[data-instead=deviate]")
    press(page, "[data-offered]")
    press(page, "[data-confirm=deviate]")
    press(page, "[data-now] [data-press]")
    assert page.locator("[data-finish]").count() == 0
    hold(page, "[data-now] [data-hold=EF]")
    expect(page.locator("[data-list=redlines]")).to_contain_text("The step is wrong")
    expect(page.locator("[data-list=deviated]")).to_contain_text(
        "done in another way: With another tool", ignore_case=True
    )
    press(page, "[data-finish]")
    last(page, copy, "release")
    hold(page, "[data-finish]")
    expect(page.locator("[data-head-section]")).to_have_text("Finished. This is the record.")
    last(page, copy, "finish")


def test_copy_is_ended_unfinished_with_a_reason_and_what_to_do_then(page: Page, own: str) -> None:
    copy = at_work(page, own, "bleed-cleaner-line", "run-off")
    press(page, "[data-aside-open]")
    press(page, "[data-aside=abandon]")
    expect(page.locator("[data-panel]")).to_contain_text("Stop safely first.")
    assert page.locator("[data-confirm=abandon]").is_disabled()
    press(page, "[data-offered]")
    hold(page, "[data-confirm=abandon]")
    expect(page.locator("[data-head-section]")).to_have_text("Ended unfinished. This is the record.")
    assert last(page, copy, "abandon")["reason"] == "It is not safe to go on"
    assert page.locator("[data-press], [data-stop], [data-who]").count() == 0


# People.


def test_work_is_handed_over_and_taken_over_by_another(page: Page, own: str) -> None:
    copy = at_work(page, own, "two-sides")
    press(page, "[data-aside-open]")
    press(page, "[data-aside=give]")
    page.locator("[data-give-text]").fill("The red side is shown.")
    hold(page, "[data-confirm=give]")
    expect(page.locator("[data-rest] .given-text")).to_have_text("The red side is shown.")
    assert page.locator("[data-now] [data-presses]").get_attribute("inert") is not None
    # AB gives: AB cannot take it.
    assert page.locator("[data-rest] [data-hold=AB]").count() == 0
    hold(page, "[data-rest] [data-hold=EF]")
    page.locator("[data-rest] h2").wait_for(state="detached")
    event = last(page, copy, "receive")
    assert (event["who"], event["role"]) == ("EF", "workshop-lead")
    press(page, "[data-now] [data-press]")
    assert last(page, copy, "mark")["who"] == "EF"


def test_somebody_comes_with_large_keys_and_leaves(page: Page, own: str) -> None:
    copy = at_work(page, own, "two-sides", people=PEOPLE[:2])
    press(page, "[data-aside-open]")
    press(page, "[data-aside=people]")
    for key in "XY":
        page.locator(f"[data-panel] [data-key={key}]").click()
    press(page, "[data-panel] [data-tile=workshop-lead]")
    hold(page, "[data-confirm=join]")
    page.locator("[data-who] [data-tile=XY]").wait_for()
    event = last(page, copy, "join")
    assert (event["who"], event["role"]) == ("XY", "workshop-lead")
    press(page, "[data-aside-open]")
    press(page, "[data-aside=people]")
    press(page, "[data-leaves=CD]")
    page.locator("[data-who] [data-tile=CD]").wait_for(state="detached")
    assert last(page, copy, "leave")["who"] == "CD"


@pytest.mark.requirement(number=6)
def test_second_person_whose_initials_are_those_of_the_doer_is_refused(page: Page, own: str) -> None:
    copy = at_work(page, own, "two-sides", people=PEOPLE[:2])
    press(page, "[data-aside-open]")
    press(page, "[data-aside=people]")
    page.locator("[data-panel] [data-typed]").first.fill("ab")
    press(page, "[data-panel] [data-tile=second-person]")
    hold(page, "[data-confirm=join]")
    page.locator("[data-foot-said]", has_text="initials").wait_for()
    assert said(page) == "Those initials are here already. Take others for the other person."
    last(page, copy, "resume")

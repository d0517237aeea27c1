"""Adding to a tank, measuring and labels on the page of a working copy: what is entered, refused, and put right."""

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
from demo_book import ROOT
from playwright.sync_api import Browser, Page, expect
from straight_copies import Straight
from work_forms_book import forms_book
from work_forms_page import Given, context_of, events, given, hold, keys, last_event, opened, press, until_events

from tankside.loading.sources import Folder

#: what opens a page on a step of the small book: its procedure, its step, and what the start holds
Opens = Callable[..., Page]


@pytest.fixture(scope="module")
def book() -> Mapping[str, Given]:
    """The small book."""
    return given(forms_book())


@pytest.fixture(scope="module")
def demo() -> Mapping[str, Given]:
    """The demonstration book."""
    return given(Folder(ROOT))


@pytest.fixture
def at(browser: Browser, book: Mapping[str, Given], tmp_path: Path) -> Iterator[Opens]:
    """Opens a page on a step of the small book; AB works, CD looks, and EF may be the lead."""
    with context_of(browser) as context:

        def opening(procedure: str, step: str, *, lead: bool = False, **start: Any) -> Page:
            copy = Straight(book[procedure].portable).start(**start).before(step)
            if lead:
                copy.enter("join", by=("EF", "lead"))
            return opened(context, tmp_path, book[procedure], copy.events)

        yield opening


def look(page: Page, material: str, lot: str) -> None:
    """Read a label: what it says, and its lot."""
    count = len(events(page))
    press(page.locator(f"[data-tile='{material}']"))
    keys(page, lot)
    press(page.locator("[data-enter=look]"))
    until_events(page, count + 1)


def pour(page: Page, number: str) -> None:
    """Put something in that is not too much."""
    count = len(events(page))
    keys(page, number)
    press(page.locator("[data-enter=pour]"))
    until_events(page, count + 1)


def parts(page: Page) -> list[str | None]:
    """Return where each part of a form stands."""
    return [each.get_attribute("data-part-state") for each in page.locator("[data-part-state]").all()]


# --- adding: the label


def test_amount_is_locked_until_the_label_was_read(at: Opens) -> None:
    page = at("adding", "add-acid")
    assert parts(page) == ["now", "later", "later"]
    assert page.locator("[data-enter=pour]").count() == 0
    names = page.locator("[data-tile]").all_inner_texts()
    assert names == ["Acid", "Bleach"]
    assert page.locator("[data-tile][aria-pressed=true]").count() == 0
    look(page, "acid", "B-7")
    event = last_event(page)
    assert {key: event[key] for key in ("kind", "says", "lot", "who")} == {
        "kind": "look",
        "says": "acid",
        "lot": "B-7",
        "who": "AB",
    }
    assert parts(page) == ["done", "now", "later"]
    assert page.get_by_text("Acid, lot B-7", exact=True).is_visible()


def test_lot_is_asked_for_whatever_the_label_says(at: Opens) -> None:
    page = at("adding", "add-acid")
    press(page.locator("[data-tile=bleach]"))
    assert page.locator("[data-enter=look]").is_disabled()
    assert page.locator("[data-enter=look]").inner_text() == "Enter its lot"
    press(page.locator("[data-other]"))
    assert page.locator("[data-tile]").count() == 2


def test_wrong_label_stops_and_is_kept_and_the_right_one_goes_on(at: Opens) -> None:
    page = at("adding", "add-acid")
    look(page, "bleach", "H-3")
    assert (last_event(page)["says"], last_event(page)["lot"]) == ("bleach", "H-3")
    stop = page.get_by_role("alert")
    expect(stop).to_contain_text("Stop. This is not Acid")
    expect(stop).to_contain_text("Its label says: Bleach, lot H-3.")
    expect(stop).to_contain_text("Do not add it. Put it back where it came from. Fetch Acid.")
    assert page.locator("[data-key], [data-enter]").count() == 0
    press(page.locator("[data-again]"))
    look(page, "acid", "B-7")
    assert [each["says"] for each in events(page) if each["kind"] == "look"][-2:] == ["bleach", "acid"]
    assert parts(page) == ["done", "now", "later"]


def test_lot_that_was_read_before_is_offered_again(at: Opens) -> None:
    page = at("adding", "add-acid")
    look(page, "bleach", "H-3")
    press(page.locator("[data-again]"))
    press(page.locator("[data-tile=bleach]"))
    press(page.locator("[data-lot='H-3']"))
    assert page.locator("[data-enter=look]").inner_text() == "The label says: Bleach, lot H-3"


def test_water_out_of_the_wall_has_no_label(at: Opens) -> None:
    page = at("adding", "add-water")
    assert parts(page) == ["now"]
    # 90 % of 60 L of 1 kg/L
    expect(page.locator("[data-wanted]")).to_have_text("54 kg")
    pour(page, "54")
    expect(page.locator("[data-other=shut-v1]")).to_be_visible()


def test_material_that_is_no_raw_one_is_among_all_of_its_kind(
    demo: Mapping[str, Given], browser: Browser, tmp_path: Path
) -> None:
    about = demo["clean-mixing-tank"]
    added = [name for name, each in _steps(about) if each["kind"] == "add" and each["material"] == "milk-line-cleaner"]
    copy = Straight(about.portable).start().before(added[0])
    with context_of(browser) as context:
        page = opened(context, tmp_path, about, copy.events)
        names = page.locator("[data-tile]").all_inner_texts()
        tiles = {each.get_attribute("data-tile") for each in page.locator("[data-tile]").all()}
    assert names == sorted(names)
    assert {"milk-line-cleaner", "acid-descaler", "grill-degreaser", "lactic-acid-solution"} <= tiles
    assert tiles & {"softened-water", "waste-acid"} == set()


def _steps(about: Given) -> list[tuple[str, Any]]:
    return [(each["name"], each) for each in about.portable["written"]["steps"] if "name" in each]


# --- adding: the amount

#: 1.06 kg/L; softened water is 0.9982 kg/L, 95 of 100 parts of it first; each to what its scale or meter can show
BATCHES = {
    "100 L": {  # 106 kg
        "add-first-water": ("73.5 L", "72.5 L to 74.5 L"),  # 106 * 0.73 / 0.9982 * 0.95 = 73.64, to 0.5; 1 L off
        "add-scale-inhibitor": ("2.12 kg", "2.1 kg to 2.14 kg"),  # 106 * 0.02, to 0.005; 0.02 kg off
        "add-alkali": ("10.6 kg", "10.4 kg to 10.8 kg"),  # 106 * 0.10, to 0.05; 0.2 kg off
        "add-hypochlorite": ("15.9 kg", "15.7 kg to 16.1 kg"),  # 106 * 0.15
        "add-last-water": ("4 L", "1 L to 7 L"),  # 106 * 0.73 / 0.9982 * 0.05 = 3.876, to 0.5; 3 L off
    },
    "137.5 L": {  # 145.75 kg
        "add-first-water": ("101.5 L", "100.5 L to 102.5 L"),  # 145.75 * 0.73 / 0.9982 * 0.95 = 101.26
        "add-scale-inhibitor": ("2.915 kg", "2.895 kg to 2.935 kg"),  # 145.75 * 0.02 = 2.915
        "add-alkali": ("14.6 kg", "14.4 kg to 14.8 kg"),  # 145.75 * 0.10 = 14.575, half a step, so up
        "add-hypochlorite": ("21.85 kg", "21.65 kg to 22.05 kg"),  # 145.75 * 0.15 = 21.8625
        "add-last-water": ("5.5 L", "2.5 L to 8.5 L"),  # 145.75 * 0.73 / 0.9982 * 0.05 = 5.329
    },
    "200 L": {  # 212 kg
        "add-first-water": ("147.5 L", "146.5 L to 148.5 L"),  # 212 * 0.73 / 0.9982 * 0.95 = 147.29
        "add-scale-inhibitor": ("4.24 kg", "4.22 kg to 4.26 kg"),  # 212 * 0.02
        "add-alkali": ("21.2 kg", "21 kg to 21.4 kg"),  # 212 * 0.10
        "add-hypochlorite": ("31.8 kg", "31.6 kg to 32 kg"),  # 212 * 0.15
        "add-last-water": ("8 L", "5 L to 11 L"),  # 212 * 0.73 / 0.9982 * 0.05 = 7.752
    },
}
CLEANER = "blend-milk-line-cleaner"


@pytest.mark.parametrize("size", BATCHES)
def test_amounts_of_the_cleaner_are_those_worked_out_by_hand(
    size: str, demo: Mapping[str, Given], browser: Browser, tmp_path: Path
) -> None:
    about = demo[CLEANER]
    copy = Straight(about.portable, inputs={CLEANER: {"batch": size}}).start()
    found = {}
    for step in BATCHES[size]:
        copy.before(step)
        with context_of(browser) as context:
            page = opened(context, tmp_path, about, copy.events)
            if page.locator("[data-tiles]").count() > 0:
                look(page, str(dict(_steps(about))[step]["material"]), "B-7")
            found[step] = tuple(page.locator(f"[data-{each}]").inner_text() for each in ("wanted", "tolerance"))
    assert found == BATCHES[size]


def test_several_pours_add_up_and_each_keeps_its_limits(at: Opens) -> None:
    page = at("adding", "add-acid")
    look(page, "acid", "B-7")
    said = page.locator("[data-said]")
    # 10 % of 60 L of 1 kg/L is 6 kg, 0.1 kg off at most
    keys(page, "2.5")
    expect(said).to_have_text("Together 2.5 kg. 3.5 kg still to add.")
    press(page.locator("[data-enter=pour]"))
    expect(page.locator("[data-pours]")).to_have_text("2.5 kg, AB")
    keys(page, "3.25")
    expect(said).to_have_text("Together 5.75 kg. 0.25 kg still to add.")
    press(page.locator("[data-enter=pour]"))
    expect(said).to_have_text("Together 5.75 kg. 0.25 kg still to add.")
    keys(page, "0.15")
    expect(said).to_have_text("Together 5.9 kg. Enough.")
    press(page.locator("[data-enter=pour]"))
    expect(page.locator("[data-part-state=done]").nth(1)).to_contain_text("In: 5.9 kg")
    assert parts(page) == ["done", "done", "now"]
    pours = [each for each in events(page) if each["kind"] == "pour"][-3:]
    assert [(each["value"], each["total"], each["inside"]) for each in pours] == [
        ("2.5", "2.5", False),
        ("3.25", "5.75", False),
        ("0.15", "5.9", True),
    ]
    assert {(each["unit"], each["target"], each["low"], each["high"]) for each in pours} == {("kg", "6", "5.9", "6.1")}


@pytest.mark.parametrize(
    ("typed", "words"), [("2,5", "Write the decimal mark as a point"), ("2.5.1", "This is no number")]
)
def test_what_is_no_number_is_not_entered_and_says_so(typed: str, words: str, at: Opens) -> None:
    page = at("adding", "add-water")
    page.locator("[data-typed]").fill(typed)
    expect(page.locator("[data-said]")).to_contain_text(words)
    assert page.locator("[data-enter=pour]").is_disabled()
    assert page.locator("[data-typed]").input_value() == typed


def test_too_much_is_asked_about_before_it_is_kept(at: Opens) -> None:
    page = at("adding", "add-acid")
    look(page, "acid", "B-7")
    count = len(events(page))
    keys(page, "60")
    press(page.locator("[data-enter=pour]"))
    expect(page.locator(".work-doubt")).to_contain_text("60 kg would be 54 kg too much. Does scale really show it?")
    page.locator("[data-key=back]").first.click()
    expect(page.locator(".work-doubt")).to_be_hidden()
    press(page.locator("[data-enter=pour]"))
    until_events(page, count + 1)
    assert last_event(page)["value"] == "6"


def too_much(page: Page, number: str) -> None:
    """Put more in than may be, and say that it is so."""
    count = len(events(page))
    keys(page, number)
    press(page.locator("[data-enter=pour]"))
    press(page.locator("[data-sure]"))
    until_events(page, count + 1)


def test_too_much_stops_and_only_the_approver_lets_it_go_on(at: Opens) -> None:
    page = at("adding", "add-acid", lead=True)
    look(page, "acid", "B-7")
    too_much(page, "6.2")
    assert (last_event(page)["total"], last_event(page)["inside"]) == ("6.2", False)
    expect(page.get_by_role("alert")).to_contain_text("Stop. 0.2 kg more than wanted")
    expect(page.get_by_role("alert")).to_contain_text("6.2 kg is in. The most is 6.1 kg.")
    assert page.locator("[data-enter=pour]").count() == 0
    press(page.locator("[data-fold^=allow] summary"))
    assert [each.get_attribute("data-hold") for each in page.locator("[data-fold^=allow] [data-hold]").all()] == ["EF"]
    assert page.locator("[data-fold^=allow] [data-hold]").is_hidden()
    press(page.locator("[data-fold^=allow] [data-offered]").first)
    hold(page.locator("[data-fold^=allow] [data-hold=EF]"))
    expect(page.locator("[data-other=wipe]")).to_be_visible()
    event = last_event(page)
    assert (event["kind"], event["who"], event["role"]) == ("allow", "EF", "lead")
    assert event["reason"] == "So little that it changes nothing"


def test_too_much_and_no_approver_here_says_whom_to_call(at: Opens) -> None:
    page = at("adding", "add-acid")
    look(page, "acid", "B-7")
    too_much(page, "6.2")
    expect(page.locator(".work-allow")).to_contain_text("nobody here has it: Lead. Call them.")
    assert page.locator("[data-comes=lead]").is_visible()


def put_right(page: Page, number: str, who: str) -> None:
    """Say that the value was typed wrong, and have somebody else see the right one."""
    fold = page.locator("[data-fold^=correct]")
    press(fold.locator("summary"))
    keys(page, number, within="[data-fold^=correct]")
    press(fold.locator("[data-offered]").first)
    hold(fold.locator(f"[data-hold={who}]"))


def test_pour_typed_wrong_is_put_right_by_two(at: Opens) -> None:
    page = at("adding", "add-acid")
    look(page, "acid", "B-7")
    too_much(page, "60")
    first = last_event(page)
    fold = page.locator("[data-fold^=correct]")
    press(fold.locator("summary"))
    # AB has poured: AB alone cannot say that it was something else
    assert [each.get_attribute("data-hold") for each in fold.locator("[data-hold]").all()] == ["CD"]
    press(fold.locator("summary"))
    put_right(page, "6", "CD")
    page.wait_for_function("(seq) => view.copy.events.length > seq + 1", arg=first["seq"])
    event = last_event(page)
    assert {key: event[key] for key in ("kind", "corrects", "value", "unit", "who", "second", "reason")} == {
        "kind": "correct",
        "corrects": first["seq"],
        "value": "6",
        "unit": "kg",
        "who": "AB",
        "second": "CD",
        "reason": "Slip of the finger",
    }
    assert parts(page) == ["done", "done", "now"]
    assert events(page)[first["seq"]] == first


def test_which_of_several_pours_was_wrong_is_chosen(at: Opens) -> None:
    page = at("adding", "add-acid")
    look(page, "acid", "B-7")
    pour(page, "1.5")
    wrong = last_event(page)["seq"]
    pour(page, "0.9")
    press(page.locator("[data-fold^=correct] summary"))
    press(page.locator(f"[data-fold^=correct] [data-tile='{wrong}']"))
    press(page.locator("[data-fold^=correct] summary"))
    put_right(page, "5.1", "CD")
    page.wait_for_function("view.copy.events[view.copy.events.length - 1].kind === 'correct'")
    assert last_event(page)["corrects"] == wrong
    # 5.1 + 0.9
    expect(page.locator("[data-part-state=done]").nth(1)).to_contain_text("In: 6 kg")


# --- measuring


def test_instrument_is_asked_for_once_a_day_and_then_read(at: Opens) -> None:
    page = at("measuring", "read-tank")
    assert parts(page) == ["now", "later"]
    expect(page.locator("[data-part-state=now]")).to_contain_text("T1: Thermometer")
    expect(page.locator("[data-part-state=now]")).to_contain_text("In calibration until 2027-01-31.")
    press(page.locator("[data-unsure]"))
    expect(page.get_by_role("alert")).to_contain_text("How that is done stands on the sheet of T1 itself.")
    press(page.locator("[data-checked]"))
    until_events(page, 2)
    assert {key: last_event(page)[key] for key in ("kind", "instrument", "due")} == {
        "kind": "checked",
        "instrument": "T1",
        "due": "2027-01-31",
    }
    assert parts(page) == ["done", "now"]
    read(page, "25")
    assert {key: last_event(page)[key] for key in ("value", "unit", "low", "high", "inside", "instrument", "due")} == {
        "value": "25",
        "unit": "degC",
        "low": "5",
        "high": "25",
        "inside": True,
        "instrument": "T1",
        "due": "2027-01-31",
    }
    # the same instrument on the same day is not asked about again
    assert parts(page) == ["done", "now", "later"]


def read(page: Page, number: str) -> None:
    """Type a reading, see it large, and say that it is so."""
    count = len(events(page))
    keys(page, number)
    press(page.locator("[data-enter=read]"))
    press(page.locator("[data-keep]"))
    until_events(page, count + 1)


def test_instrument_out_of_calibration_is_refused_with_the_way_out(at: Opens) -> None:
    page = at("measuring", "read-old")
    stop = page.get_by_role("alert")
    expect(stop).to_contain_text("Stop. T2 is out of calibration since 2026-11-30")
    expect(stop).to_contain_text("No other instrument can stand in for it here.")
    expect(stop).to_contain_text("Tell: Lead.")
    assert page.locator("[data-checked], [data-key], [data-enter]").count() == 0


def test_value_is_seen_large_before_it_is_kept(at: Opens) -> None:
    page = at("measuring", "read-tank")
    press(page.locator("[data-checked]"))
    until_events(page, 2)
    expect(page.locator("[data-limits]")).to_have_text("5 °C to 25 °C")
    keys(page, "215")
    press(page.locator("[data-enter=read]"))
    expect(page.locator("[data-seen]")).to_have_text("215 °C")
    expect(page.locator("[data-verdict]")).to_contain_text("Outside the limits, 5 °C to 25 °C")
    press(page.locator("[data-again]"))
    assert len(events(page)) == 2
    page.locator("[data-key=back]").click()
    keys(page, ".5")
    press(page.locator("[data-enter=read]"))
    expect(page.locator("[data-seen]")).to_have_text("21.5 °C")
    expect(page.locator("[data-verdict]")).to_have_attribute("data-verdict", "inside")
    press(page.locator("[data-keep]"))
    until_events(page, 3)
    assert last_event(page)["value"] == "21.5"


def test_reading_below_zero_can_be_typed_with_keys(at: Opens) -> None:
    page = at("measuring", "read-tank")
    press(page.locator("[data-checked]"))
    until_events(page, 2)
    read(page, "2-")
    assert (last_event(page)["value"], last_event(page)["inside"]) == ("-2", False)


@pytest.mark.requirement(number=7)
def test_outside_stops_and_is_put_right_by_two_and_both_stay(at: Opens) -> None:
    page = at("measuring", "read-tank")
    press(page.locator("[data-checked]"))
    until_events(page, 2)
    read(page, "52")
    first = last_event(page)
    assert first["inside"] is False
    expect(page.get_by_role("alert")).to_contain_text("52 °C is outside the limits")
    assert page.locator("[data-enter=read]").count() == 0
    put_right(page, "25", "CD")
    until_events(page, 4)
    assert (last_event(page)["kind"], last_event(page)["value"], last_event(page)["second"]) == ("correct", "25", "CD")
    assert events(page)[first["seq"]] == first
    assert page.evaluate("view.copy.trail[0].state") == "deviated"
    assert page.evaluate("view.copy.trail[1].name") == "read-again"


@pytest.mark.requirement(number=7)
def test_value_that_is_still_outside_after_it_was_put_right_can_be_put_right_again(at: Opens) -> None:
    page = at("measuring", "read-tank")
    press(page.locator("[data-checked]"))
    until_events(page, 2)
    read(page, "52")
    put_right(page, "52.5", "CD")
    until_events(page, 4)
    expect(page.get_by_role("alert")).to_contain_text("52.5 °C is outside the limits")
    struck = page.locator(".work-struck")
    expect(struck).to_contain_text("52 °C 52.5 °C, AB and CD: Slip of the finger")
    assert struck.locator("s").all_inner_texts() == ["52 °C"]
    put_right(page, "22.5", "CD")
    until_events(page, 5)
    assert [each["corrects"] for each in events(page)[3:]] == [2, 3]


# --- labels


def code(page: Page, text: str) -> None:
    """Type the code of a label."""
    count = len(events(page))
    keys(page, text)
    press(page.locator("[data-enter=look]"))
    until_events(page, count + 1)


def count_labels(page: Page, numbers: Mapping[str, str]) -> None:
    """Type counts."""
    for name, number in numbers.items():
        page.locator(f"[data-typed$={name}]:visible").click()
        keys(page, number)


def test_code_is_typed_and_not_chosen_and_a_wrong_one_stops(at: Opens) -> None:
    page = at("labelling", "labels-out", bottle="5 L")
    assert parts(page) == ["now", "later"]
    assert "LM-5" not in page.locator("main").inner_text()
    code(page, "LM-1")
    assert (last_event(page)["kind"], last_event(page)["says"]) == ("look", "LM-1")
    expect(page.get_by_role("alert")).to_contain_text("Stop. This is not the label for Lemonade, 5 L")
    assert page.locator("[data-key]").count() == 0
    press(page.locator("[data-again]"))
    code(page, "LM-5")
    assert parts(page) == ["done", "now"]
    count_labels(page, {"issued": "100"})
    press(page.locator("[data-enter=count]"))
    expect(page.get_by_text("What became of them")).to_be_visible()
    assert last_event(page)["issued"] == 100


def test_labels_that_add_up_go_on(at: Opens) -> None:
    page = at("labelling", "labels-in", bottle="5 L")
    expect(page.get_by_text("Taken out: 100")).to_be_visible()
    count_labels(page, {"used": "90", "spoiled": "4"})
    assert page.locator("[data-enter=count]").is_disabled()
    count_labels(page, {"left": "5"})
    expect(page.locator("[data-said]")).to_have_text("Missing: 1")
    page.locator("[data-key=back]").click()
    keys(page, "6")
    expect(page.locator("[data-said]")).to_have_text("All are there. Nothing is missing.")
    press(page.locator("[data-enter=count]"))
    expect(page.locator("[data-other=drawer]")).to_be_visible()
    assert {key: last_event(page)[key] for key in ("used", "spoiled", "left")} == {"used": 90, "spoiled": 4, "left": 6}


def off_by_one(page: Page) -> None:
    """Enter counts of which one is missing."""
    count = len(events(page))
    count_labels(page, {"used": "90", "spoiled": "4", "left": "5"})
    press(page.locator("[data-enter=count]"))
    until_events(page, count + 1)


def test_labels_that_do_not_add_up_are_counted_again(at: Opens) -> None:
    page = at("labelling", "labels-in", bottle="5 L")
    off_by_one(page)
    expect(page.get_by_role("alert")).to_contain_text("Missing: 1")
    first = last_event(page)["seq"]
    fold = page.locator(f"[data-fold='recount-{first}-open']")
    press(fold.locator("summary"))
    for name, number in {"used": "91", "spoiled": "4", "left": "5"}.items():
        fold.locator(f"[data-typed$={name}]").click()
        keys(page, number, within=f"[data-fold='recount-{first}-open']")
    expect(fold.locator(".work-correct-as")).to_have_text("All are there. Nothing is missing.")
    press(fold.get_by_role("button", name="Counted again"))
    hold(fold.locator("[data-hold=CD]"))
    expect(page.locator("[data-other=drawer]")).to_be_visible()
    assert {key: last_event(page)[key] for key in ("kind", "corrects", "used", "second")} == {
        "kind": "correct",
        "corrects": first,
        "used": 91,
        "second": "CD",
    }


def test_number_taken_out_may_have_been_the_wrong_one(at: Opens) -> None:
    page = at("labelling", "labels-in", bottle="5 L")
    off_by_one(page)
    taken = next(each["seq"] for each in events(page) if "issued" in each)
    fold = page.locator(f"[data-fold='recount-{taken}-open']")
    press(fold.locator("summary"))
    keys(page, "99", within=f"[data-fold='recount-{taken}-open']")
    press(fold.locator("[data-offered]").first)
    hold(fold.locator("[data-hold=CD]"))
    # 99 - 90 - 4 - 5
    expect(page.locator("[data-other=drawer]")).to_be_visible()
    assert (last_event(page)["corrects"], last_event(page)["issued"]) == (taken, 99)


def test_labels_that_are_lost_are_let_go_on_by_the_approver_only(at: Opens) -> None:
    page = at("labelling", "labels-in", bottle="5 L", lead=True)
    off_by_one(page)
    fold = page.locator("[data-fold^=allow]")
    press(fold.locator("summary"))
    page.locator("[data-typed^=allow]").fill("   ")
    assert fold.locator("[data-hold=EF]").is_hidden()
    page.locator("[data-typed^=allow]").fill("It lies in the drain and is destroyed.")
    hold(fold.locator("[data-hold=EF]"))
    expect(page.locator("[data-other=drawer]")).to_be_visible()
    assert last_event(page)["reason"] == "It lies in the drain and is destroyed."

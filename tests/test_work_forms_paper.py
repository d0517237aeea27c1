"""A record sheet is taken over: its serial, the time of each line, waits that are counted by what stands on paper."""

from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect
from work_forms_book import forms_book
from work_forms_page import NOW, Given, context_of, events, given, keys, opened, press, until_events

#: by ISO/IEC 7064, MOD 37-2: 2*2^8 + 3*2^7 + 4*2^6 + 5*2^5 + 6*2^4 + 7*2^3 + 8*2^2 + 9*2 = 1514, 1514 + 4 = 41 * 37 + 1
SERIAL = "234567894"
DAY = "2026-11-30"


@pytest.fixture(scope="module")
def book() -> Mapping[str, Given]:
    """The small book."""
    return given(forms_book())


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    """A fresh browser profile."""
    with context_of(browser) as found:
        yield found


def fill(page: Page, serial: str = SERIAL, day: str = DAY, time: str = "0800") -> None:
    """Fill in who worked, and what stands at the top of the sheet."""
    keys(page, "AB", within=".work-new-person")
    press(page.locator(".work-new-person [data-tile=line-operator]"))
    press(page.locator("[data-enter=person]"))
    press(page.locator("[data-fold=start-paper-open] summary"))
    page.locator("[data-typed=paper-serial]").fill(serial)
    page.locator("[data-typed=paper-day]").fill(day)
    page.locator("[data-typed=paper-begun]").fill(time)


def missing(page: Page) -> list[str]:
    """Return what the form says is missing."""
    page.locator("[data-missing]").wait_for(state="attached")
    return page.locator(".work-lacking li").all_inner_texts()


@pytest.fixture
def page(context: BrowserContext, book: Mapping[str, Given], tmp_path: Path) -> Page:
    """A sheet on which a wait stands, that was begun at 8:00 the day before."""
    found = opened(context, tmp_path, book["waiting"])
    fill(found)
    press(found.locator("[data-begin]"))
    until_events(found, 1)
    return found


def at_time(page: Page, time: str) -> None:
    """Enter the time of a line with the large keys."""
    keys(page, time, within="[data-line-time]")
    press(page.locator("[data-set-time]"))


def act(page: Page, kind: str, own: str = "") -> bool:
    """Do something as the row of the step does it."""
    return bool(page.evaluate(f"view.act('{kind}', {{ visit: 0, {own} }})"))


def test_start_from_a_sheet_carries_its_serial_and_its_time(page: Page) -> None:
    (event,) = events(page)
    assert (event["paper"], event["who"]) == (SERIAL, "AB")
    assert event["at"] == f"{DAY}T08:00:00.000+00:00"
    assert datetime.fromisoformat(event["entered_at"]) == NOW
    expect(page.locator("[data-sheet]")).to_contain_text("Taking over from paper, sheet 234 567 894")


@pytest.mark.parametrize(
    ("serial", "words"),
    [
        ("", "The serial of the sheet has 9 characters."),
        ("23456789", "The serial of the sheet has 9 characters."),
        ("2345678O4", "One character cannot be in a serial."),
        ("234567849", "a character is wrong, or two have changed places"),
    ],
)
def test_serial_that_is_none_is_refused(
    serial: str, words: str, context: BrowserContext, book: Mapping[str, Given], tmp_path: Path
) -> None:
    page = opened(context, tmp_path, book["waiting"])
    fill(page, serial=serial)
    assert len(missing(page)) == 1
    assert words in missing(page)[0]
    assert page.locator("[data-begin]").is_disabled()


def test_serial_may_be_typed_as_it_is_printed(
    context: BrowserContext, book: Mapping[str, Given], tmp_path: Path
) -> None:
    page = opened(context, tmp_path, book["waiting"])
    fill(page, serial="234 567 894")
    assert missing(page) == []


def test_sheet_that_was_taken_over_already_is_refused(
    page: Page, context: BrowserContext, book: Mapping[str, Given], tmp_path: Path
) -> None:
    page.wait_for_function("store.note('sheets').then(Boolean)")
    again = opened(context, tmp_path, book["waiting"])
    fill(again)
    assert missing(again) == [
        "Sheet 234 567 894 was taken over on this device already. Look for it among the working copies."
    ]


def test_start_that_has_not_come_yet_is_refused(
    context: BrowserContext, book: Mapping[str, Given], tmp_path: Path
) -> None:
    page = opened(context, tmp_path, book["waiting"])
    # NOW is 10:00 on 2026-12-01
    fill(page, day="2026-12-01", time="1001")
    assert missing(page) == ["This time has not come yet. Read the day and the time once more."]


def test_nothing_is_entered_before_the_time_of_its_line(page: Page) -> None:
    assert act(page, "begin") is False
    assert page.evaluate("view.said") == "Enter the time that stands at this line of the sheet first."
    assert len(events(page)) == 1


def test_wait_that_lasted_long_enough_on_paper_is_done(page: Page) -> None:
    at_time(page, "0805")
    expect(page.locator("[data-line-time]")).to_contain_text("This line: 2026-11-30, 08:05")
    assert act(page, "begin") is True
    # the line after that has a time of its own: 30 min later
    at_time(page, "0835")
    assert act(page, "mark") is True
    began, marked = events(page)[1:]
    assert [each["at"] for each in (began, marked)] == [f"{DAY}T08:05:00.000+00:00", f"{DAY}T08:35:00.000+00:00"]
    assert {each["paper"] for each in (began, marked)} == {SERIAL}
    assert began["session"] != marked["session"]
    assert page.evaluate("view.copy.trail[0].state") == "complete"


def test_wait_that_was_too_short_on_paper_is_refused(page: Page) -> None:
    at_time(page, "0805")
    act(page, "begin")
    at_time(page, "0834")
    assert act(page, "mark") is False
    assert page.evaluate("view.said") == page.evaluate("tankside.words['refused-too-early']")


def test_same_time_as_the_line_above_is_one_press(page: Page) -> None:
    press(page.locator("[data-same-time]"))
    assert act(page, "begin") is True
    assert events(page)[1]["at"] == f"{DAY}T08:00:00.000+00:00"


def test_time_before_the_line_above_is_asked_about(page: Page) -> None:
    at_time(page, "0755")
    expect(page.locator("[data-line-time]")).to_contain_text("This is before the line above it, 08:00.")
    assert page.evaluate("view.paper.at") == ""
    press(page.locator("[data-backwards]"))
    assert act(page, "begin") is True
    assert events(page)[1]["at"] == f"{DAY}T07:55:00.000+00:00"


def test_line_after_midnight_gets_the_next_day(page: Page) -> None:
    page.locator("[data-typed=paper-day]").fill("2026-12-01")
    at_time(page, "0010")
    assert act(page, "begin") is True
    assert events(page)[1]["at"] == "2026-12-01T00:10:00.000+00:00"


def test_line_in_the_future_is_refused(page: Page) -> None:
    page.locator("[data-typed=paper-day]").fill((NOW + timedelta(days=1)).date().isoformat())
    at_time(page, "0010")
    expect(page.locator("[data-line-time]")).to_contain_text("This time has not come yet.")
    assert page.locator("[data-backwards]").count() == 0


def test_page_that_is_loaded_again_goes_on_with_the_sheet(
    page: Page, context: BrowserContext, book: Mapping[str, Given], tmp_path: Path
) -> None:
    made = events(page)
    page.close()
    again = opened(context, tmp_path, book["waiting"], made)
    expect(again.locator("[data-sheet]")).to_contain_text("sheet 234 567 894")
    assert act(again, "begin") is False
    at_time(again, "0805")
    assert act(again, "begin") is True
    assert events(again)[1]["paper"] == SERIAL


def test_work_can_go_on_without_the_sheet(page: Page) -> None:
    at_time(page, "0805")
    act(page, "begin")
    press(page.locator("[data-fold=paper-leave] summary"))
    press(page.locator("[data-leave-paper]"))
    expect(page.locator("[data-sheet]")).to_have_count(0)
    # the day after: the wait is over
    assert act(page, "mark") is True
    last = events(page)[-1]
    assert "paper" not in last
    assert datetime.fromisoformat(last["at"]) == NOW

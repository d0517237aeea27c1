"""What the forms enter is a sound record: its shape, its chain and each figure in it, as Python checks a file."""

import json
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page
from work_forms_book import forms_book
from work_forms_page import Given, context_of, events, given, hold, keys, opened, press, until_events

from tankside.records.checking import check_files
from tankside.views.work import shown

#: what is so in these records, and no fault
UNFINISHED = ("remark", "record-not-finished")
OUTSIDE = ("remark", "record-reading-outside")
FROM_PAPER = ("remark", "record-from-paper")


@pytest.fixture(scope="module")
def book() -> Mapping[str, Given]:
    """The small book."""
    return given(forms_book())


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    """A fresh browser profile."""
    with context_of(browser) as found:
        yield found


def said(page: Page, about: Given, folder: Path) -> list[tuple[str, str]]:
    """Save the record as a file, and return what is said of it: each time how grave it is, and its code."""
    made = events(page)
    record = {
        "layout": "tankside-record-1",
        "book": "tiny",
        "site": "tiny",
        "copy": made[0]["copy"],
        "edition": about.portable,
        "shown": shown(about.edition, about.view),
        "events": made,
        "exported": "2026-12-01T12:00:00.000+00:00",
    }
    path = folder / "record.json"
    path.write_text(json.dumps(record, ensure_ascii=False), encoding="utf-8", newline="\n")
    return sorted((str(each.severity), each.code) for each in check_files([path]).problems)


def begun(page: Page, *, lot: bool = True, paper: bool = False) -> None:
    """Fill in the form and begin; EF is the lead."""
    if lot:
        keys(page, "L-7")
    if page.locator("[data-size='60']").count() > 0:
        press(page.locator("[data-size='60']"))
    if page.locator("[data-tile='5 L']").count() > 0:
        press(page.locator("[data-tile='5 L']"))
    for who, role in (("AB", "line-operator"), ("CD", "second-person"), ("EF", "lead")):
        keys(page, who, within=".work-new-person")
        press(page.locator(f".work-new-person [data-tile={role}]"))
        press(page.locator("[data-enter=person]"))
    for each in page.locator("[data-seen]").all():
        press(each)
    if paper:
        press(page.locator("[data-fold=start-paper-open] summary"))
        page.locator("[data-typed=paper-serial]").fill("234567894")
        page.locator("[data-typed=paper-day]").fill("2026-11-30")
        page.locator("[data-typed=paper-begun]").fill("0800")
    press(page.locator("[data-begin]"))
    until_events(page, 1)


def enter(page: Page, number: str, name: str) -> None:
    """Type a number and enter it."""
    count = len(events(page))
    keys(page, number)
    press(page.locator(f"[data-enter={name}]"))
    until_events(page, count + 1)


def act(page: Page, kind: str, own: str) -> None:
    """Do something as the row of the step does it."""
    assert page.evaluate(f"view.act('{kind}', {own})") is True, page.evaluate("view.said")


def test_adding_with_a_wrong_label_and_a_corrected_pour(
    context: BrowserContext, book: Mapping[str, Given], tmp_path: Path
) -> None:
    page = opened(context, tmp_path, book["adding"])
    begun(page)
    act(page, "mark", "{ visit: 0 }")
    enter(page, "54.35", "pour")
    act(page, "mark", "{ visit: 2 }")
    for material in ("bleach", "acid"):
        if page.locator("[data-again]").count() > 0:
            press(page.locator("[data-again]"))
        press(page.locator(f"[data-tile={material}]"))
        enter(page, "B-7", "look")
    enter(page, "2.5", "pour")
    count = len(events(page))
    keys(page, "35")
    press(page.locator("[data-enter=pour]"))
    press(page.locator("[data-sure]"))
    until_events(page, count + 1)
    press(page.locator("[data-fold^=correct] summary"))
    keys(page, "3.5", within="[data-fold^=correct]")
    press(page.locator("[data-fold^=correct] [data-offered]").first)
    hold(page.locator("[data-fold^=correct] [data-hold=CD]"))
    until_events(page, count + 2)
    act(page, "second", "{ visit: 3, who: 'EF' }")
    assert said(page, book["adding"], tmp_path) == [UNFINISHED]


def test_measuring_inside_and_outside(context: BrowserContext, book: Mapping[str, Given], tmp_path: Path) -> None:
    page = opened(context, tmp_path, book["measuring"])
    begun(page, lot=False)
    press(page.locator("[data-checked]"))
    until_events(page, 2)
    for number in ("21.5", "25.5"):
        count = len(events(page))
        keys(page, number)
        press(page.locator("[data-enter=read]"))
        press(page.locator("[data-keep]"))
        until_events(page, count + 1)
    act(page, "take", "{ visit: 1 }")
    assert said(page, book["measuring"], tmp_path) == [UNFINISHED, OUTSIDE]


def test_labels_with_a_wrong_code_and_a_second_count(
    context: BrowserContext, book: Mapping[str, Given], tmp_path: Path
) -> None:
    page = opened(context, tmp_path, book["labelling"])
    begun(page)
    enter(page, "LM-1", "look")
    press(page.locator("[data-again]"))
    enter(page, "LM-5", "look")
    enter(page, "100", "count")
    for name, number in {"used": "90", "spoiled": "4", "left": "5"}.items():
        page.locator(f"[data-typed$={name}]").click()
        keys(page, number)
    press(page.locator("[data-enter=count]"))
    until_events(page, 5)
    press(page.locator("[data-fold^=allow] summary"))
    press(page.locator("[data-fold^=allow] [data-offered]").first)
    hold(page.locator("[data-fold^=allow] [data-hold=EF]"))
    until_events(page, 6)
    assert said(page, book["labelling"], tmp_path) == [UNFINISHED]


def test_sheet_that_was_taken_over(context: BrowserContext, book: Mapping[str, Given], tmp_path: Path) -> None:
    page = opened(context, tmp_path, book["waiting"])
    begun(page, lot=False, paper=True)
    for time, kind in (("0805", "begin"), ("0840", "mark")):
        keys(page, time, within="[data-line-time]")
        press(page.locator("[data-set-time]"))
        act(page, kind, "{ visit: 0 }")
    assert said(page, book["waiting"], tmp_path) == [FROM_PAPER, UNFINISHED]

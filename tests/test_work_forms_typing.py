"""What large keys and keyboards type: nothing that was typed is changed or lost."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect
from straight_copies import Straight
from work_forms_book import forms_book
from work_forms_page import context_of, events, given, keys, opened, press, until_events

#: where the amount is typed
FIELD = "[data-typed^=pour]"


@pytest.fixture
def page(browser: Browser, tmp_path: Path) -> Iterator[Page]:
    """A step that adds water."""
    about = given(forms_book())["adding"]
    copy = Straight(about.portable).start().before("add-water")
    with context_of(browser) as context:
        yield opened(context, tmp_path, about, copy.events)


def typing(page: Page, call: str, *given: Any) -> Any:
    return page.evaluate(f"(given) => tankside.workTyping.{call}(...given)", list(given))


@pytest.mark.parametrize(
    ("text", "key", "kind", "then"),
    [
        ("", "5", "number", "5"),
        ("0", "5", "number", "5"),
        ("0", ".", "number", "0."),
        ("", ".", "number", "0."),
        ("1.5", ".", "number", "1.5"),
        ("1.5", "0", "number", "1.50"),
        ("15", "back", "number", "1"),
        ("", "back", "number", ""),
        ("0", "8", "time", "08"),
        ("0", "7", "code", "07"),
        ("2", "-", "signed", "-2"),
        ("-2", "-", "signed", "2"),
        ("A", "-", "code", "A-"),
        ("ABC", "D", "initials", "ABC"),
        ("123456789012", "3", "number", "123456789012"),
    ],
)
def test_key_adds_what_it_says(text: str, key: str, kind: str, then: str, page: Page) -> None:
    assert typing(page, "pressed", text, key, kind) == then


@pytest.mark.parametrize(
    ("text", "kind", "kept"),
    [
        ("12.5", "number", "12.5"),
        ("007", "number", "7"),
        ("0", "number", "0"),
        ("00.50", "number", "0.50"),
        (".5", "number", "0.5"),
        ("12.", "number", "12"),
        (" 3 ", "number", "3"),
        ("12,5", "number", ""),
        ("1.2.3", "number", ""),
        ("-3", "number", ""),
        ("-3.5", "signed", "-3.5"),
        ("-", "signed", ""),
        ("1e3", "number", ""),
        ("", "number", ""),
        ("017", "whole", "17"),
        ("1.5", "whole", ""),
        ("815", "time", "08:15"),
        ("0815", "time", "08:15"),
        ("8:15", "time", "08:15"),
        ("24:00", "time", ""),
        ("0860", "time", ""),
        ("  ", "code", ""),
        (" B 7/x ", "code", "B 7/x"),
        ("AB", "initials", "AB"),
        ("ÄÖ", "initials", "ÄÖ"),
        ("A1", "initials", ""),
    ],
)
def test_what_was_typed_is_kept_as(text: str, kind: str, kept: str, page: Page) -> None:
    assert typing(page, "settled", text, kind) == kept


def test_letters_of_codes_and_initials_are_capitals_and_lots_typed_with_a_minus_sign_stay(page: Page) -> None:
    assert typing(page, "keyed", "lm-1", "code") == "LM-1"
    assert typing(page, "keyed", "ab", "initials") == "AB"
    assert typing(page, "keyed", "\N{MINUS SIGN}3", "signed") == "-3"
    assert typing(page, "keyed", "1,5", "number") == "1,5"


def test_keys_pressed_one_right_after_the_other_all_count(page: Page) -> None:
    keys(page, "12.34567")
    expect(page.locator(FIELD)).to_have_value("12.34567")


def test_what_was_typed_outlives_a_new_painting_and_an_event_of_somebody_else(page: Page) -> None:
    keys(page, "12.5")
    page.evaluate("paintAnew()")
    expect(page.locator(FIELD)).to_have_value("12.5")
    page.evaluate("view.act('note', { text: 'The floor is wet.' })")
    page.wait_for_function("view.copy.events[view.copy.events.length - 1].kind === 'note'")
    page.evaluate("paintAnew()")
    expect(page.locator(FIELD)).to_have_value("12.5")
    expect(page.locator("[data-said]")).to_contain_text("Together 12.5 kg.")


def test_what_was_entered_is_typed_no_longer(page: Page) -> None:
    keys(page, "20")
    press(page.locator("[data-enter=pour]"))
    expect(page.locator("[data-pours]")).to_have_text("20 kg, AB")
    expect(page.locator(FIELD)).to_have_value("")


@pytest.mark.requirement(number=10)
def test_what_was_not_kept_stays_typed(page: Page) -> None:
    page.evaluate("void (work.store.append = () => Promise.reject(new tankside.copyStore.NotKept('store-full')))")
    count = len(events(page))
    keys(page, "20")
    press(page.locator("[data-enter=pour]"))
    page.wait_for_function("view.work.trouble === 'store-full'")
    page.evaluate("paintAnew()")
    expect(page.locator(FIELD)).to_have_value("20")
    assert len(events(page)) == count


def test_keyboard_types_into_the_field_and_enter_enters(page: Page) -> None:
    count = len(events(page))
    page.locator(FIELD).focus()
    page.keyboard.type("20.5")
    page.keyboard.press("Enter")
    until_events(page, count + 1)
    assert events(page)[-1]["value"] == "20.5"


def test_drafts_that_are_done_with_take_no_others_with_them(page: Page) -> None:
    left = page.evaluate(
        """() => {
      const drafts = new tankside.workTyping.Drafts();
      for (const name of ['read-3', 'read-3-seen', 'read-35', 'pour-3']) drafts.set(name, name);
      drafts.drop('read-3');
      return [...drafts.kept.keys()];
    }"""
    )
    assert left == ["read-35", "pour-3"]

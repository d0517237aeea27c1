"""The form that begins a working copy: what is missing is said, and then it is one press."""

import json
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest
from demo_book import ROOT
from playwright.sync_api import Browser, BrowserContext, Locator, Page, expect
from straight_copies import Straight
from work_forms_book import forms_book
from work_forms_page import Given, context_of, events, given, keys, opened, press

from tankside.loading.sources import Folder


@pytest.fixture(scope="module")
def book() -> Mapping[str, Given]:
    """The small book."""
    return given(forms_book())


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    """A fresh browser profile."""
    with context_of(browser) as found:
        yield found


def lacking(page: Page) -> list[str]:
    """Return what the form says is missing."""
    page.locator("[data-missing], .work-stopped").first.wait_for(state="attached")
    return page.locator(".work-lacking li").all_inner_texts()


def begin(page: Page) -> Locator:
    """Return the press that begins."""
    return page.locator("[data-begin]")


def person(page: Page, who: str, role: str) -> None:
    """Name somebody."""
    keys(page, who, within=".work-new-person")
    press(page.locator(f".work-new-person [data-tile='{role}']"))
    press(page.locator("[data-enter=person]"))


def all_seen(page: Page) -> None:
    """Confirm all that must be so."""
    for each in page.locator("[data-seen]").all():
        press(each)


def filled(page: Page) -> None:
    """Fill everything in."""
    keys(page, "L-7")
    press(page.locator("[data-size='60']"))
    person(page, "AB", "line-operator")
    person(page, "CD", "second-person")
    all_seen(page)


def test_start_says_what_is_missing_until_nothing_is_and_then_begins(
    context: BrowserContext, book: Mapping[str, Given], tmp_path: Path
) -> None:
    page = opened(context, tmp_path, book["adding"])
    first = lacking(page)
    assert "Choose how much." in first
    assert "Not seen yet: 2. Go and look." in first
    assert begin(page).is_disabled()
    filled(page)
    assert lacking(page) == []
    press(begin(page))
    page.wait_for_function("window.begun === true")
    (event,) = events(page)
    own = ("kind", "who", "role", "lot", "product", "inputs", "people", "confirmed")
    assert {key: event[key] for key in own} == {
        "kind": "start",
        "who": "AB",
        "role": "line-operator",
        "lot": "L-7",
        "product": "lemonade",
        "inputs": {"adding": {"batch": "60 L"}},
        "people": [{"who": "AB", "role": "line-operator"}, {"who": "CD", "role": "second-person"}],
        "confirmed": ["ready", "goggles"],
    }


@pytest.mark.requirement(number=5)
def test_second_person_who_is_missing_refuses_the_start(
    context: BrowserContext, book: Mapping[str, Given], tmp_path: Path
) -> None:
    page = opened(context, tmp_path, book["adding"])
    keys(page, "L-7")
    press(page.locator("[data-size='60']"))
    all_seen(page)
    person(page, "AB", "line-operator")
    words = page.evaluate("tankside.words['refused-second-person-missing']")
    assert lacking(page) == [words]
    assert begin(page).is_disabled()
    person(page, "CD", "second-person")
    assert lacking(page) == []


def test_same_initials_twice_are_refused_where_they_are_typed(
    context: BrowserContext, book: Mapping[str, Given], tmp_path: Path
) -> None:
    page = opened(context, tmp_path, book["adding"])
    person(page, "AB", "line-operator")
    keys(page, "AB", within=".work-new-person")
    press(page.locator(".work-new-person [data-tile=lead]"))
    expect(page.locator("[data-enter=person]")).to_have_text("AB is here already. Take other letters.")
    assert page.locator("[data-enter=person]").is_disabled()


def test_roles_are_those_of_the_book_but_for_anyone(
    context: BrowserContext, book: Mapping[str, Given], tmp_path: Path
) -> None:
    page = opened(context, tmp_path, book["adding"])
    tiles = page.locator(".work-new-person [data-tile]").all()
    assert [each.get_attribute("data-tile") for each in tiles] == ["lead", "line-operator", "second-person"]


def test_who_does_the_work_is_chosen_and_can_be_taken_out_again(
    context: BrowserContext, book: Mapping[str, Given], tmp_path: Path
) -> None:
    page = opened(context, tmp_path, book["adding"])
    filled(page)
    press(page.locator("[data-doer=CD]"))
    press(page.locator("[data-remove=AB]"))
    person(page, "EF", "lead")
    press(begin(page))
    page.wait_for_function("window.begun === true")
    assert (events(page)[0]["who"], events(page)[0]["role"]) == ("CD", "second-person")
    assert [each["who"] for each in events(page)[0]["people"]] == ["CD", "EF"]


@pytest.mark.parametrize(("size", "is_fine"), [("39.9", False), ("40", True), ("80", True), ("80.1", False)])
def test_ends_of_the_range_belong_to_it_and_nothing_outside(
    size: str, is_fine: bool, context: BrowserContext, book: Mapping[str, Given], tmp_path: Path
) -> None:
    page = opened(context, tmp_path, book["adding"])
    press(page.locator("[data-fold$=other] summary"))
    keys(page, size, within=".work-input")
    words = f"{size} L is not from 40 L to 80 L. Choose a size in between."
    assert (words in lacking(page)) is not is_fine
    assert page.locator(".work-input .work-missing").count() == (0 if is_fine else 1)
    proposed = "tankside.copyRefusal.refusal(view.copy, { ...tankside.workStart.proposal(view), kind: 'start' })"
    page.evaluate(
        """() => {
      const drafts = tankside.workTyping.drafts(view);
      drafts.set('start-people', [{ who: 'AB', role: 'lead' }, { who: 'CD', role: 'lead' }]);
      drafts.set('start-lot', 'L-7');
    }"""
    )
    assert page.evaluate(proposed) == ("" if is_fine else "input-outside")


def test_amounts_that_follow_are_shown_at_once(browser: Browser, tmp_path: Path) -> None:
    about = given(Folder(ROOT))["blend-milk-line-cleaner"]
    with context_of(browser) as context:
        page = opened(context, tmp_path, about)
        press(page.locator("[data-size='150']"))
        amounts = page.locator("[data-amounts]")
        # 150 L * 1.06 kg/L * 0.10, and the same / 0.45359
        expect(amounts).to_contain_text("15.9 kg (about 35.1 lb)")
        press(page.locator("[data-fold$=other] summary"))
        page.locator("[data-typed*=input]").fill("137.5")
        # 145.75 kg * 0.15 = 21.8625, to 0.05; / 0.45359
        expect(amounts).to_contain_text("21.85 kg (about 48.2 lb)")
        assert page.locator("[data-size][aria-pressed=true]").count() == 0


def test_bottles_are_chosen_where_labels_are_changed_to(
    context: BrowserContext, book: Mapping[str, Given], tmp_path: Path
) -> None:
    page = opened(context, tmp_path, book["labelling"])
    keys(page, "L-7")
    person(page, "AB", "line-operator")
    assert lacking(page) == [page.evaluate("tankside.words['refused-bottle-missing']")]
    press(page.locator("[data-tile='5 L']"))
    press(begin(page))
    page.wait_for_function("window.begun === true")
    assert events(page)[0]["bottle"] == "5 L"


def test_people_and_lots_of_the_last_time_are_offered(
    context: BrowserContext, book: Mapping[str, Given], tmp_path: Path
) -> None:
    page = opened(context, tmp_path, book["adding"])
    filled(page)
    press(begin(page))
    page.wait_for_function("window.begun === true")
    page.wait_for_function("store.note('people').then(Boolean)")
    page.close()
    page = opened(context, tmp_path, book["labelling"])
    press(page.locator("[data-known=CD]"))
    assert page.locator("[data-person]").all_inner_texts()[0].startswith("CD Second person")
    press(page.locator("[data-lot='L-7']"))
    expect(page.locator("[data-typed=start-lot]")).to_have_value("L-7")


def test_what_an_earlier_part_brings_about_is_not_asked_for(browser: Browser, tmp_path: Path) -> None:
    about = given(Folder(ROOT))["make-cleaner"]
    with context_of(browser) as context:
        page = opened(context, tmp_path, about)
        seen = [each.get_attribute("data-seen") for each in page.locator("[data-seen]").all()]
        assert "exhaust-proved" in seen
        assert len(seen) == len(set(seen))
        # the first part of the checklist, clean-mixing-tank, cleans the tank
        assert "tank-clean" not in seen
        expect(page.get_by_text("The CLEAN tag hangs on V3.")).to_be_visible()


def test_draft_cannot_be_begun(context: BrowserContext, book: Mapping[str, Given], tmp_path: Path) -> None:
    page = opened(context, tmp_path, book["adding"], draft=True)
    expect(page.get_by_role("alert")).to_contain_text("DRAFT, NOT FOR USE")
    assert page.locator("[data-begin], [data-key]").count() == 0


@pytest.mark.requirement(number=11)
def test_where_nothing_can_be_kept_nothing_is_begun(
    context: BrowserContext, book: Mapping[str, Given], tmp_path: Path
) -> None:
    page = opened(context, tmp_path, book["adding"], is_kept=False)
    expect(page.get_by_role("alert")).to_contain_text("Nothing can be kept on this device now")
    expect(page.get_by_role("alert")).to_contain_text("ask the lead for a record sheet on paper.")
    assert begin(page).count() == 0


def test_store_that_fails_later_keeps_what_was_filled_in(
    context: BrowserContext, book: Mapping[str, Given], tmp_path: Path
) -> None:
    page = opened(context, tmp_path, book["adding"])
    filled(page)
    page.evaluate("void (store.begin = () => Promise.reject(new tankside.copyStore.NotKept('store-full')))")
    press(begin(page))
    page.wait_for_function("view.said !== ''")
    page.evaluate("paintAnew()")
    expect(page.locator("[data-typed=start-lot]")).to_have_value("L-7")
    assert page.locator("[data-person]").count() == 2
    assert page.evaluate("view.copy.events.length") == 0


def test_work_that_uses_the_same_equipment_refuses_the_start(
    context: BrowserContext, book: Mapping[str, Given], tmp_path: Path
) -> None:
    other = Straight(book["adding"].portable).start(lot="L-6").before("add-water")
    page = opened(context, tmp_path, book["adding"], others=[(book["adding"], other.events)])
    stop = page.get_by_role("alert")
    expect(stop).to_contain_text("Do not begin.")
    # MORNING is 8:00; start and one mark of 240 min
    expect(stop).to_contain_text("So recorded 2026-12-01 12:01, in A tiny procedure, L-6.")
    expect(stop).to_contain_text("V1")
    expect(stop).to_contain_text("Finish that one first")
    assert begin(page).count() == 0
    page.evaluate(
        """async () => {
      const record = await store.record(Object.values(await store.copies())[0].copy);
      const last = record.events[record.events.length - 1];
      const { seq, hash, previous, visit, answer, step, ...common } = last;
      const own = { ...common, kind: 'abandon', reason: 'ill' };
      await store.take(last.copy, 'here');
      await store.append(tankside.chain.chained(own, last), 'here');
    }"""
    )
    press(page.locator("[data-look-again]"))
    begin(page).wait_for()


def test_chosen_things_outlive_a_new_painting(
    context: BrowserContext, book: Mapping[str, Given], tmp_path: Path
) -> None:
    page = opened(context, tmp_path, book["adding"])
    filled(page)
    page.evaluate("paintAnew()")
    assert lacking(page) == []
    assert json.loads(page.evaluate("JSON.stringify(tankside.workStart.proposal(view).inputs)")) == {
        "adding": {"batch": "60 L"}
    }

"""Before the start of a working copy: who is not competent any more, why, and who can stand in. Nobody is kept back."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Locator, Page, expect
from trained_pages import attest, begin, lesson, on_day, opened, signed, trained, wait
from work_page import BOOK, press, walked

COPY = "two-sides"
TITLE = "The three sides, and what must never meet"
#: change what was taught: of the element with a key, some digest; the page is then another edition than that
CHANGED = """async ([book, key, digest]) => {
  const store = await tankside.copyStore.open(book);
  const [kept] = await store.read('taughts', (place) => place.getAll());
  kept.taught.content = '0'.repeat(64);
  kept.taught.elements.find((each) => each.key === key)[digest] = '0'.repeat(16);
  await store.write(['taughts'], ({ taughts }) => { taughts.put(kept); });
  store.close();
}"""


@pytest.fixture
def page(browser: Browser, own: str) -> Iterator[Page]:
    """A page on which TA was seen to do it alone on 2026-12-01, so 180 days later is 2027-05-30."""
    with trained(browser, own) as opened_page:
        competent(opened_page, own, "TA")
        yield opened_page


def competent(page: Page, own: str, who: str) -> None:
    """Begin for somebody, and sign that they can do it alone."""
    competence = begin(page, own, who, "workshop-lead")
    lesson(page, own, COPY, competence)
    signed(page, "alone", "competent")


def starting(page: Page, own: str, day: str, *people: tuple[str, str], name: str = COPY) -> Locator:
    """Come to a start on a day, with those who work named; return what is said of their training."""
    on_day(page, day)
    page.goto(f"{own}/copies/index.html")
    page.goto(f"{own}/copies/{name}.html")
    wait(page, "[data-begin]")
    for who, role in people or (("TA", "new-hire"), ("EF", "workshop-lead")):
        page.locator(".work-new-person [data-typed]").fill(who)
        press(page, f".work-new-person [data-tile={role}]")
        press(page, "[data-enter=person]")
    return page.locator("[data-trained]")


def test_nothing_is_said_of_who_is_competent(page: Page, own: str) -> None:
    expect(starting(page, own, "2027-05-29")).to_have_count(0)
    expect(page.locator("[data-untrained]")).to_have_text("No training is kept here for EF.")


def test_nothing_is_said_where_nobody_is_trained(browser: Browser, own: str) -> None:
    with trained(browser, own) as page:
        expect(starting(page, own, "2027-05-29")).to_have_count(0)
        expect(page.locator("[data-untrained]")).to_have_count(0)


@pytest.mark.requirement(number=24)
def test_what_lapsed_by_not_being_done_is_said_before_the_start_and_never_after(page: Page, own: str) -> None:
    competent(page, own, "TB")
    lesson(page, own, COPY, page.url.partition("#")[2])
    opened(page, "drill")
    on_day(page, "2027-05-20")
    attest(page, "drill")
    said = starting(page, own, "2027-05-30")
    expect(said).to_contain_text(
        f"TA, {TITLE}: Seen on 2026-12-01. That has lapsed. Not done for so long that it lapsed on 2027-05-30."
    )
    expect(said).to_contain_text("Competent in it on this device: TB.")
    # Somebody decides, and goes on.
    for each in page.locator("[data-start] [data-seen]").all():
        page.wait_for_timeout(450)
        each.click()
    press(page, "[data-start] [data-begin]")
    page.locator('[data-now][data-step="point-red"]').wait_for()
    expect(page.locator("[data-trained], [data-untrained]")).to_have_count(0)
    assert "lapsed" not in page.locator("body").inner_text()


@pytest.mark.requirement(number=24)
def test_drill_keeps_it_until_the_year_is_over(page: Page, own: str) -> None:
    on_day(page, "2027-05-20")
    opened(page, "drill")
    attest(page, "drill")
    # 2027-05-20 and 180 days: 2027-11-16 (11 + 30 + 31 + 31 + 30 + 31 + 16)
    expect(starting(page, own, "2027-11-15")).to_have_count(0)
    said = starting(page, own, "2027-11-16")
    expect(said).to_contain_text("Not done for so long that it lapsed on 2027-11-16.")
    expect(said).to_contain_text("On this device nobody else is competent in all of it.")
    said = starting(page, own, "2027-12-01")
    expect(said).to_contain_text("It was to be looked at again by 2027-12-01.")


@pytest.mark.requirement(number=24)
def test_work_itself_keeps_it(page: Page, own: str) -> None:
    on_day(page, "2027-05-20")
    walked(page, own, COPY, "end", (("TA", "new-hire"), ("EF", "workshop-lead")))
    expect(starting(page, own, "2027-11-15")).to_have_count(0)
    expect(starting(page, own, "2027-11-16")).to_contain_text("Not done for so long that it lapsed on 2027-11-16.")


@pytest.mark.requirement(number=24)
@pytest.mark.parametrize("digest", ["facts", "words"])
def test_changed_critical_step_is_seen_again_before(page: Page, own: str, digest: str) -> None:
    page.evaluate(CHANGED, [BOOK, "stop", digest])
    said = starting(page, own, "2026-12-02")
    expect(said).to_contain_text(
        "The procedure has changed since. Do it once more with somebody watching. Changes that matter: 1."
    )


@pytest.mark.requirement(number=24)
def test_change_that_only_has_to_be_shown_is_said(page: Page, own: str) -> None:
    page.evaluate(CHANGED, [BOOK, "scope", "words"])
    said = starting(page, own, "2026-12-02")
    expect(said).to_contain_text("Be shown what is new. Changes: 1.")


@pytest.mark.requirement(number=24)
def test_who_was_never_watched_is_told_so_for_each_procedure_of_a_checklist(page: Page, own: str) -> None:
    said = starting(page, own, "2026-12-02", ("TA", "line-operator"), name="open-the-workshop")
    words: list[str] = said.locator("li").all_inner_texts()
    assert words
    assert all("nobody has watched and signed that TA can do it alone." in each for each in words)


def test_page_holds_digests_and_no_words_of_what_is_taught(page: Page, own: str) -> None:
    page.goto(f"{own}/copies/bleed-cleaner-line.html")
    data: dict[str, Any] = page.evaluate(
        "() => JSON.parse(document.querySelector('[data-work-data]').textContent).trained"
    )
    assert list(data) == ["bleed-cleaner-line"]
    elements = data["bleed-cleaner-line"]["taught"]["elements"]
    assert {tuple(sorted(each)) for each in elements} == {("critical", "facts", "key", "words")}
    assert data["bleed-cleaner-line"]["rules"] == {"after": 365, "unused_for": 180}

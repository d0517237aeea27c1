"""What may befall a device while a working copy is open on its page ends in a plain sentence, and no entry is lost.

Elsewhere: a write that is taken back, a chain that was changed, no storage at all (`test_work_page_kept`); files that
are cut off, doubled, of another book or brought twice (`test_copy_files`); the list of copies (`test_work_list`).
"""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from copies_in_browser import FULL
from playwright.sync_api import Browser, Page, expect
from test_copy_files import chained
from test_work_list import FAULTS
from test_work_page_kept import blocked
from watched_page import WATCH
from work_page import BOOK, at_work, kept, last, listened_to, looked_at, now, press, row

SMALL = "two-sides"
MORNING = datetime(2026, 12, 1, 8, 0, tzinfo=UTC)
#: fault of the browser, before any script of the page -> the words about it
OPENING = {
    "no database": (FAULTS["none"][0], "work-store-none"),
    "opening throws": (FAULTS["open throws"][0], "work-store-none"),
    "opening fails": (FAULTS["open fails"][0], "work-store-closed"),
    "opening finds no room": (FAULTS["open without room"][0], "work-store-full"),
    "opening is blocked": (FAULTS["another tab"][0], "work-store-blocked"),
    "writing throws": (FAULTS["writes fail"][0], "work-store-failed"),
    "no room for any write": (f"({FULL})(true)", "work-store-full"),
}


def words(page: Page, key: str) -> str:
    """Return what the interface says under a key."""
    found: str = page.evaluate("(key) => tankside.words[key]", key)
    return found


@contextmanager
def copy_begun(browser: Browser, site: Path) -> Iterator[tuple[Page, str, list[str]]]:
    """Have a copy at work on a page of a fresh browser, and nothing complained of at the end."""
    with looked_at(browser, site.as_uri()) as (page, complaints):
        yield page, at_work(page, site.as_uri(), SMALL), complaints
        assert complaints == []


def with_fault(page: Page, script: str, copy: str, complaints: list[str]) -> Page:
    """Open a copy in another tab, in which the browser has a fault; the first tab has been left."""
    address = page.url.split("/copies/")[0]
    page.goto(f"{address}/copies/index.html")
    other = listened_to(page.context, address, complaints)
    other.add_init_script(script)
    other.goto(f"{address}/copies/{SMALL}.html#{copy}")
    return other


@pytest.mark.parametrize("fault", OPENING)
def test_fault_on_opening_a_copy_is_said_and_costs_no_entry(browser: Browser, site: Path, fault: str) -> None:
    script, key = OPENING[fault]
    with copy_begun(browser, site) as (page, copy, complaints):
        before = kept(page, copy)
        other = with_fault(page, script, copy, complaints)
        said = other.locator("[data-kept=no]")
        expect(said).to_contain_text(f"{words(other, 'work-not-saved')} {words(other, key)}")
        assert blocked(other)
        assert other.locator("[data-start] .work-begin").count() == 0
        expect(other.locator(".emergency")).to_be_in_viewport(ratio=1)
        assert kept(page, copy)[: len(before)] == before
        other.close()
        page.goto(f"{site.as_uri()}/copies/{SMALL}.html#{copy}")
        press(page, "[data-sure=yes]")
        press(page, "[data-now] [data-press]")
        expect(row(page, "point-red")).to_have_attribute("data-state", "complete")


def test_copy_that_cannot_be_read_is_not_said_to_be_gone(browser: Browser, site: Path) -> None:
    with copy_begun(browser, site) as (page, copy, complaints):
        other = with_fault(page, FAULTS["reads fail"][0], copy, complaints)
        expect(other.locator("[data-foot-said]")).to_contain_text(words(other, "work-store-unread"))
        assert blocked(other)
        # What a browser throws in the midst of reading stands in its console, too.
        assert complaints == ["no"]
        complaints.clear()


def test_browser_that_never_answers_is_given_up_on_the_page(browser: Browser, site: Path) -> None:
    with looked_at(browser, site.as_uri()) as (page, complaints):
        page.clock.install()
        page.add_init_script("IDBFactory.prototype.open = () => ({})")
        page.goto(f"{site.as_uri()}/copies/{SMALL}.html")
        page.clock.fast_forward(8000)
        expect(page.locator("[data-kept=no]")).to_contain_text(words(page, "work-store-silent"))
        assert complaints == []


def test_mark_for_which_there_is_no_room_is_not_shown_and_comes_when_there_is(browser: Browser, site: Path) -> None:
    with copy_begun(browser, site) as (page, copy, _):
        before = kept(page, copy)
        page.evaluate(FULL, True)
        press(page, "[data-now] [data-press]")
        expect(page.locator("[data-kept=no]")).to_contain_text(words(page, "work-store-full"))
        expect(row(page, "point-red")).to_have_attribute("data-state", "not started")
        assert blocked(page)
        press(page, "[data-try-again]")
        expect(page.locator("[data-foot-said]")).to_contain_text(words(page, "work-store-full"))
        page.evaluate(FULL, False)
        press(page, "[data-try-again]")
        press(page, "[data-now] [data-press]")
        expect(row(page, "point-red")).to_have_attribute("data-state", "complete")
        assert [each["kind"] for each in kept(page, copy)[len(before) :]] == ["mark"]


def test_page_works_where_local_storage_throws(browser: Browser, site: Path) -> None:
    with looked_at(browser, site.as_uri()) as (page, complaints):
        page.add_init_script(
            "Object.defineProperty(window, 'localStorage', {get() { throw new DOMException('no', 'SecurityError'); }})"
        )
        copy = at_work(page, site.as_uri(), SMALL)
        press(page, "[data-now] [data-press]")
        expect(row(page, "point-red")).to_have_attribute("data-state", "complete")
        page.reload()
        expect(row(page, "point-red")).to_have_attribute("data-state", "complete")
        press(page, "[data-sure=yes]")
        last(page, copy, "resume")
        expect(page.locator("[data-kept=yes]")).to_be_visible()
        assert complaints == []


@pytest.mark.parametrize("is_reloaded", [False, True])
def test_clock_that_is_set_back_an_hour_is_said_and_the_work_goes_on(
    browser: Browser, site: Path, is_reloaded: bool
) -> None:
    with looked_at(browser, site.as_uri()) as (page, complaints):
        page.clock.install(time=MORNING)
        copy = at_work(page, site.as_uri(), SMALL)
        press(page, "[data-now] [data-press]")
        last(page, copy, "mark")
        before = kept(page, copy)
        page.clock.set_system_time(MORNING - timedelta(hours=1))
        if not is_reloaded:
            press(page, "[data-now] [data-press]")
            expect(row(page, "read-red-labels")).to_have_attribute("data-state", "complete")
            first, second = (datetime.fromisoformat(each["at"]) for each in kept(page, copy)[-2:])
            assert second < first
        page.reload()
        expect(page.locator("[data-clock-back]")).to_contain_text("The clock of this device went back: ")
        expect(page.locator("[data-clock-back]")).to_contain_text("Set the clock right.")
        press(page, "[data-sure=yes]")
        step = now(page)
        press(page, "[data-now] [data-press]")
        expect(row(page, step)).to_have_attribute("data-state", "complete")
        events = kept(page, copy)
        assert events[: len(before)] == before
        assert events == chained(events)
        assert complaints == []


#: Keep a copy of another book in the store of that book, and in the store of ours.
FOREIGN = """async ([book, copy]) => {
  const store = await tankside.copyStore.open(book);
  const all = await tankside.copyStore.open('another-book');
  const { head, edition, shown, events } = await store.record(copy);
  const other = 'f'.repeat(16);
  const own = { ...shown, id: 'no-such-page', title: 'Of another book' };
  const hash = tankside.chain.sha256(tankside.chain.canonical(own));
  const first = tankside.chain.chained({ ...events[0], copy: other, shown: hash }, null);
  const foreign = { hash, edition: { ...edition, book: 'another-book' }, shown: own };
  for (const each of [store, all]) await each.begin(first, foreign, '');
  for (const each of [store, all]) await each.release(other);
  all.close();
  store.close();
  return other;
}"""


def test_copies_of_another_book_beside_or_among_ours_harm_nothing(browser: Browser, site: Path) -> None:
    with copy_begun(browser, site) as (page, copy, _):
        before = kept(page, copy)
        other = page.evaluate(FOREIGN, [BOOK, copy])
        page.goto(f"{site.as_uri()}/copies/index.html")
        listed = page.locator("[data-list-open] .copy")
        expect(listed).to_have_count(2)
        # The one among ours can be read and saved, and leads to no page that there is not.
        expect(page.locator(f"[data-copy='{other}']")).to_contain_text(words(page, "work-list-no-page"))
        assert kept(page, copy) == before
        page.goto(f"{site.as_uri()}/copies/copy.record.html#{other}")
        expect(page.locator("h1")).to_contain_text("Of another book")


#: Put so many notes behind a copy at once, as if they had been written one by one.
MANY = """async ([book, copy, count]) => {
  const store = await tankside.copyStore.open(book);
  const { head, events } = await store.record(copy);
  const made = [events[events.length - 1]];
  while (made.length <= count) {
    const before = made[made.length - 1];
    const { hash, seq, previous, ...own } = { ...before, kind: 'note', step: '', text: `Note ${made.length}.` };
    delete own.sure;
    made.push(tankside.chain.chained(own, before));
  }
  const added = made.slice(1);
  const last = added.reduce((one, event) => tankside.copyHead.headAfter(one, event), head);
  await store.write(['events', 'copies'], ({ events: all, copies }) => {
    added.forEach((event) => all.add(event));
    copies.put(last);
  });
}"""


def test_copy_of_ten_thousand_entries_opens_and_goes_on(browser: Browser, site: Path) -> None:
    with copy_begun(browser, site) as (page, copy, _):
        press(page, "[data-now] [data-press]")
        last(page, copy, "mark")
        had = len(kept(page, copy))
        page.evaluate(MANY, [BOOK, copy, 10_000 - had])
        assert len(kept(page, copy)) == 10_000
        page.goto(f"{site.as_uri()}/copies/index.html")
        page.goto(f"{site.as_uri()}/copies/{SMALL}.html#{copy}")
        press(page, "[data-sure=yes]")
        expect(row(page, "point-red")).to_have_attribute("data-state", "complete")
        press(page, "[data-now] [data-press]")
        expect(row(page, "read-red-labels")).to_have_attribute("data-state", "complete")
        events = kept(page, copy)
        # Ten thousand, then a pause on opening, the answer, and the mark.
        assert [each["kind"] for each in events[9_999:]] == ["note", "pause", "resume", "mark"]
        assert events == chained(events)


#: At one moment on both tabs, take the work, or not, and write something down; return what came of it.
RACE = """async ([at, text, isTaking]) => {
  const { work } = window.held;
  window.raced = new Promise((go) => { setTimeout(go, Math.max(0, at - Date.now() - 20)); }).then(async () => {
    while (Date.now() < at) { /* a timer is too coarse for the same moment */ }
    if (isTaking) await work.takeHere();
    return (await work.act('note', { who: 'AB', role: 'line-operator', text })).code;
  });
  return null;
}"""
#: which of the two tabs take the work before they write, turn by turn
TAKING = ((True, True), (False, False), (True, False), (False, False), (False, True), (True, True))
#: time until both tabs have been told [ms]
AHEAD = 80


def raced(tabs: tuple[Page, Page], turn: int) -> dict[str, str]:
    """Let both tabs write something down at one moment; return what came of each text, empty when it was kept."""
    at = tabs[0].evaluate("Date.now()") + AHEAD
    texts = [f"Turn {turn}, tab {number}." for number in range(2)]
    for tab, text, is_taking in zip(tabs, texts, TAKING[turn % len(TAKING)], strict=True):
        # What is set off in one tab does not wait for the other.
        tab.evaluate(f"(given) => {{ ({RACE})(given); }}", [at, text, is_taking])
    return {text: tab.evaluate("window.raced") for tab, text in zip(tabs, texts, strict=True)}


def test_tabs_that_race_for_the_work_write_each_entry_once_or_not_at_all(browser: Browser, site: Path) -> None:
    own = site.as_uri()
    with looked_at(browser, own) as (page, complaints):
        page.context.add_init_script(f"window.reportToTest = () => undefined; {WATCH}")
        copy = at_work(page, own, SMALL)
        other = listened_to(page.context, own, complaints)
        other.goto(page.url)
        other.locator("[data-take-here]").click()
        other.locator("[data-sure=yes]").wait_for()
        press(other, "[data-sure=yes]")
        last(page, copy, "resume")
        said: dict[str, str] = {}
        for turn in range(60):
            said |= raced((page, other), turn)
        events = kept(page, copy)
        assert events == chained(events)
        written = [each["text"] for each in events if each["kind"] == "note"]
        assert sorted(written) == sorted(text for text, code in said.items() if code == "")
        # In each turn one of them has the work; the other one is told why it has not.
        assert {code for code in said.values() if code != ""} == {"store-other-tab"}
        assert len(said) == 120
        assert len(written) >= 60
        loser = page if page.evaluate("window.held.hindrance") == "store-other-tab" else other
        expect(loser.locator("[data-rest]")).to_contain_text(words(loser, "work-store-other-tab"))
        assert blocked(loser)
        assert complaints == []

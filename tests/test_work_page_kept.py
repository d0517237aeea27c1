"""Coming back to a working copy on its page, and what the page says when it is not kept, not whole or not for use."""

from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect
from work_page import BOOK, PEOPLE, at_work, hold, kept, last, listened_to, looked_at, now, press, row, walked

MINUTE = 60_000


def blocked(page: Page) -> bool:
    """Return whether nothing can be pressed at the steps."""
    return bool(page.evaluate("[...document.querySelectorAll('[data-presses]')].every((each) => each.inert)"))


# Coming back.


@pytest.mark.requirement(number=8)
def test_after_a_reload_nothing_is_marked_before_it_was_looked(page: Page, own: str) -> None:
    copy = at_work(page, own, "blend-descaler", "open-d-v2")
    page.reload()
    rest = page.locator("[data-rest]")
    expect(rest.locator("h2")).to_have_text("Before you go on")
    expect(rest.locator("[data-resume-copy]")).to_contain_text("Blend a batch of acid descaler, lot L-7")
    # The step before "open-d-v2" sets the counter to zero.
    expect(rest.locator("[data-resume-last]")).to_contain_text("Step 10: Set the counter of D-meter to zero. AB, ")
    expect(rest.locator("[data-resume-next]")).to_contain_text("Step 11: Open D-V2")
    expect(rest.locator("[data-question]")).to_have_text("Go and look. Is step 10 really done?")
    assert blocked(page)
    assert last(page, copy, "pause")["reason"] == "the page was opened again"
    press(page, "[data-sure=yes]")
    rest.locator("h2").wait_for(state="detached")
    assert not blocked(page)
    assert last(page, copy, "resume")["sure"] == "yes"


@pytest.mark.requirement(number=8)
def test_last_value_is_said_on_coming_back(page: Page, own: str) -> None:
    walked(page, own, "blend-descaler", "shut-d-v2")
    expect(page.locator("[data-resume-last]")).to_contain_text("34.8 L")


@pytest.mark.requirement(number=8)
def test_step_that_is_not_done_after_all_is_open_again(page: Page, own: str) -> None:
    copy = at_work(page, own, "two-sides", "read-red-labels")
    page.reload()
    press(page, "[data-sure=no]")
    page.locator("[data-rest] h2").wait_for(state="detached")
    assert [event["kind"] for event in kept(page, copy)[-3:]] == ["pause", "unmark", "resume"]
    assert last(page, copy, "resume")["sure"] == "no"
    assert now(page) == "point-red"
    expect(row(page, "point-red").locator("s")).to_have_count(1)


@pytest.mark.requirement(number=8)
def test_mark_that_cannot_be_taken_back_says_what_to_do(page: Page, own: str) -> None:
    # A decision leads on: what was chosen cannot be unchosen.
    copy = at_work(page, own, "hold-a-lot", "decision")
    press(page, "[data-now] [data-answer='It is waste']")
    expect(row(page, "decision")).to_have_attribute("data-state", "complete")
    page.reload()
    press(page, "[data-sure=no]")
    expect(page.locator("[data-rest]")).to_contain_text(
        "Do the step now as it is written, or stop safely and tell the lead."
    )
    assert blocked(page)
    press(page, "[data-sure=now]")
    page.locator("[data-rest] h2").wait_for(state="detached")
    event = last(page, copy, "resume")
    assert (event["sure"], event["reason"]) == ("no", "done on coming back")


@pytest.mark.requirement(number=8)
def test_return_from_another_tab_asks_too(page: Page, own: str) -> None:
    copy = at_work(page, own, "two-sides", "read-red-labels")
    page.evaluate(
        """() => {
          Object.defineProperty(document, 'visibilityState', { value: 'hidden', configurable: true });
          document.dispatchEvent(new Event('visibilitychange'));
        }"""
    )
    page.locator("[data-question]").wait_for()
    assert last(page, copy, "pause")["reason"] == "the page was out of sight"
    assert blocked(page)


@pytest.mark.requirement(number=8)
def test_gap_of_more_than_five_minutes_asks_too(page: Page, own: str) -> None:
    page.clock.install()
    copy = at_work(page, own, "two-sides", "read-red-labels")
    page.clock.fast_forward(4 * MINUTE)
    page.wait_for_timeout(700)
    last(page, copy, "resume")
    page.clock.fast_forward(2 * MINUTE)
    page.locator("[data-question]").wait_for()
    assert last(page, copy, "pause")["reason"] == "nothing was pressed for 5 minutes"


@pytest.mark.requirement(number=8)
def test_time_that_is_waited_is_no_gap(page: Page, own: str) -> None:
    # "air-clears" lasts 15 min: only what goes beyond them is one.
    page.clock.install()
    copy = at_work(page, own, "last-look", "air-clears")
    page.locator("[data-now] [data-begin]").press("Enter")
    page.locator("[data-timer]").wait_for()
    page.clock.fast_forward(14 * MINUTE)
    page.wait_for_timeout(700)
    last(page, copy, "begin")
    page.clock.fast_forward(7 * MINUTE)
    page.locator("[data-question]").wait_for()
    last(page, copy, "pause")


def test_clock_that_went_back_is_said_in_words(page: Page, own: str) -> None:
    walked(page, own, "two-sides", "read-red-labels", at="2099-05-06T07:08:09.000+00:00")
    # The marks behind the start have the time of this day, so the last of them is older than the first.
    page.evaluate(
        """async (book) => {
          const store = await tankside.copyStore.open(book);
          const [head] = await store.copies();
          const { edition, shown, events } = await store.record(head.copy);
          const work = new tankside.copyWork.Work(store, { edition, shown, build: 'b', device: 'd' });
          await work.read(head.copy);
          await work.takeHere();
          const at = '2099-05-06T08:09:10.000+00:00';
          const { code } = await work.act('note', { who: 'AB', role: 'line-operator', text: 'later', at });
          if (code) throw new Error(code);
          await store.letGo(head.copy);
        }""",
        BOOK,
    )
    page.reload()
    # Its own pause is the last event by now; what was before it went further ahead.
    page.locator("[data-question]").wait_for()
    expect(page.locator("[data-clock-back]")).to_contain_text(
        "The clock of this device went back: an entry says 2099-05-06"
    )


# Two tabs.


def test_second_tab_reads_and_takes_the_work_only_when_asked(browser: Browser, site: Path) -> None:
    own = site.as_uri()
    with looked_at(browser, own) as (page, complaints):
        copy = at_work(page, own, "two-sides")
        other = listened_to(page.context, own, complaints)
        other.goto(page.url)
        expect(other.locator("[data-rest] h2")).to_have_text("Is another tab at work on it?")
        assert blocked(other)
        # Longer than a tab may be silent: the first one lives, so the second one stays a reader.
        expect(other.locator("[data-rest] h2")).to_have_text("Another tab has this work", timeout=15_000)
        assert blocked(other)
        press(page, "[data-now] [data-press]")
        expect(row(other, "point-red")).to_have_attribute("data-state", "complete")
        press(other, "[data-take-here]")
        other.locator("[data-question]").wait_for()
        press(other, "[data-sure=yes]")
        press(other, "[data-now] [data-press]")
        expect(row(other, "read-red-labels")).to_have_attribute("data-state", "complete")
        expect(page.locator("[data-rest] h2")).to_have_text("Another tab has this work")
        assert [event["kind"] for event in kept(page, copy)[-4:]] == ["mark", "pause", "resume", "mark"]
        assert complaints == []


@pytest.mark.requirement(number=8)
def test_work_of_a_tab_that_was_killed_is_taken_without_asking(browser: Browser, site: Path) -> None:
    own = site.as_uri()
    with looked_at(browser, own) as (page, complaints):
        copy = at_work(page, own, "two-sides")
        address = page.url
        # A tab that is killed lets go of nothing: its name stays in the lease, and beats no more.
        page.evaluate(
            """async ([book, copy]) => {
              const store = await tankside.copyStore.open(book);
              await store.take(copy, 'killed');
            }""",
            [BOOK, copy],
        )
        page.close()
        again = listened_to(browser.contexts[-1], own, complaints)
        again.goto(address)
        again.locator("[data-sure]").first.wait_for(timeout=15_000)
        last(again, copy, "pause")
        assert complaints == []


# What is kept.


@pytest.mark.requirement(number=11)
def test_line_says_that_it_is_kept(page: Page, own: str) -> None:
    at_work(page, own, "two-sides")
    line = page.locator("[data-head-kept]")
    expect(line).to_contain_text("Kept on this device")
    expect(line).to_contain_text("In no file yet.")
    expect(line).to_contain_text("screen")


FAILING = """
window.isFailing = false;
const put = IDBObjectStore.prototype.put;
IDBObjectStore.prototype.put = function (...given) {
  const asked = put.apply(this, given);
  // Something that is there already cannot be added: the browser takes the whole transaction back.
  if (window.isFailing && this.name === 'copies') this.add(given[0]);
  return asked;
};
"""


@pytest.mark.requirement(number=10)
def test_mark_that_is_not_saved_is_not_shown_and_blocks(browser: Browser, site: Path) -> None:
    own = site.as_uri()
    with looked_at(browser, own) as (page, complaints):
        page.add_init_script(FAILING)
        copy = at_work(page, own, "two-sides")
        page.evaluate("window.isFailing = true")
        press(page, "[data-now] [data-press]")
        expect(page.locator("[data-kept=no]")).to_contain_text("NOT SAVED.")
        expect(page.locator("[data-kept=no]")).to_contain_text("The browser could not keep it.")
        expect(row(page, "point-red")).to_have_attribute("data-state", "not started")
        assert blocked(page)
        last(page, copy, "resume")
        page.evaluate("window.isFailing = false")
        press(page, "[data-try-again]")
        page.locator("[data-kept=yes]").wait_for()
        press(page, "[data-now] [data-press]")
        expect(row(page, "point-red")).to_have_attribute("data-state", "complete")
        last(page, copy, "mark")
        assert complaints == []


def without_storage(context: BrowserContext) -> None:
    context.add_init_script(
        "Object.defineProperty(window, 'indexedDB', { get() { throw new DOMException('no', 'SecurityError'); } });"
    )


@pytest.mark.requirement(number=11)
def test_without_storage_nothing_can_be_begun_and_it_is_said(browser: Browser, site: Path) -> None:
    own = site.as_uri()
    with looked_at(browser, own) as (page, complaints):
        without_storage(page.context)
        page.goto(f"{own}/copies/two-sides.html")
        expect(page.locator("[data-kept=no]")).to_contain_text("NOT SAVED. This browser keeps nothing for this page.")
        expect(page.locator("[data-start] [role=alert]")).to_contain_text("Do not begin here.")
        assert page.locator("[data-start] .work-begin").count() == 0
        expect(page.locator(".emergency")).to_be_in_viewport(ratio=1)
        expect(page.get_by_role("link", name="Read it only")).to_be_visible()
        assert complaints == []


def test_without_script_the_ways_out_and_the_safe_stop_are_there(browser: Browser, site: Path) -> None:
    with looked_at(browser, site.as_uri(), java_script_enabled=False) as (page, _):
        page.goto(f"{site.as_uri()}/copies/bleed-cleaner-line.html")
        expect(page.locator("[data-top]")).to_contain_text("P1 off, V2 and V3 shut, step back, call the second person.")
        expect(page.locator(".emergency")).to_be_visible()
        expect(page.get_by_role("link", name="Its sheet, to print")).to_be_visible()


def test_chain_that_does_not_hold_is_shown_as_far_as_it_does_and_not_built_upon(page: Page, own: str) -> None:
    copy = walked(page, own, "two-sides", "point-bad-things")
    page.evaluate(
        """async ([book, copy]) => {
          const store = await tankside.copyStore.open(book);
          await store.write(['events'], ({ events }) => {
            events.get([copy, 1]).onsuccess = ({ target }) => events.put({ ...target.result, who: 'ZZ' });
          });
        }""",
        [BOOK, copy],
    )
    page.reload()
    expect(page.locator("[data-kept=no]")).to_contain_text("The chain of this record does not hold")
    expect(page.locator("[data-banner]")).to_have_text(
        "What is shown goes up to entry 0. Behind it the chain does not hold."
    )
    expect(row(page, "point-red")).to_have_attribute("data-state", "not started")
    assert page.locator("[data-try-again]").count() == 0
    assert blocked(page)


#: Begin a copy of an edition that the site had earlier: with another revision and another word in its first step.
EARLIER = """async ([people]) => {
  const { edition, shown, around } = JSON.parse(document.querySelector('[data-work-data]').textContent);
  edition.written.revision = '0';
  shown.revision = '0';
  shown.parts[0].sections[0].entries[0].words = [{ text: 'As it was said earlier.' }];
  shown.hash = tankside.chain.sha256(tankside.chain.canonical(edition));
  const store = await tankside.copyStore.open(around.book);
  const work = new tankside.copyWork.Work(store, { edition, shown, build: 'b', device: 'd' });
  const { code } = await work.start({
    who: 'AB', role: 'line-operator', lot: '', product: '', bottle: '', inputs: {}, confirmed: [],
    people: people.map(([who, role]) => ({ who, role })),
  });
  if (code) throw new Error(code);
  work.letGo();
  return work.last.copy;
}"""


@pytest.mark.requirement(number=25)
def test_copy_keeps_the_edition_that_it_was_begun_with(page: Page, own: str) -> None:
    page.goto(f"{own}/copies/two-sides.html")
    copy = page.evaluate(EARLIER, [[list(each) for each in PEOPLE]])
    page.goto(f"{own}/copies/index.html")
    page.goto(f"{own}/copies/two-sides.html#{copy}")
    press(page, "[data-sure=yes]")
    expect(page.locator("[data-now]")).to_contain_text("As it was said earlier.")
    expect(page.locator("[data-banner]")).to_contain_text("This copy keeps revision 0, with which it was begun.")
    expect(page.locator("[data-head-about]")).to_contain_text("Revision 0")


def test_draft_is_not_begun(browser: Browser, site: Path) -> None:
    own = site.as_uri()
    with looked_at(browser, own) as (page, complaints):
        text = (site / "copies/two-sides.html").read_text(encoding="utf-8")
        assert text.count('"draft":false') == 1
        drafted = text.replace('"draft":false', '"draft":true')
        page.route("**/copies/two-sides.html", lambda route: route.fulfill(body=drafted, content_type="text/html"))
        page.goto(f"{own}/copies/two-sides.html")
        expect(page.locator("[data-start] [role=alert]")).to_contain_text("DRAFT, NOT FOR USE")
        assert page.locator("[data-start] button").count() == 0
        assert complaints == []


# The address.


def test_copies_that_are_open_here_are_offered_first(page: Page, own: str) -> None:
    copy = at_work(page, own, "two-sides")
    page.goto(f"{own}/copies/index.html")
    page.goto(f"{own}/copies/two-sides.html")
    press(page, f"[data-open-copy='{copy}']")
    page.locator("[data-sure=yes]").wait_for()
    assert page.url.endswith(f"#{copy}")


def test_copy_that_is_not_here_is_said(page: Page, own: str) -> None:
    page.goto(f"{own}/copies/two-sides.html#0123456789abcdef")
    expect(page.locator("[data-foot-said]")).to_contain_text("This working copy is not on this device.")
    page.locator("[data-start] *").first.wait_for()


def test_copy_of_another_procedure_is_opened_on_its_own_page(page: Page, own: str) -> None:
    copy = at_work(page, own, "two-sides")
    page.goto(f"{own}/copies/last-look.html#{copy}")
    page.locator("[data-sure=yes]").wait_for()
    assert page.url.endswith(f"/copies/two-sides.html#{copy}")


def test_ended_copy_is_read_and_can_no_longer_be_marked(page: Page, own: str) -> None:
    copy = at_work(page, own, "two-sides", "hold-the-new-hire")
    hold(page, "[data-now] [data-hold=EF]")
    hold(page, "[data-finish]")
    page.locator("[data-rest] [data-save]").wait_for()
    page.reload()
    expect(page.locator("[data-head-section]")).to_have_text("Finished. This is the record.")
    assert page.locator("[data-now], [data-press], [data-sure]").count() == 0
    last(page, copy, "finish")
    page.locator("[data-record]").click()
    page.wait_for_url("**/copies/copy.record.html#*")

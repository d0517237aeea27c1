"""What goes wrong beneath a working copy: answers that never come, presses that come twice, pages that come back."""

import json
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page, expect
from work_page import BOOK, HELD, PEOPLE, at_work, kept, last, listened_to, looked_at, press, walked

ROOT = Path(__file__).parent.parent
#: the keys that every event has
EVERY = [
    "seq",
    "copy",
    "previous",
    "hash",
    "edition",
    "kind",
    "who",
    "role",
    "at",
    "clock",
    "session",
    "device",
    "build",
]

TWICE = """async ([people]) => {
  const { edition, shown, around } = JSON.parse(document.querySelector('[data-work-data]').textContent);
  const store = await tankside.copyStore.open(around.book);
  const work = new tankside.copyWork.Work(store, { edition, shown, build: 'b', device: 'd' });
  const own = {
    who: 'AB', role: 'line-operator', lot: '', product: '', bottle: '', inputs: {}, confirmed: [],
    people: people.map(([who, role]) => ({ who, role })),
  };
  const both = await Promise.all([work.start(own), work.start(own)]);
  return [both.map(({ code }) => code), (await store.copies()).length, work.copy.events.length];
}"""


def test_two_touches_on_the_start_begin_one_copy(page: Page, own: str) -> None:
    page.goto(f"{own}/copies/two-sides.html")
    assert page.evaluate(TWICE, [[list(each) for each in PEOPLE]]) == [["", "busy"], 1, 1]


#: From now on the browser takes whatever it is asked, and never answers.
SILENT = """() => {
  const request = () => ({});
  const store = { put: request, add: request, get: request, getAll: request, delete: request };
  IDBDatabase.prototype.transaction = () => ({ objectStore: () => store, abort() {}, commit() {} });
}"""


def test_write_that_is_never_answered_is_said_to_be_not_saved(page: Page, own: str) -> None:
    page.clock.install()
    at_work(page, own, "two-sides")
    page.evaluate(SILENT)
    press(page, "[data-now] [data-press]")
    page.clock.fast_forward(8500)
    expect(page.locator("[data-kept=no]")).to_contain_text("NOT SAVED. The browser does not answer")


CLOSED = """() => {
  IDBDatabase.prototype.transaction = () => { throw new DOMException('closed', 'InvalidStateError'); };
}"""


def test_work_that_cannot_be_taken_here_says_why_and_can_be_tried_again(page: Page, own: str) -> None:
    copy = at_work(page, own, "two-sides")
    page.evaluate(
        "async ([book, copy]) => (await tankside.copyStore.open(book)).take(copy, 'another')",
        [BOOK, copy],
    )
    heading = page.locator("[data-rest] h2")
    expect(heading).to_have_text("Another tab has this work")
    page.evaluate(CLOSED)
    press(page, "[data-take-here]")
    expect(page.locator("[data-foot-said]")).to_contain_text("What the browser keeps was closed or cleared")
    expect(heading).to_have_text("Another tab has this work")
    expect(page.locator("[data-take-here]")).to_be_enabled()


UNREAD = """
const all = IDBObjectStore.prototype.getAll;
IDBObjectStore.prototype.getAll = function (...asked) {
  if (this.name === 'events') this.transaction.abort();
  return all.apply(this, asked);
};
"""


def test_copy_that_cannot_be_read_is_not_said_to_be_gone(page: Page, own: str) -> None:
    copy = walked(page, own, "two-sides")
    other = page.context.new_page()
    other.add_init_script(UNREAD)
    other.goto(f"{own}/copies/two-sides.html#{copy}")
    expect(other.locator("[data-foot-said]")).to_contain_text("The browser cannot read what it keeps.")


ELSEWHERE = """async ([book, copy]) => {
  const store = await tankside.copyStore.open(book);
  const work = new tankside.copyWork.Work(store, { ...await store.record(copy), build: 'b', device: 'd' });
  await work.read(copy);
  await work.takeHere();
  const { code } = await work.act('note', { who: 'AB', role: 'line-operator', text: 'From another tab.' });
  if (code) throw new Error(code);
  await store.letGo(copy);
}"""


def test_page_that_comes_back_as_it_was_reads_what_others_did(browser: Browser, site: Path) -> None:
    own = site.as_uri()
    with looked_at(browser, own) as (page, complaints):
        copy = at_work(page, own, "two-sides")
        page.evaluate("window.dispatchEvent(new PageTransitionEvent('pagehide', { persisted: true }))")
        other = listened_to(page.context, own, complaints)
        other.goto(f"{own}/copies/index.html")
        other.evaluate(ELSEWHERE, [BOOK, copy])
        page.evaluate("window.dispatchEvent(new PageTransitionEvent('pageshow', { persisted: true }))")
        page.locator("[data-question], [data-sure=yes]").first.wait_for()
        assert [event["kind"] for event in kept(page, copy)[-2:]] == ["note", "pause"]
        expect(page.locator("[data-rest] h2")).to_have_text("Before you go on")
        assert complaints == []


HELD_DOWN = """async (isTaken) => {
  let count = 0;
  const made = tankside.dom.holdButton('Hold', () => { count += 1; });
  document.body.append(made);
  made.dispatchEvent(new PointerEvent('pointerdown', { button: 0, bubbles: true }));
  if (isTaken) made.remove();
  await new Promise((done) => { setTimeout(done, %d); });
  return count;
}"""


def test_press_that_is_painted_anew_under_the_finger_is_held_no_more(page: Page, own: str) -> None:
    page.goto(f"{own}/copies/two-sides.html")
    assert [page.evaluate(HELD_DOWN % HELD, taken) for taken in (True, False)] == [0, 1]


def test_many_tabs_that_try_the_store_at_once_all_find_it_sound(page: Page, own: str) -> None:
    page.goto(f"{own}/copies/two-sides.html")
    found = page.evaluate(
        """async (book) => {
          const { open } = tankside.copyStore;
          const { selfTest } = tankside.copyDevice;
          const stores = await Promise.all([1, 2, 3, 4, 5].map(() => open(book)));
          const codes = await Promise.all(stores.map((store) => selfTest(store)));
          return [...new Set(codes)];
        }""",
        BOOK,
    )
    assert found == ["store-kept"]
    # The page tries its own store at the same time: what it wrote for that is gone a moment later.
    page.wait_for_function(
        """async (book) => {
          const store = await tankside.copyStore.open(book);
          const notes = await store.read('notes', (notes) => notes.getAllKeys());
          return notes.every((name) => !name.startsWith('probe'));
        }""",
        arg=BOOK,
    )


def test_instrument_is_asked_for_again_after_midnight(page: Page, own: str) -> None:
    page.clock.install(time="2026-12-01T23:57:00")
    copy = at_work(page, own, "bleed-cleaner-line", "last-conductivity")
    press(page, "[data-now] [data-checked]")
    page.locator("[data-now] [data-typed]").first.wait_for()
    last(page, copy, "checked")
    page.clock.fast_forward(4 * 60_000)
    press(page, "[data-who] [data-tile=CD]")
    page.locator("[data-now] [data-checked]").wait_for()


def test_events_of_files_need_what_the_schema_says(page: Page, own: str) -> None:
    schema: dict[str, Any] = json.loads(
        (ROOT / "tools/tankside/schema/record.schema.json").read_text(encoding="utf-8")
    )["$defs"]
    kinds = schema["event"]["dependentSchemas"]["kind"]["properties"]["kind"]["enum"]
    needed = {kind: [key for key in schema[kind]["required"] if key not in EVERY] for kind in kinds}
    page.goto(f"{own}/copies/index.html")
    common, theirs = page.evaluate("[tankside.copyShape.COMMON, tankside.copyShape.NEEDED]")
    assert common == EVERY
    assert {kind: sorted(theirs.get(kind, [])) for kind in kinds} == {kind: sorted(needed[kind]) for kind in kinds}

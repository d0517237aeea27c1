"""The forms of a working copy's page, each alone in Chromium, with their scripts and nothing of the page around them.

A form is made anew after each event and kept in between, as on the real page. What is done there is read back from the
store of the browser.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, BrowserContext, Locator, Page

from tankside.catalogue import load
from tankside.compute.amounts import WorkedBook
from tankside.edition import Audience, Edition, checklist_edition, procedure_edition
from tankside.model.facts import Plant
from tankside.model.procedures import Procedure
from tankside.render_site.scripts import (
    BOARD,
    COPY,
    EVALUATOR,
    FORMS,
    PLANT,
    TOLD,
    UNIT_TABLE,
    WORDS,
    unit_table_script,
    words_script,
)
from tankside.texts import words
from tankside.views.procedures import checklist_view, procedure_view
from tankside.views.work import script_words, shown, surroundings

ASSETS = Path(__file__).parent.parent / "tools" / "tankside" / "assets"
STYLES = ("pieces.css", "work.css", "work-forms.css")
#: the day on which everything here is done, as the demonstration book is built
NOW = datetime(2026, 12, 1, 10, 0, tzinfo=UTC)
#: longer than a touch that is taken for a slip lasts [ms]
PAST_A_SLIP = 450
#: longer than a press must be held [ms]
HELD = 1000

#: a plant of which nobody has recorded anything
NO_BOARD: dict[str, Any] = {"rest": {"pieces": {}, "worn": []}, "locks": {}}
HARNESS = """
'use strict';
(async () => {
  const given = JSON.parse(document.querySelector('[data-given]').textContent);
  const { edition, shown, around, draft, emergencies, record, isKept } = given;
  const store = isKept ? await tankside.copyStore.open(around.book) : null;
  const work = new tankside.copyWork.Work(store, { edition, shown, build: 'b1', device: 'd1' });
  const view = new tankside.workView.View(work, { around, emergencies, draft });
  const place = document.querySelector('main');
  const said = document.querySelector('[data-said-last]');
  let painted = '';
  let form = null;
  const paint = () => {
    said.textContent = view.said;
    const { copy } = view;
    const now = copy.trail.find((visit) => visit.exit === null);
    const state = `${copy.events.length} ${now && copy.trail.indexOf(now)} ${JSON.stringify(view.paper)}`;
    if (state === painted) return;
    painted = state;
    if (copy.events.length === 0) form = tankside.workStart.form(view, () => { window.begun = true; });
    else if (now && tankside.workForms[now.kind]) form = tankside.workForms[now.kind](view, now);
    else form = tankside.dom.el('p', { 'data-other': now ? now.name : '' }, now ? now.name : 'through');
    place.replaceChildren(...[tankside.workPaper.band(view), tankside.workPaper.lineTime(view), form].filter(Boolean));
  };
  work.watch(paint);
  for (const each of given.others) {
    const [{ shown: hash, at }] = each.events;
    await store.bring({ hash, edition: each.edition, shown: each.shown }, each.events, at);
  }
  if (record !== null) {
    const [{ copy, shown: hash, at }] = record.events;
    await store.bring({ hash, edition, shown }, record.events, at);
    await work.read(copy);
    await work.takeHere();
  }
  Object.assign(window, { view, work, store, paintAnew: () => { painted = ''; paint(); } });
  paint();
  document.body.dataset.ready = 'yes';
})().catch((error) => { document.body.dataset.failed = `${error} ${error.stack}`; });
"""


@dataclass(frozen=True)
class Given:
    """What a page is made of."""

    edition: Edition
    view: Any
    plant: Plant

    @property
    def portable(self) -> Any:
        """The edition as it is read from a file."""
        return json.loads(self.edition.canonical)


def given(pages: Any) -> Mapping[str, Given]:
    """Return what pages are made of, for each procedure and checklist of a book in memory."""
    loaded = load(pages)
    assert [each.as_text() for each in loaded.problems if each.code not in ("name-unused", "section-long")] == []
    book = loaded.book
    assert book is not None
    worked, facts, say = WorkedBook(book), book.plant.facts, words("en")
    procedures = [procedure_edition(worked, each, Audience.FLOOR, "en") for each in book.procedures.values()]
    checklists = [checklist_edition(worked, each, Audience.FLOOR, "en") for each in book.checklists.values()]
    found = {}
    for edition in (*procedures, *checklists):
        show = procedure_view if isinstance(edition.written, Procedure) else checklist_view
        found[edition.id] = Given(edition, show(edition, facts, say, is_laminated=False), book.plant)  # type: ignore[operator]
    return found


def opened(
    context: BrowserContext, folder: Path, about: Given, events: list[Any] | None = None, **changed: Any
) -> Page:
    """Return a page with the form of the start, or of what comes next after some events.

    `changed`: `around` (facts of the workshop), `draft`, `is_kept` (whether there is a store), `others` (other working
    copies on the device, each a `Given` with its events).
    """
    data = {
        "edition": about.portable,
        "shown": shown(about.edition, about.view),
        "around": {**surroundings(about.plant), **NO_BOARD, **changed.get("around", {})},
        "draft": changed.get("draft", False),
        "emergencies": [],
        "record": None if events is None else {"events": events},
        "isKept": changed.get("is_kept", True),
        "others": [
            {"edition": each.portable, "shown": shown(each.edition, each.view), "events": made}
            for each, made in changed.get("others", [])
        ],
    }
    whole = folder / f"{about.edition.id}.html"
    whole.write_text(_html(folder, json.dumps(data)), encoding="utf-8", newline="\n")
    page = context.new_page()
    errors: list[str] = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
    page.goto(whole.as_uri())
    page.wait_for_function("document.body.dataset.ready || document.body.dataset.failed")
    failed = page.locator("body").get_attribute("data-failed")
    assert (failed, errors) == (None, []), f"{failed} {errors}"
    return page


def _html(folder: Path, data: str) -> str:
    table, said = folder / UNIT_TABLE, folder / WORDS
    table.write_text(unit_table_script(), encoding="utf-8", newline="\n")
    said.write_text(words_script(script_words(words("en"))), encoding="utf-8", newline="\n")
    made = {UNIT_TABLE: table, WORDS: said}
    names = (*EVALUATOR, *PLANT, *COPY, WORDS, *BOARD, "dom.js", *TOLD, "work-view.js", *FORMS)
    scripts = "".join(f'<script src="{made.get(name, ASSETS / "js" / name).as_uri()}"></script>' for name in names)
    styles = "".join(f'<link rel="stylesheet" href="{(ASSETS / "css" / name).as_uri()}">' for name in STYLES)
    safe = data.replace("<", "\\u003c")
    return (
        '<!doctype html><html lang="en"><meta charset="utf-8"><title>Forms</title>'
        f'<meta name="viewport" content="width=device-width,initial-scale=1">{styles}'
        f'<body><p role="status" data-said-last></p><main></main>'
        f'<script type="application/json" data-given>{safe}</script>{scripts}<script>{HARNESS}</script></body></html>'
    )


def context_of(browser: Browser, size: tuple[int, int] = (1024, 768), **more: Any) -> BrowserContext:
    """Return a fresh browser profile with a screen of some size, on the day of `NOW`."""
    context = browser.new_context(viewport={"width": size[0], "height": size[1]}, timezone_id="UTC", **more)
    context.clock.set_fixed_time(NOW)
    return context


def press(target: Locator) -> None:
    """Press something, long enough after the last press."""
    target.page.wait_for_timeout(PAST_A_SLIP)
    target.click()


def hold(target: Locator) -> None:
    """Press something and hold it."""
    target.page.wait_for_timeout(PAST_A_SLIP)
    target.scroll_into_view_if_needed()
    box = target.bounding_box()
    assert box is not None
    mouse = target.page.mouse
    mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    mouse.down()
    target.page.wait_for_timeout(HELD)
    mouse.up()


def keys(page: Page, text: str, within: str = "main") -> None:
    """Press large keys one after the other, as fast as they come."""
    for key in text:
        page.locator(f"{within} [data-key='{key}']:visible").first.click()


def last_event(page: Page) -> Any:
    """Return the last event that the browser has kept."""
    return events(page)[-1]


def events(page: Page) -> list[Any]:
    """Return the events that the browser has kept."""
    found = page.evaluate("async () => (await store.record(view.copy.events[0].copy)).events")
    return list(found)


def until_events(page: Page, count: int) -> None:
    """Wait until so many events are kept and painted."""
    page.wait_for_function("(count) => view.copy.events.length === count && !view.work.isBusy", arg=count)

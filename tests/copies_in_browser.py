"""Working copies that are carried out in a page, step by step, as people would."""

import json
import re
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page

BOOK = "cafe-cleaning-workshop"
#: a touch on something else so soon after another is taken for a slip [ms]; with room
SLIP = 450
DATA = re.compile(r'<script type="application/json" data-work-data>(.*?)</script>', re.DOTALL)
#: people of the demonstration book, and in which role they work here
PEOPLE = (("AB", "line-operator"), ("CD", "second-person"), ("EF", "workshop-lead"), ("GH", "authorised-person"))

#: Begin a working copy and do up to so many things, each as its step asks; what is refused is an error.
CARRY_OUT = """async ([edition, shown, lot, count, people]) => {
  const { isOpen, stepOf, partOf, labelOf, needsSecond } = tankside.copyState;
  const { target, limits } = tankside.copyWorth;
  const store = await tankside.copyStore.open(edition.book);
  const device = await tankside.copyDevice.deviceName(store);
  const work = new tankside.copyWork.Work(store, { edition, shown, build: 'test', device });
  const [[who, role]] = people;
  const by = (wanted) => ({ role: wanted, who: people.find(([, each]) => each === wanted)[0] });
  const must = async (done) => {
    const { code, detail } = await done;
    if (code !== '') throw new Error(`${code} ${detail || ''}`);
  };
  const act = (kind, own = {}) => must(work.act(kind, { who, role, ...own }));
  const text = (quantity) => ({
    value: tankside.decimalText.decimalText(tankside.units.numberOf(quantity)), unit: quantity.unit.symbol,
  });

  const inputs = {};
  for (const [procedure, name, asked] of work.script.inputs) (inputs[procedure] ??= {})[name] = asked.usual;
  await must(work.start({
    who, role, lot, product: '', bottle: work.script.sizes[0] || '', inputs, confirmed: [],
    people: people.map(([one, its]) => ({ who: one, role: its })),
  }));

  /** What a step asks for next. */
  const next = (visit, place) => {
    const { copy } = work;
    const step = stepOf(copy, visit);
    const isValue = ['add', 'measure', 'labels'].includes(visit.kind);
    if (needsSecond(copy, visit) && (isValue ? visit.isInside : visit.doer !== '')) {
      return ['second', { visit: place, ...by('second-person') }];
    }
    if (visit.kind === 'hold') return ['release', { visit: place, ...by(step.released_by) }];
    if (visit.kind === 'add') {
      const label = labelOf(copy, visit);
      if (label !== '' && !visit.isLabelled) return ['look', { visit: place, says: label, lot: 'B-1' }];
      const { wanted, low, high } = target(partOf(copy, visit), step, copy.inputs);
      const [value, least, most] = [wanted, low, high].map(text);
      const range = { target: value.value, low: least.value, high: most.value, inside: true, total: value.value };
      return ['pour', { visit: place, ...value, ...range }];
    }
    if (visit.kind === 'measure') {
      const { instrument } = step;
      if (!copy.checked.has(instrument)) return ['checked', { instrument, due: '' }];
      const { low, high } = limits(partOf(copy, visit), step);
      const [least, most] = [low, high].map((end) => (end === null ? '' : text(end).value));
      const range = { low: least, high: most, inside: true };
      return ['read', { visit: place, ...text(low || high), ...range, instrument, due: '' }];
    }
    if (visit.kind === 'wait') return ['skip', { visit: place, reason: 'It stood long enough already.' }];
    return ['mark', { visit: place, answer: partOf(copy, visit).nodes[visit.node].exits[0].answer }];
  };
  for (let done = 0; done < count && !work.copy.isThrough; done += 1) {
    const place = work.copy.trail.findIndex(isOpen);
    await act(...next(work.copy.trail[place], place));
  }
  return { copy: work.copy.events[0].copy, events: work.copy.events };
}"""


def carried_out(page: Page, data: dict[str, Any], *, lot: str = "", count: int = 1000) -> dict[str, Any]:
    """Begin a working copy on the device of a page and do up to so many steps; return its id and its events."""
    people = [list(each) for each in PEOPLE]
    found: dict[str, Any] = page.evaluate(CARRY_OUT, [data["edition"], data["shown"], lot, count, people])
    return found


#: Do something to a copy that is on the device, and say what was refused.
ACT = """async ([book, copy, kind, own]) => {
  const store = await tankside.copyStore.open(book);
  const record = await store.record(copy);
  const work = new tankside.copyWork.Work(store, { ...record, build: 'test', device: 'd' });
  await work.read(copy);
  await work.takeHere();
  return (await work.act(kind, own)).code;
}"""
#: All that is kept on the device, but for notes, as JSON in one order.
KEPT = """async (book) => {
  const store = await tankside.copyStore.open(book);
  const all = await Promise.all(['editions', 'copies', 'events', 'leases'].map((name) => (
    store.read(name, (one) => one.getAll()))));
  return tankside.chain.canonical(all);
}"""
#: The state of a copy, folded anew from what is kept: all of it but the script that it follows.
STATE = """async ([book, copy]) => {
  const store = await tankside.copyStore.open(book);
  const { edition, events } = await store.record(copy);
  const { script, ...state } = tankside.copyState.newCopy(tankside.copyScript.script(edition));
  const folded = { script, ...state };
  events.forEach((event) => tankside.copyFold.fold(folded, event));
  return JSON.stringify({ ...folded, script: '' }, (key, value) => {
    if (value instanceof Map) return [...value];
    return typeof value === 'bigint' ? `${value}` : key === 'sender' ? null : value;
  });
}"""
#: Let every writing transaction end as one does for which there is no room, or no longer. Chromium 156 lets a database
#: grow whatever quota its tools set, so the end is made here: an abort, with the error that the standard names for it.
FULL = """(isFull) => {
  const own = IDBDatabase.prototype;
  own.honest ??= own.transaction;
  own.transaction = !isFull ? own.honest : function (names, mode, ...rest) {
    const made = own.honest.call(this, names, mode, ...rest);
    if (mode !== 'readwrite') return made;
    Object.defineProperty(made, 'error', { value: new DOMException('no room', 'QuotaExceededError') });
    queueMicrotask(() => made.abort());
    return made;
  };
}"""


def page_data(site: Path, name: str) -> dict[str, Any]:
    """Return what the page of a procedure or checklist tells its scripts: its edition, and what is shown of it."""
    text = (site / "copies" / f"{name}.html").read_text(encoding="utf-8")
    found = DATA.search(text)
    assert found is not None, name
    data: dict[str, Any] = json.loads(found[1])
    return data


class Device:
    """A browser with a profile of its own, and the list of its working copies."""

    def __init__(self, browser: Browser, base: str, **options: Any) -> None:
        """Open it; `base` is the address of the site."""
        self.base = base
        self.context = browser.new_context(**options)
        self.complaints: list[str] = []
        self.page = self.opened("copies/index.html")

    def opened(self, address: str) -> Page:
        """Return another tab that shows a page; what a page complains of, or asks for elsewhere, is noted."""
        page = self.context.new_page()
        page.on("console", lambda said: self.complaints.append(said.text) if said.type != "log" else None)
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        page.on("request", lambda request: self._asked(request.url))
        page.goto(f"{self.base}/{address}")
        return page

    def _asked(self, address: str) -> None:
        if not address.startswith((self.base, "blob:", "data:")):
            self.complaints.append(f"asked for {address}")

    def carried_out(self, data: dict[str, Any], *, lot: str = "", count: int = 1000) -> dict[str, Any]:
        """Begin a working copy and do up to so many steps; return its id and its events."""
        return carried_out(self.page, data, lot=lot, count=count)

    def act(self, copy: str, kind: str, **own: Any) -> str:
        """Do something to a copy as AB, and return why it was refused, empty when it was not."""
        code: str = self.page.evaluate(ACT, [BOOK, copy, kind, {"who": "AB", "role": "line-operator", **own}])
        return code

    def kept(self) -> str:
        """Return all that is kept."""
        return str(self.page.evaluate(KEPT, BOOK))

    def state(self, copy: str) -> Any:
        """Return the state of a copy as its events make it."""
        return json.loads(self.page.evaluate(STATE, [BOOK, copy]))

    def listed(self) -> Page:
        """Return the list as it is when everything on it is up to date."""
        self.page.goto(f"{self.base}/copies/index.html")
        self.page.locator("[data-list-about] li, .not-kept").first.wait_for()
        return self.page

    def saved(self, button: str, folder: Path) -> Path:
        """Touch a button that saves a file, and return where the file is."""
        self.page.wait_for_timeout(SLIP)
        with self.page.expect_download() as download:
            self.page.locator(button).first.click()
        path = folder / download.value.suggested_filename
        download.value.save_as(path)
        return path

    def brought(self, *files: Path) -> list[str]:
        """Choose files, and return what is said of them."""
        self.page.locator("[data-bring]").set_input_files(files)
        says = self.page.locator("[data-brought] li")
        says.first.wait_for()
        self.page.wait_for_function(
            "() => ![...document.querySelectorAll('[data-brought] li')].some((line) => line.textContent === "
            "tankside.words['work-list-bring-reading'])"
        )
        return says.all_inner_texts()

    def close(self) -> None:
        """Close it; nothing may have been complained of."""
        self.context.close()
        assert self.complaints == []

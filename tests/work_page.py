"""The page of a working copy as tests drive it: what it complains of, how a copy is begun, walked on and pressed."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import Any

from playwright.sync_api import Browser, BrowserContext, Page

BOOK = "cafe-cleaning-workshop"
#: roles that the people of the demonstration book have
PEOPLE = (("AB", "line-operator"), ("CD", "second-person"), ("EF", "workshop-lead"), ("GH", "authorised-person"))
#: a touch on something else within 400 ms of the last one is a slip [ms]
NO_SLIP = 450
#: press and hold takes 800 ms [ms]
HELD = 950
TABLET = {"width": 1024, "height": 768}
REFUSED = "document.addEventListener('securitypolicyviolation', (e) => console.error('policy ' + e.violatedDirective));"

#: Begin a copy as its page would, and do what each step asks for, until a step is next; with the clock put forward for
#: each wait. What is refused is an error.
WALK = """async ([people, until, own]) => {
  const { edition, shown, around } = JSON.parse(document.querySelector('[data-work-data]').textContent);
  const { isOpen, isReady, needsSecond, labelOf, stepOf, partOf } = tankside.copyState;
  const { target, limits } = tankside.copyWorth;
  const { numberText } = tankside.workFigures;
  const store = await tankside.copyStore.open(around.book);
  const work = new tankside.copyWork.Work(store, { edition, shown, build: 'test', device: 'test' });
  const must = async (outcome) => {
    const { code, detail } = await outcome;
    if (code !== '') throw new Error(`${code} ${detail || ''}`);
  };
  const as = (role) => people.find(([, each]) => each === role);
  const inputs = {};
  for (const [procedure, name, asked] of work.script.inputs) (inputs[procedure] ??= {})[name] = asked.usual;
  await must(work.start({
    who: people[0][0], role: people[0][1], lot: 'L-7', product: '', bottle: work.script.sizes[0] || '', inputs,
    people: people.map(([who, role]) => ({ who, role })), confirmed: [], ...own,
  }));
  const act = (kind, given, [who, role] = people[0]) => must(work.act(kind, { ...given, who, role }));
  const answers = {
    add: async (visit, place) => {
      const { wanted, low, high } = target(partOf(work.copy, visit), stepOf(work.copy, visit), work.copy.inputs);
      const label = labelOf(work.copy, visit);
      if (label !== '') await act('look', { visit: place, says: label, lot: 'B-1' });
      const [value, least, most] = [wanted, low, high].map(numberText);
      await act('pour', {
        visit: place, value, unit: wanted.unit.symbol, target: value, low: least, high: most, inside: true,
        total: value,
      });
    },
    measure: async (visit, place) => {
      const { instrument } = stepOf(work.copy, visit);
      const { low, high } = limits(partOf(work.copy, visit), stepOf(work.copy, visit));
      const { due } = around.instruments[instrument];
      await act('checked', { instrument, due });
      await act('read', {
        visit: place, value: numberText(low || high), unit: (low || high).unit.symbol, low: numberText(low),
        high: numberText(high), inside: true, instrument, due,
      });
    },
    labels: async (visit, place) => {
      const label = labelOf(work.copy, visit);
      if (label !== '') await act('look', { visit: place, says: label, lot: '' });
      const counted = stepOf(work.copy, visit).counted === 'out' ? { issued: 20 } : { used: 18, spoiled: 1, left: 1 };
      await act('count', { visit: place, ...counted });
    },
    wait: async (visit, place) => {
      await act('begin', { visit: place });
      const { clock, at } = work.last;
      const [later, passed] = [new Date(Date.parse(at) + 3600000), clock + 3600000];
      await act('mark', { visit: place, at: tankside.copyDevice.timeText(later), clock: passed });
    },
    hold: (visit, place) => act('release', { visit: place }, as(stepOf(work.copy, visit).released_by)),
  };
  for (let round = 0; until !== '' && round < 400; round += 1) {
    const place = work.copy.trail.findIndex(isOpen);
    if (place < 0) break;
    const visit = work.copy.trail[place];
    if (visit.name === until && visit.state === 'not started') break;
    if (needsSecond(work.copy, visit) && isReady(visit)) await act('second', { visit: place }, as('second-person'));
    else if (answers[visit.kind]) await answers[visit.kind](visit, place);
    else {
      const { answer } = partOf(work.copy, visit).nodes[visit.node].exits[0];
      await act('mark', answer === '' ? { visit: place } : { visit: place, answer });
    }
  }
  await store.letGo(work.last.copy);
  return work.last.copy;
}"""

KEPT = """async ([book, copy]) => (await (await tankside.copyStore.open(book)).record(copy)).events"""


@contextmanager
def looked_at(browser: Browser, own: str, **options: Any) -> Iterator[tuple[Page, list[str]]]:
    """Open a page of a fresh browser; in the list stands all that it complains of or asks from elsewhere."""
    given = {"viewport": TABLET, "reduced_motion": "reduce", **options}
    with browser.new_context(**given) as context:
        context.add_init_script(REFUSED)
        complaints: list[str] = []
        yield listened_to(context, own, complaints), complaints


def listened_to(context: BrowserContext, own: str, complaints: list[str]) -> Page:
    """Open another page, and write down what it complains of."""
    page = context.new_page()
    page.on("console", lambda said: complaints.append(f"{said.type}: {said.text}"))
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on("response", lambda got: complaints.append(f"{got.status} {got.url}") if got.status >= 400 else None)
    page.on(
        "request", lambda asked: None if asked.url.startswith((own, "data:", "blob:")) else complaints.append(asked.url)
    )
    return page


def walked(
    page: Page, own: str, name: str, until: str = "", people: Sequence[tuple[str, str]] = PEOPLE, **start: Any
) -> str:
    """Begin a copy, do all that comes before a step (all there is before "end"), open it; return the copy."""
    page.goto(f"{own}/copies/{name}.html")
    copy: str = page.evaluate(WALK, [[list(each) for each in people], until, start])
    page.goto(f"{own}/copies/index.html")
    page.goto(f"{own}/copies/{name}.html#{copy}")
    page.locator("[data-rest] h2").wait_for()
    return copy


def at_work(
    page: Page, own: str, name: str, until: str = "", people: Sequence[tuple[str, str]] = PEOPLE, **start: Any
) -> str:
    """Begin a copy, do all that comes before a step, open it on the page and go on with it; return the copy."""
    copy = walked(page, own, name, until, people, **start)
    press(page, "[data-rest] [data-sure=yes]")
    page.locator("[data-rest] h2").wait_for(state="detached")
    return copy


def begun_by_the_form(page: Page, own: str) -> None:
    """Begin the showing of the three sides as somebody does."""
    page.goto(f"{own}/copies/two-sides.html")
    for who, role in (("AB", "new-hire"), ("EF", "workshop-lead")):
        page.locator(".work-new-person [data-typed]").fill(who)
        press(page, f".work-new-person [data-tile={role}]")
        press(page, "[data-enter=person]")
    for each in page.locator("[data-start] [data-seen]").all():
        page.wait_for_timeout(NO_SLIP)
        each.click()
    press(page, "[data-start] [data-begin]")
    page.locator('[data-now][data-step="point-red"]').wait_for()


def tab_to(page: Page, selector: str) -> None:
    """Go to a control with the tab key alone."""
    for _ in range(80):
        if page.evaluate("(selector) => document.activeElement.matches(selector)", selector):
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"no tab leads to {selector}")


def press(page: Page, selector: str) -> None:
    """Press something as a finger does: no sooner after the last press than would count."""
    page.wait_for_timeout(NO_SLIP)
    page.locator(selector).first.click()


def hold(page: Page, selector: str) -> None:
    """Press something and hold it."""
    page.locator(selector).first.click(delay=HELD)


def kept(page: Page, copy: str) -> list[dict[str, Any]]:
    """Return the events that are kept of a copy."""
    events: list[dict[str, Any]] = page.evaluate(KEPT, [BOOK, copy])
    return events


def last(page: Page, copy: str, kind: str) -> dict[str, Any]:
    """Return the last event that is kept of a copy; it must be of this kind."""
    event = kept(page, copy)[-1]
    assert event["kind"] == kind, event
    return event


def row(page: Page, step: str) -> Any:
    """Return the row of a step."""
    return page.locator(f'[data-row][data-step="{step}"]:not([data-kind=question])').first


def now(page: Page) -> str:
    """Return the name of the step to be done now."""
    return str(page.locator("[data-now]").get_attribute("data-step"))

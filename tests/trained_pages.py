"""The pages of training as tests drive them: somebody begins, reads, answers, is shown, does, and is signed for."""

import json
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Locator, Page
from work_page import BOOK, looked_at

#: press and hold takes 800 ms [ms]
HELD = 950
#: a touch on something else within 400 ms of the last one is a slip [ms]
NO_SLIP = 450
PATH = "line-operator"
#: choose what was seen of each line
FILL = """([isWatched, seen]) => {
  for (const line of isWatched ? document.querySelectorAll('[data-watch]') : []) {
    line.querySelector(`input[value=${seen[line.dataset.watch] || 'competent'}]`).click();
  }
}"""
#: what a browser keeps of a person: everything by initials
RECORDS = """async (book) => {
  const store = await tankside.copyStore.open(book);
  const found = await tankside.trainingStore.records(store);
  store.close();
  return found;
}"""


@contextmanager
def trained(browser: Browser, own: str, day: str = "2026-12-01", **options: Any) -> Iterator[Page]:
    """Open a page of a fresh browser on a day; it complains of nothing."""
    with looked_at(browser, own, **options) as (page, complaints):
        on_day(page, day)
        yield page
        assert complaints == []


def on_day(page: Page, day: str) -> None:
    """Set the day of the page; timers go on."""
    page.clock.set_fixed_time(f"{day}T10:00:00")


def wait(page: Page, selector: str) -> Locator:
    """Return what stands on a page as soon as it does."""
    found = page.locator(selector).first
    found.wait_for(state="attached")
    return found


def begin(page: Page, own: str, who: str = "TA", role: str = "line-operator") -> str:
    """Begin for somebody on the page of the people; return the name of the chain."""
    page.goto(f"{own}/training/index.html")
    wait(page, "[data-train-people] > *")
    page.locator("[data-train-begin] [data-typed=new-who]").fill(who)
    tap(page, f"[data-train-begin] [data-tile={role}]")
    tap(page, "[data-train-begin-now]")
    page.wait_for_url("**/training/*.html#*")
    wait(page, "[data-train-who] > *")
    return page.url.partition("#")[2]


def tap(page: Page, selector: str) -> None:
    """Press something as a finger does."""
    page.wait_for_timeout(NO_SLIP)
    page.locator(selector).first.click()


def lesson(page: Page, own: str, procedure: str, competence: str, path: str = PATH) -> None:
    """Open the page on which a procedure is learnt."""
    page.goto(f"{own}/training/index.html")
    page.goto(f"{own}/training/{path}/{procedure}.html#{competence}")
    wait(page, "[data-train-standing] > *")


def path_page(page: Page, own: str, competence: str, path: str = PATH) -> None:
    """Open the page of a path."""
    page.goto(f"{own}/training/index.html")
    page.goto(f"{own}/training/{path}.html#{competence}")
    wait(page, "[data-train-next] > *")


def read(page: Page) -> None:
    """Say that one has read it."""
    tap(page, "[data-train-i-have-read]")
    wait(page, "[data-train-has-read]")


def right_choice(page: Page, at: str) -> tuple[int, int]:
    """Return the place of the right answer of the question that is asked, and how many there are."""
    places: list[bool] = page.evaluate(
        """(at) => {
          const { trainAsking: id, of } = document.querySelector(`${at} [data-train-asking]`).dataset;
          const { questions } = tankside.trainingPath.lessons[of];
          return questions.find((each) => each.id === id).choices.map(({ right }) => right);
        }""",
        at,
    )
    return places.index(True), len(places)


def answer(page: Page, *, is_right: bool = True, at: str = "[data-train-ask]") -> str:
    """Answer the question that is asked with a keyboard, and go on; return what was said of the answer."""
    wait(page, f"{at} [data-train-asking]")
    place, count = right_choice(page, at)
    page.locator(f"{at} input[type=radio]").nth(place if is_right else (place + 1) % count).check()
    page.locator(f"{at} [data-train-answer]").press("Enter")
    said = wait(page, f"{at} [data-train-explained]").inner_text()
    page.locator(f"{at} [data-train-next-question]").press("Enter")
    return said


def answer_all(page: Page, wrong: int = 0) -> int:
    """Answer all questions of a page, the first so many wrong; return how many there were."""
    count = 0
    while page.locator("[data-train-ask] [data-train-asking]").count() > 0:
        answer(page, is_right=count >= wrong)
        count += 1
    return count


def attest(page: Page, name: str, who: str = "WL", role: str = "workshop-lead") -> None:
    """Stand for something: initials, role, press and hold."""
    form = page.locator(f"div.work-form:has([data-train-hold={name}])")
    form.locator(f"[data-typed={name}-who]").fill(who)
    form.locator(f"[data-tile={role}]").press("Enter")
    hold(page, name)


def hold(page: Page, name: str) -> None:
    """Hold a press as long as it takes, and wait until it is said what came of it."""
    page.evaluate("() => { document.querySelector('[data-train-said]').textContent = ''; }")
    page.locator(f"[data-train-hold={name}]").focus()
    page.keyboard.down("Enter")
    page.wait_for_timeout(HELD)
    page.keyboard.up("Enter")
    page.wait_for_function("() => document.querySelector('[data-train-said]').textContent !== ''")


def signed(page: Page, method: str, result: str, seen: Mapping[str, str] | None = None) -> None:
    """Sign for somebody who was shown it or watched; every line is right but for those that are named."""
    fill(page, method, result, seen)
    attest(page, "watched")
    # The form is put up anew, empty.
    page.wait_for_function("() => document.querySelector('[data-train-method] :checked') === null")


def fill(page: Page, method: str, result: str, seen: Mapping[str, str] | None = None) -> None:
    """Fill in what was seen: every line is right but for those that are named by their key."""
    page.locator(f"[data-train-method] input[value={method}]").check()
    page.evaluate(FILL, [method != "shown", dict(seen or {})])
    page.locator(f"[data-train-radios=train-result] input[value={result}]").check()


def opened(page: Page, fold: str) -> None:
    """Open a fold."""
    tap(page, f"[data-train-fold='{fold}'] > summary")
    # What is inside is made when it is opened.
    wait(page, f"[data-train-fold='{fold}'] > div > *")


def kept(page: Page) -> list[dict[str, Any]]:
    """Return what is kept of everybody."""
    found: list[dict[str, Any]] = page.evaluate(RECORDS, BOOK)
    return found


def saved(page: Page, own: str, folder: Path, who: str = "TA") -> Path:
    """Save the file of somebody."""
    page.goto(f"{own}/training/index.html")
    wait(page, f"[data-train-save={who}]")
    page.wait_for_timeout(NO_SLIP)
    with page.expect_download() as download:
        page.locator(f"[data-train-save={who}]").click()
    path = folder / download.value.suggested_filename
    download.value.save_as(path)
    return path


def brought(page: Page, own: str, *files: Path) -> list[str]:
    """Bring files in, and return what is said of them."""
    page.goto(f"{own}/training/index.html")
    wait(page, "[data-train-file]").set_input_files(files)
    says = page.locator("[data-train-brought] li")
    says.first.wait_for()
    return says.all_inner_texts()


def loaded(path: Path) -> dict[str, Any]:
    """Return the JSON of a file."""
    found: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    return found

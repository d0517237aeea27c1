"""Amounts that follow an input in books unlike the demo: checklists with several fields, forty amounts, no vessel."""

import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from statistics import median

import pytest
from demo_book import ROOT, built, replace
from live_page import FOLD, NONE, assert_nothing_is_worked_out, refusal, typed, unfold
from playwright.sync_api import Browser, Page

from tankside.checkup import check_book

BASE = Path(__file__).parent / "base"
BLEND = "procedures/batch/blend.yaml"
AMOUNTS = 40
#: how often an update is timed
TIMES = 30


def amount(number: int) -> str:
    return f"""\
  part-{number}:
    title: Part {number}
    calculate: dilute
    with:
      stock: {number + 10} %v/v
      target: {number} %v/v
      make: batch
    result: stock_volume
"""


#: what is left of a batch when it is filled into bottles of 20 L
REST = """\
  rest:
    title: Left over
    calculate: bottles-from
    with:
      batch: batch
      nominal: 20 L
    result: left_over
"""
HALF = """\
  half:
    title: Half
    calculate: dilute
    with:
      stock: 100 %v/v
      target: 50 %v/v
      make: rest
    result: stock_volume
"""


def add_procedure(book: Path, name: str, *changes: tuple[str, str]) -> None:
    """Add a procedure like the one for blending."""
    path = (book / BLEND).with_name(f"{name}.yaml")
    shutil.copy(BASE / BLEND, path)
    for old, new in (("procedure: blend\n", f"procedure: {name}\n"), *changes):
        replace(path, old, new)


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The smallest book; its procedure has forty amounts, and a checklist lists the steps of two such procedures."""
    book = Path(shutil.copytree(BASE, tmp_path_factory.mktemp("wide") / "book"))
    shutil.copy(ROOT / "mkdocs.yml", book)
    (book / "site_src").mkdir()
    replace(book / BLEND, "steps:\n", "".join(map(amount, range(2, AMOUNTS + 1))) + "steps:\n")
    named = ", ".join(f"<part-{number}>" for number in range(2, AMOUNTS + 1))
    replace(book / BLEND, "purpose: Every batch comes out the same.", f"purpose: Every batch has {named}.")
    again = shutil.copy(book / BLEND, (book / BLEND).with_name("blend-again.yaml"))
    replace(again, "procedure: blend\n", "procedure: blend-again\n")
    replace(again, "steps:\n", "steps:\n  - section: weigh\n    title: Weigh\n")
    replace(again, "    from: 40 L", "    from: 50 L")
    replace(again, "[40 L, 60 L, 80 L]", "[50 L, 60 L, 80 L]")
    checklist = book / "checklists/first-batch.yaml"
    replace(checklist, "lists: titles", "lists: steps")
    replace(
        checklist,
        "  - procedure: blend\n",
        "  - procedure: blend\n"
        "  - procedure: blend-again\n    section: weigh\n"
        "  - procedure: blend-again\n    section: too-warm\n",
    )
    add_procedure(book, "coarse", ("tolerance: 0.1 kg", "tolerance: 0.01 kg"))
    named_rest = ("stop_safely: Step back.", "stop_safely: Step back from <rest>.")
    add_procedure(book, "rest", ("steps:\n", f"{REST}    collect_in: pail-1\nsteps:\n"), named_rest)
    between = (("from: 40 L", "from: 45 L"), ("to: 80 L", "to: 75 L"), ("usual: 60 L", "usual: 50 L"))
    named_half = ("stop_safely: Step back.", "stop_safely: Step back from <half>.")
    listed = ("[40 L, 60 L, 80 L]", "[45 L, 50 L, 75 L]")
    add_procedure(book, "thinned", ("steps:\n", f"{REST}{HALF}steps:\n"), *between, listed, named_half)
    done = built(book)
    assert done.returncode == 0, done.stderr
    return book


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    with browser.new_context(viewport={"width": 820, "height": 1180}) as context:
        yield context.new_page()


def opened(page: Page, book: Path, address: str) -> Page:
    page.goto((book / "build/site" / address).as_uri())
    return page


UPDATES = """(times) => {
  const field = document.querySelector('[data-live-field]');
  return Array.from({length: times}, (_, step) => {
    field.value = `${41 + step}.3`;
    const started = performance.now();
    field.dispatchEvent(new Event('input'));
    return performance.now() - started;
  });
}"""


def test_forty_amounts_follow_at_once_on_a_slow_computer(
    page: Page, book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    opened(page, book, "procedures/batch/blend.html")
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": 4})
    said = typed(page, "50")
    # 50 L at 2 of 12, 40 of 50 parts; and 50 L * 1.05 kg/L * 20 % is 10.5 kg
    assert said["blend/part-2", "both"] == {"about 8.333 L (about 2.2 US gal)"}  # 8.3333 / 3.7854 = 2.2014
    assert said["blend/part-40", "both"] == {"40 L (about 10.6 US gal)"}  # 40 / 3.7854 = 10.567
    assert said["blend/acid", "both"] == {"10.5 kg (about 23.1 lb)"}  # 10.5 / 0.45359 = 23.149
    assert len({name for name, _ in said}) == AMOUNTS
    assert {words for (_, way), each in said.items() if way == "at" for words in each} == {"for 50 L"}
    for is_open, what in ((False, "folded away"), (True, "in view")):
        page.evaluate(FOLD, is_open)
        taken = page.evaluate(UPDATES, TIMES)
        with capsys.disabled():
            print(
                f"\n{AMOUNTS} amounts, CPU slowed 4 times, workings {what}: "
                f"{median(taken):.1f} ms an update, at most {max(taken):.1f} ms"
            )


def test_checklist_has_one_field_for_each_procedure(page: Page, book: Path) -> None:
    opened(page, book, "checklists/first-batch.html")
    assert page.locator("[data-live-field]").count() == 2
    unfold(page)
    before = typed(page, "60", 0)
    said = typed(page, "50", 0)
    assert said["blend/acid", "inside"] == {"10.5 kg (for 50 L)"}
    again = {place: words for place, words in said.items() if place[0].startswith("blend-again/")}
    assert len(again) == 3 * AMOUNTS + 1
    assert again == {place: before[place] for place in again}
    # 70 L * 1.05 kg/L * 20 %
    assert typed(page, "70", 1)["blend-again/acid", "inside"] == {"14.7 kg (for 70 L)"}


def test_refusal_stays_with_its_procedure(page: Page, book: Path) -> None:
    opened(page, book, "checklists/first-batch.html")
    said = typed(page, "45", 1)
    assert said["blend-again/acid", "inside"] == {NONE}
    assert said["blend/acid", "inside"] == {"12.6 kg (for 60 L)"}
    assert page.locator("[data-live-refusal]").all_inner_texts() == [
        "",
        "'45 L' is not from '50 L' to '80 L'; write a value from 50 L to 80 L",
    ]
    ids = page.evaluate("[...document.querySelectorAll('[id]')].map((each) => each.id)")
    assert len(ids) == len(set(ids))


def test_checklist_and_its_fields_obey_the_policy(page: Page, book: Path) -> None:
    page.add_init_script(
        "window.refused = []; document.addEventListener('securitypolicyviolation',"
        " (event) => window.refused.push(event.violatedDirective));"
    )
    for address in ("checklists/first-batch.html", "procedures/batch/blend.html"):
        opened(page, book, address)
        assert page.evaluate("window.refused") == []
        assert page.evaluate("typeof tankside.amounts.amountTexts") == "function"


# --- values between those that `check` looks at


def said_by_check(book: Path, tmp_path: Path, name: str, usual: str) -> list[str]:
    """Return what `check` says where a value is the usual one."""
    copy = Path(shutil.copytree(book, tmp_path / "copy", ignore=shutil.ignore_patterns("build")))
    path = copy / f"procedures/batch/{name}.yaml"
    path.write_text(re.sub(r"usual: \d+ L", f"usual: {usual}", path.read_text(encoding="utf-8")), encoding="utf-8")
    return [each.message for each in check_book(copy).problems]


#: procedure -> a value that is worked out, with an amount for it; one that is not; and what is said of that one
BETWEEN = {
    # 41 L * 0.21 kg/L is 8.61 kg, 0.01 kg from 8.6 kg; 42 L is 8.82 kg, 0.02 kg from 8.8 kg
    "coarse": (
        ("41", "acid", "8.6 kg (about 19 lb)"),
        "42",
        "Acid solution: 'scale-1' can show only steps of 0.05 kg; 8.82 kg is off by more than 0.01 kg",
    ),
    # 45 L is two bottles of 20 L and 5 L; 59 L is two of them and 19 L, where the pail may hold 7.5 L
    "rest": (
        ("45", "rest", "5 L (about 1.32 US gal)"),
        "59",
        "Left over: 19 L fills 'pail-1' (10 L) past three quarters",
    ),
    # 60 L is three bottles of 20 L, and nothing to be thinned
    "thinned": (("50", "half", "5 L (about 1.32 US gal)"), "60", "Half: make '0 L' is not above 0 L"),
}


@pytest.mark.parametrize("name", BETWEEN)
def test_value_for_which_one_amount_is_refused_shows_none(page: Page, book: Path, tmp_path: Path, name: str) -> None:
    (size, amount_name, shown), wrong, sentence = BETWEEN[name]
    opened(page, book, f"procedures/batch/{name}.html")
    assert typed(page, size)[f"{name}/{amount_name}", "both"] == {shown}
    assert_nothing_is_worked_out(page, typed(page, wrong))
    assert refusal(page).partition("; give")[0].partition("; collect")[0] == sentence
    assert sentence.partition(": ")[2] in said_by_check(book, tmp_path, name, f"{wrong} L")

"""The record of a working copy, to be read and printed: every entry once, deviations first, nothing hidden."""

import io
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pdfplumber
import pytest
from axe import violations
from copies_in_browser import BOOK, Device, page_data
from playwright.sync_api import Browser, Page

LARGE, SMALL = "clean-mixing-tank", "two-sides"
#: width and height of a page [pt]: ISO 216, 210 mm x 297 mm; ANSI/ASME Y14.1, 8.5 in x 11 in
PAPERS = {"A4": (595, 842), "Letter": (612, 792)}


@pytest.fixture(params=["file", "http"])
def device(request: pytest.FixtureRequest, browser: Browser, site: Path) -> Iterator[Device]:
    """A device on which nothing has been done, its site in a folder and over plain HTTP."""
    base = site.as_uri() if request.param == "file" else str(request.getfixturevalue("address"))
    made = Device(browser, base)
    yield made
    made.close()


@pytest.fixture
def desk(browser: Browser, site: Path) -> Iterator[Device]:
    """The same, from a folder."""
    made = Device(browser, site.as_uri())
    yield made
    made.close()


def record(device: Device, copy: str) -> Page:
    """Return the page of a record."""
    page = device.opened(f"copies/copy.record.html#{copy}")
    page.locator(".record-end, .not-kept").first.wait_for()
    return page


def facts(page: Page) -> dict[str, str]:
    """Return what stands at the head of a record, by label."""
    rows = page.locator(".record-facts > div").evaluate_all(
        "(rows) => rows.map((row) => [row.querySelector('dt').innerText, row.querySelector('dd').innerText])"
    )
    return dict(rows)


def below(page: Page, heading: str) -> list[str]:
    """Return the lines of the list below a heading."""
    found: list[str] = page.locator(f"h2:text-is('{heading}') + *").locator("li").all_inner_texts()
    return [" ".join(each.split()) for each in found]


def eventful(device: Device, site: Path) -> dict[str, Any]:
    """Return a copy on which things went otherwise: what was done, and the numbers of the entries that say so."""
    done = device.carried_out(page_data(site, LARGE), lot="L-7")
    copy, events = done["copy"], done["events"]
    poured = next(each for each in events if each["kind"] == "pour")
    marked = [each for each in events if each["kind"] == "mark"][-1]
    value = {"value": poured["value"], "unit": poured["unit"]}
    assert device.act(copy, "note", text="The floor is <i>wet</i>.") == ""
    assert device.act(copy, "correct", corrects=poured["seq"], reason="Misread.", **value) == ""
    assert device.act(copy, "unmark", corrects=marked["seq"], reason="Touched by mistake.") == ""
    assert device.act(copy, "redline", about="near-miss", step=poured["step"], text="The jug slips.") == ""
    assert device.act(copy, "pause", reason="Telephone") == ""
    skipped = [each["seq"] + 1 for each in events if each["kind"] == "skip"]
    count = len(events)
    return {
        "copy": copy,
        "count": count + 5,
        "poured": poured,
        "unlike": [*skipped, count + 2, count + 3, count + 4],
    }


def test_every_entry_stands_in_the_record_exactly_once(device: Device, site: Path) -> None:
    done = eventful(device, site)
    page = record(device, done["copy"])
    numbers = page.locator("[data-entry]").evaluate_all("(all) => all.map((each) => Number(each.dataset.entry))")
    assert sorted(numbers) == list(range(1, done["count"] + 1))
    assert "The floor is <i>wet</i>." in page.locator(".body").inner_text()


def test_what_is_not_as_written_stands_first_and_in_order(device: Device, site: Path) -> None:
    done = eventful(device, site)
    page = record(device, done["copy"])
    assert page.locator("h2").all_inner_texts() == [
        "Not as written",
        "Steps, in the order in which the way led to them",
        "Steps that were not reached",
        "Entries that belong to no step",
    ]
    lines = page.locator(".record-unlike li .record-number").all_inner_texts()
    assert [int(each) for each in lines] == done["unlike"]
    assert len(done["unlike"]) > 4
    number = re.match(r"Step (\S+):", below(page, "Not as written")[-1])
    step = page.locator(f"[data-visit]:has([data-entry='{done['poured']['seq'] + 1}']) .record-title b")
    assert number is not None
    assert step.inner_text() == number[1]


@pytest.mark.requirement(number=4)
def test_what_was_corrected_is_struck_through_and_stays_readable(device: Device, site: Path) -> None:
    done = eventful(device, site)
    page = record(device, done["copy"])
    line = page.locator(f"[data-entry='{done['poured']['seq'] + 1}']")
    assert f"{done['poured']['value']} {done['poured']['unit']}" in line.locator("s").inner_text()
    assert f"(corrected in entry {done['count'] - 3})" in line.inner_text()
    assert line.locator("s").evaluate("(each) => getComputedStyle(each).textDecorationLine") == "line-through"
    assert "Misread." in page.locator(f"[data-entry='{done['count'] - 3}']").inner_text()


def test_head_says_what_who_and_where_and_that_the_chain_holds(device: Device, site: Path) -> None:
    data = page_data(site, SMALL)
    done = device.carried_out(data, lot="L-7", count=4)
    assert device.act(done["copy"], "join", who="IJ", role="new-hire") == ""
    page = record(device, done["copy"])
    head = facts(page)
    assert page.locator("h1").inner_text() == "The three sides, and what must never meet"
    assert head["Lot"] == "L-7"
    assert head["How it stands"] == "Not ended: this is what has been entered so far"
    assert head["Entries"] == "6. Their chain holds."
    assert head["Working copy"] == done["copy"]
    assert head["Hash of the edition"] == data["shown"]["hash"]
    people = head["People, as they named themselves"].splitlines()
    assert [each.partition(", since")[0] for each in people] == [
        "AB, Line operator",
        "CD, Second person",
        "EF, Workshop lead",
        "GH, Authorised person",
        "IJ, New hire",
    ]
    assert [each.partition(": ")[2] for each in head["Devices"].splitlines()] == [
        "entries 1 to 5, made with test",
        "entry 6, made with test",
    ]
    honest = page.locator(".record-honest").inner_text()
    for words in ("claims, not signatures", "accidental or casual change", "no validated electronic-signature system"):
        assert words in honest
    assert page.locator(".record-end").inner_text().endswith(head["Hash of the last entry"])


def test_every_step_has_its_state_and_those_not_reached_are_listed(desk: Device, site: Path) -> None:
    data = page_data(site, SMALL)
    copy = desk.carried_out(data, count=4)["copy"]
    page = record(desk, copy)
    entries = [each for section in data["shown"]["parts"][0]["sections"] for each in section["entries"]]
    numbers = [each["number"] for each in entries if each["form"] == "step"]
    states = page.locator("[data-visit]").evaluate_all(
        "(all) => all.map((each) => [each.querySelector('b').innerText, each.querySelector('.record-state').innerText])"
    )
    assert [[number, state.strip()] for number, state in states] == [
        *([str(each), "Complete"] for each in (1, 2, 3, 4)),
        ["5", "Not started"],
    ]
    missing = [line.partition(" ")[0] for line in below(page, "Steps that were not reached")]
    assert missing == numbers[5:]
    assert len(missing) > 5


def test_record_without_a_deviation_says_so(desk: Device, site: Path) -> None:
    page = record(desk, desk.carried_out(page_data(site, SMALL), count=3)["copy"])
    assert page.locator("h2:text-is('Not as written') + p").inner_text() == (
        "Nothing: everything that was entered is as the procedure has it."
    )


def test_clock_that_went_back_is_pointed_out(desk: Device, site: Path) -> None:
    copy = desk.carried_out(page_data(site, SMALL), count=2)["copy"]
    desk.page.clock.set_fixed_time("2020-01-01T08:00:00Z")
    assert desk.act(copy, "note", text="What year is it?") == ""
    page = record(desk, copy)
    assert "The time of day went back before this entry." in below(page, "Not as written")[0]


def test_entry_that_was_changed_in_the_store_is_shown_and_not_followed(desk: Device, site: Path) -> None:
    copy = desk.carried_out(page_data(site, SMALL), count=4)["copy"]
    changing = """async ([book, copy]) => {
      const store = await tankside.copyStore.open(book);
      const events = await store.events(copy);
      await store.write(['events'], (stores) => { stores.events.put({ ...events[3], who: 'ZZ' }); });
    }"""
    desk.page.evaluate(changing, [BOOK, copy])
    page = record(desk, copy)
    assert facts(page)["Entries"].startswith("5. Their chain breaks at entry 4:")
    lost = below(page, "Entries that do not hold")
    assert len(lost) == 2
    assert '"who":"ZZ"' in lost[0]
    assert page.locator("[data-state='complete']").count() == 2


def test_copy_that_is_not_on_the_device_is_said_in_words(device: Device) -> None:
    page = record(device, "0123456789abcdef")
    assert "This working copy is not on this device." in page.locator(".not-kept[role=alert]").inner_text()


@pytest.mark.parametrize("paper", PAPERS)
def test_print_has_the_copy_and_the_number_of_pages_on_each_page_and_no_controls(
    desk: Device, site: Path, paper: str
) -> None:
    done = eventful(desk, site)
    page = record(desk, done["copy"])
    page.emulate_media(media="print")
    assert page.locator("nav, .record-controls").locator("visible=true").count() == 0
    with pdfplumber.open(io.BytesIO(page.pdf(format=paper, prefer_css_page_size=True))) as pdf:
        texts = [each.extract_text() for each in pdf.pages]
        # Chromium rounds up to whole points.
        assert (pdf.pages[0].width, pdf.pages[0].height) == pytest.approx(PAPERS[paper], abs=1.5)
        widest = max(char["x1"] for each in pdf.pages for char in each.chars)
        assert widest < PAPERS[paper][0] - 30
    assert len(texts) > 3
    for number, text in enumerate(texts, 1):
        assert f"Working copy {done['copy'][:8]}" in text.splitlines()[0]
        assert text.splitlines()[-1] == f"{number} / {len(texts)}"
    whole = "\n".join(texts)
    assert "Save file" not in whole
    assert "End of the record." in texts[-1]


def test_no_step_is_split_over_two_pages(desk: Device, site: Path) -> None:
    page = record(desk, eventful(desk, site)["copy"])
    page.emulate_media(media="print")
    kept = page.locator(".record-step").evaluate_all("(all) => all.map((each) => getComputedStyle(each).breakInside)")
    assert len(kept) > 40
    assert set(kept) == {"avoid"}


@pytest.mark.requirement(number=14)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_record_breaks_no_rule_of_wcag(browser: Browser, site: Path, scheme: str) -> None:
    device = Device(browser, site.as_uri(), color_scheme=scheme)
    page = record(device, eventful(device, site)["copy"])
    assert violations(page) == []
    page = record(device, "0123456789abcdef")
    assert violations(page) == []
    device.close()


@pytest.mark.requirement(number=14)
@pytest.mark.parametrize("width", [1280, 1024, 390, 320])
def test_record_does_not_scroll_sideways(browser: Browser, site: Path, width: int) -> None:
    device = Device(browser, site.as_uri(), viewport={"width": width, "height": 800})
    page = record(device, eventful(device, site)["copy"])
    assert page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth") <= 0
    heights = page.locator(".record-controls button, nav a").evaluate_all(
        "(all) => all.map((each) => each.getBoundingClientRect().height)"
    )
    assert len(heights) == 6
    assert min(heights) >= 48
    device.close()


def test_record_can_be_saved_from_its_page(desk: Device, site: Path, tmp_path: Path) -> None:
    copy = desk.carried_out(page_data(site, SMALL), count=4)["copy"]
    desk.page = record(desk, copy)
    path = desk.saved("button:text('Save file')", tmp_path)
    assert json.loads(path.read_text(encoding="utf-8"))["copy"] == copy
    listed = desk.listed().locator(f"[data-copy='{copy}']").inner_text()
    assert "Saved to a file less than an hour ago, all of it." in listed

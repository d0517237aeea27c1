"""The list of the working copies on a device: what it says of each, of where they are kept, and of what fails."""

import json
import re
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from axe import violations
from copies_in_browser import BOOK, FULL, SLIP, Device, page_data
from playwright.sync_api import Browser, Page
from work_page import tab_to

ROOT = Path(__file__).parent.parent
SCRIPTS = ROOT / "tools" / "tankside" / "assets" / "js"
#: the scripts that these pages are made of, beside those of the page of a working copy
OURS = (
    *("copy-database.js", "copy-head.js", "copy-store.js", "copy-device.js", "copy-file.js"),
    *("copy-shape.js", "copy-bring.js"),
    *("work-shown.js", "work-storage.js", "work-copies.js", "work-bringing.js", "work-redlines.js", "work-list.js"),
    *("work-record-facts.js", "work-record-entries.js", "work-print.js", "work-open.js"),
)
SMALL, LARGE = "two-sides", "clean-mixing-tank"
ADDRESSES = "(found) => found.map((link) => link.getAttribute('href'))"
LEARNING = "The three sides, and what must never meet"


@pytest.fixture
def tablet(browser: Browser, site: Path) -> Iterator[Device]:
    """The same, opened from a folder, on a tablet."""
    made = Device(browser, site.as_uri(), viewport={"width": 1024, "height": 768})
    yield made
    made.close()


def entry(page: Page, copy: str) -> str:
    """Return the words of a copy in the list."""
    return page.locator(f"[data-copy='{copy}']").inner_text()


def storage(page: Page) -> str:
    """Return what is said of the place where copies are kept."""
    page.locator(".store-kept, .not-kept").first.wait_for()
    return page.locator("[data-list-storage]").inner_text()


# What it says of the copies.


def test_what_can_be_begun_is_listed_without_a_script(browser: Browser, site: Path) -> None:
    with browser.new_context(java_script_enabled=False) as context:
        page = context.new_page()
        page.goto((site / "copies" / "index.html").as_uri())
        begun = page.locator("#begin .links a").evaluate_all(ADDRESSES)
        assert "Scripts are switched off" in page.locator("noscript").inner_text()
        assert page.locator("#bring").is_hidden()
    pages = sorted(path.name for path in (site / "copies").glob("*.html"))
    assert sorted(begun) == [name for name in pages if name not in ("index.html", "copy.record.html")]
    assert len(begun) > 20
    assert len(begun) == len(set(begun))


def test_what_is_not_carried_out_is_not_offered(site: Path) -> None:
    emergencies = {path.stem for path in (site / "emergency").glob("*.html")} - {"index"}
    offered = {path.stem for path in (site / "copies").glob("*.html")}
    assert len(emergencies) > 2
    assert emergencies.isdisjoint(offered)


def test_empty_device_says_so(device: Device) -> None:
    page = device.listed()
    assert page.locator("[data-list-open]").inner_text() == "None is open."
    assert page.locator("[data-list-unsaved]").inner_text() == ""
    assert page.locator("[data-list-ended]").inner_text() == ""
    assert storage(page) == "Working copies are kept on this device, in this browser."


def test_open_copies_stand_first_with_how_they_stand(device: Device, site: Path) -> None:
    data = page_data(site, SMALL)
    finished, paused, given, at_work = (device.carried_out(data, lot=f"L-{each}", count=4)["copy"] for each in range(4))
    assert device.act(finished, "abandon", reason="The mixer hums.") == ""
    assert device.act(paused, "pause", reason="Telephone") == ""
    assert device.act(given, "give", text="Go on at step 5.") == ""
    page = device.listed()
    shown = page.locator(".copy").evaluate_all("(found) => found.map((each) => each.dataset.copy)")
    # What was touched last stands first, what has ended stands last.
    assert shown == [given, paused, at_work, finished]
    assert "Lot L-0\nAbandoned" in entry(page, finished)
    assert "Lot L-1\nPaused" in entry(page, paused)
    assert "Handed over by AB. Somebody has to take it over." in entry(page, given)
    assert "Lot L-3\nAt work" in entry(page, at_work)
    # Four things were done in the small procedure; its fourth step is the last one.
    last = re.search(r"Last step (\d+): (.+)", entry(page, at_work))
    assert last is not None
    assert last[1] == "4"
    assert last[2] == words_of_step(site, 4)
    assert page.locator(f"[data-copy='{at_work}'] a").first.get_attribute("href") == f"two-sides.html#{at_work}"


def words_of_step(site: Path, number: int) -> str:
    """Return what a step of the small procedure says, on the page that is read."""
    page = (site / "copies" / f"{SMALL}.html").read_text(encoding="utf-8")
    found = json.loads(page.split("data-work-data>")[1].split("</script>")[0])["shown"]["parts"][0]["sections"]
    steps = [each for section in found for each in section["entries"] if each["form"] == "step"]
    (step,) = (each for each in steps if each["number"] == str(number))
    return "".join(run["text"] for run in step["words"])


def test_reminder_counts_what_no_file_has_and_how_long_it_waits(browser: Browser, site: Path, tmp_path: Path) -> None:
    device = Device(browser, site.as_uri())
    began = datetime(2026, 12, 1, 8, 0, tzinfo=UTC)
    device.page.clock.set_fixed_time(began)
    copy = device.carried_out(page_data(site, SMALL), count=4)["copy"]
    waits = {
        timedelta(minutes=59): "less than an hour",
        timedelta(hours=1): "1 hour",
        timedelta(hours=47): "47 hours",
        timedelta(days=8, hours=5): "8 days",
    }
    for passed, words in waits.items():
        device.page.clock.set_fixed_time(began + passed)
        page = device.listed()
        assert f"Never saved to a file. Begun {words} ago." in entry(page, copy)
        said = page.locator("[data-list-unsaved] .in-no-file").inner_text()
        assert said == f"In no file, or not all of it: 1 of 1. The oldest has waited {words}."
    device.saved(f"[data-key='work-list-save-{copy}']", tmp_path)
    device.page.locator(".in-no-file").first.wait_for(state="detached")
    assert "Saved to a file less than an hour ago, all of it." in entry(device.page, copy)
    for text in ("One.", "Two.", "Three."):
        assert device.act(copy, "note", text=text) == ""
    device.page.clock.set_fixed_time(began + timedelta(days=11, hours=6))
    assert "Saved to a file 3 days ago. Entries since then: 3." in entry(device.listed(), copy)
    device.close()


def test_copy_of_what_is_not_carried_out_any_more_can_be_read(device: Device, site: Path) -> None:
    copy = device.carried_out(page_data(site, SMALL), count=1)["copy"]
    device.page.evaluate(
        """async ([book, copy]) => {
          const store = await tankside.copyStore.open(book);
          const { head } = await store.record(copy);
          await store.write(['copies'], ({ copies }) => { copies.put({ ...head, id: 'dropped' }); });
        }""",
        [BOOK, copy],
    )
    page = device.listed()
    assert "It is no longer carried out from this book." in entry(page, copy)
    links = page.locator(f"[data-copy='{copy}'] a").evaluate_all(ADDRESSES)
    assert links == [f"copy.record.html#{copy}"]


def test_nothing_on_the_page_clears_anything(device: Device, site: Path) -> None:
    device.carried_out(page_data(site, SMALL))
    page = device.listed()
    buttons = page.locator("button").all_inner_texts()
    assert set(buttons) == {"Save file", "Save these to a file"}
    assert "Nothing here can be cleared: save a file, the record stays." in page.locator("main").inner_text()


def test_red_lines_stand_by_procedure(device: Device, site: Path) -> None:
    data = page_data(site, SMALL)
    copy = device.carried_out(data, count=4)["copy"]
    first = data["shown"]["parts"][0]["sections"][0]["entries"][0]["name"]
    # As the page keeps it: marked first, and then explained.
    assert device.act(copy, "redline", about="could-not", step=first, text="") == ""
    assert device.act(copy, "note", step=first, text="There was no blue paddle.") == ""
    assert device.act(copy, "redline", about="near-miss", text="<b>Slipped</b>") == ""
    page = device.listed()
    section = page.locator("#redlines")
    assert section.locator("h3").all_inner_texts() == [LEARNING]
    lines = section.locator("li").all_inner_texts()
    assert len(lines) == 2
    assert any(re.fullmatch(r"\S+ \S+, AB, step 1: .*There was no blue paddle\.", line) for line in lines)
    assert any(line.endswith("<b>Slipped</b>") for line in lines)


def test_two_hundred_copies_are_listed(tablet: Device, site: Path) -> None:
    data = page_data(site, SMALL)
    tablet.page.evaluate(
        """async ([edition, shown]) => {
          const store = await tankside.copyStore.open(edition.book);
          for (let each = 0; each < 200; each += 1) {
            const work = new tankside.copyWork.Work(store, { edition, shown, build: 'test', device: 'd' });
            const people = [{ who: 'AB', role: 'line-operator' }, { who: 'CD', role: 'second-person' }];
            const { code } = await work.start({ who: 'AB', role: 'line-operator', lot: `L-${each}`, product: '',
              bottle: '', inputs: {}, confirmed: [], people });
            if (code) throw new Error(code);
            if (each % 2) await work.act('abandon', { who: 'AB', role: 'line-operator', reason: 'A test.' });
          }
        }""",
        [data["edition"], data["shown"]],
    )
    page = tablet.listed()
    assert page.locator("[data-list-open] .copy").count() == 100
    assert page.locator("[data-list-ended] summary").inner_text() == "Ended: 100"
    # So many are folded; they are all there when it is opened.
    assert page.locator("[data-list-ended] .copy").first.is_hidden()
    page.locator("[data-list-ended] summary").click()
    assert page.locator("[data-list-ended] .copy:visible").count() == 100
    assert (
        page.locator("[data-list-unsaved] .in-no-file")
        .inner_text()
        .startswith("In no file, or not all of it: 200 of 200.")
    )


# What it says of the place where they are kept.

#: fault of the browser, before any script of the page -> how the sentence about it begins
FAULTS = {
    "none": (
        "delete window.indexedDB; Object.defineProperty(window, 'indexedDB', {value: undefined})",
        "This browser keeps",
    ),
    "forbidden": (
        "Object.defineProperty(window, 'indexedDB', {get() { throw new DOMException('no', 'SecurityError'); }})",
        "This browser keeps nothing for this page. Use a normal window, not a private one",
    ),
    "open throws": (
        "IDBFactory.prototype.open = () => { throw new DOMException('no', 'SecurityError'); }",
        "This browser",
    ),
    "open fails": (
        "IDBFactory.prototype.open = () => { const r = {error: new DOMException('no', 'InvalidStateError')};"
        "setTimeout(() => r.onerror()); return r; }",
        "What the browser keeps was closed or cleared",
    ),
    "open without room": (
        "IDBFactory.prototype.open = () => { const r = {error: new DOMException('no', 'QuotaExceededError')};"
        "setTimeout(() => r.onerror()); return r; }",
        "There is no room left.",
    ),
    "another tab": (
        "IDBFactory.prototype.open = () => { const r = {}; setTimeout(() => r.onblocked()); return r; }",
        "Another tab shows an older page of this book. Close all other tabs of the book, then try again.",
    ),
    "reads fail": (
        "IDBObjectStore.prototype.getAll = () => { throw new DOMException('no', 'UnknownError'); }",
        "The browser cannot read what it keeps.",
    ),
    "writes fail": (
        "IDBObjectStore.prototype.put = () => { throw new DOMException('no', 'UnknownError'); }",
        "The browser could not keep it. Nothing was changed.",
    ),
}


@pytest.mark.requirement(number=11)
@pytest.mark.parametrize("fault", FAULTS)
def test_fault_of_the_store_is_said_in_words(browser: Browser, base: str, fault: str) -> None:
    script, says = FAULTS[fault]
    with browser.new_context() as context:
        page = context.new_page()
        complaints: list[str] = []
        page.on("pageerror", lambda error: complaints.append(str(error)))
        page.on("console", lambda said: complaints.append(said.text))
        page.add_init_script(script)
        page.goto(f"{base}/copies/index.html")
        assert storage(page).startswith(says)
        assert page.locator(".not-kept[role=alert]").count() == 1
        assert page.get_by_role("button", name="Try again").count() == 1
        # What can be begun stands there all the same, and what is known of the place.
        assert page.locator("#begin .links a").count() > 20
        page.get_by_text("Nothing of this leaves the device by itself").wait_for()
        assert complaints == []


def test_browser_that_never_answers_is_given_up(browser: Browser, site: Path) -> None:
    with browser.new_context() as context:
        page = context.new_page()
        page.clock.install()
        page.add_init_script("IDBFactory.prototype.open = () => ({})")
        page.goto((site / "copies" / "index.html").as_uri())
        assert page.locator(".not-kept, .store-kept").count() == 0
        page.clock.fast_forward(8000)
        assert storage(page).startswith("The browser does not answer when it is asked for what it keeps.")


def test_newer_pages_of_the_book_are_left_alone(device: Device) -> None:
    upgrade = """(name) => new Promise((done) => {
      indexedDB.open(name, 99).onsuccess = ({ target }) => { target.result.close(); done(true); };
    })"""
    assert device.page.evaluate(upgrade, f"tankside-{BOOK}") is True
    page = device.listed()
    assert storage(page).startswith("Newer pages of this book have kept the copies on this device.")


def test_database_that_is_deleted_under_the_page_is_noticed_and_made_anew(device: Device, site: Path) -> None:
    copy = device.carried_out(page_data(site, SMALL), count=2)["copy"]
    page = device.listed()
    deleting = "(name) => new Promise((done) => { indexedDB.deleteDatabase(name).onsuccess = () => done(true); })"
    assert page.evaluate(deleting, f"tankside-{BOOK}") is True
    page.locator(f"[data-key='work-list-save-{copy}']").click()
    said = page.locator("[data-list-said]")
    said.get_by_text("What the browser keeps was closed or cleared while this page was open.").wait_for()
    assert storage(page).startswith("What the browser keeps was closed or cleared")
    page = device.listed()
    assert storage(page).startswith("Working copies are kept on this device")
    # That it was here and is gone is not passed over.
    gone = page.locator("[data-list-gone]")
    assert "These working copies were here and are gone." in gone.inner_text()
    assert LEARNING in gone.inner_text()
    assert "These working copies were here and are gone." in device.listed().locator("[data-list-gone]").inner_text()
    page.get_by_role("button", name="I have told the lead").click()
    gone.locator(".not-kept").wait_for(state="detached")
    assert device.listed().locator("[data-list-gone]").inner_text() == ""


@pytest.mark.requirement(number=11)
def test_nothing_depends_on_local_storage(browser: Browser, base: str, site: Path, tmp_path: Path) -> None:
    device = Device(browser, base)
    device.context.add_init_script(
        "Object.defineProperty(window, 'localStorage', {get() { throw new DOMException('no', 'SecurityError'); }})"
    )
    device.listed()
    copy = device.carried_out(page_data(site, SMALL), count=4)["copy"]
    page = device.listed()
    assert "At work" in entry(page, copy)
    path = device.saved(f"[data-key='work-list-save-{copy}']", tmp_path)
    (said,) = device.brought(path)
    assert said.endswith("it is here already, just so. Nothing was changed.")
    device.close()


@pytest.mark.requirement(number=11)
def test_files_can_be_saved_when_nothing_can_be_written_any_more(tablet: Device, site: Path, tmp_path: Path) -> None:
    copy = tablet.carried_out(page_data(site, SMALL), count=4)["copy"]
    page = tablet.listed()
    page.evaluate(FULL, True)
    path = tablet.saved(f"[data-key='work-list-save-{copy}']", tmp_path)
    assert len(json.loads(path.read_text(encoding="utf-8"))["events"]) == 5
    page.locator("[data-list-said]").get_by_text("There is no room left.").wait_for()


@pytest.mark.parametrize(
    ("answer", "says"),
    [
        ("async () => true", "The browser has agreed to keep it until somebody clears it."),
        ("async () => false", "The browser has not agreed to keep it for good."),
        (
            "async () => { throw new TypeError('no'); }",
            "At this address the browser cannot be asked to keep it for good.",
        ),
    ],
)
def test_what_the_browser_answers_is_said(tablet: Device, site: Path, answer: str, says: str) -> None:
    tablet.carried_out(page_data(site, SMALL), count=1)
    tablet.context.add_init_script(
        f"if (!navigator.storage) Object.defineProperty(navigator, 'storage', {{value: {{}}}});"
        f"Object.defineProperty(navigator.storage, 'persist', {{value: {answer}}});"
        "Object.defineProperty(navigator.storage, 'persisted', {value: async () => false});"
        "Object.defineProperty(navigator.storage, 'estimate', {value: async () => ({usage: 2400000, quota: 5e8})})"
    )
    said = tablet.listed().locator("[data-list-about]").inner_text()
    assert says in said
    assert "Used: 3 MB. The browser allows 500 MB." in said
    assert "Safari does after 7 days without a visit" in said or "agreed to keep it until" in said
    assert "private window" in said


# The home page.


def test_home_page_counts_the_copies_of_the_device_and_is_silent_without(
    device: Device, site: Path, tmp_path: Path
) -> None:
    line = "[data-work-open]"
    home = device.opened("index.html")
    home.wait_for_timeout(SLIP)
    assert home.locator(line).inner_text() == ""
    data = page_data(site, SMALL)
    copies = [device.carried_out(data, count=2)["copy"] for _ in range(3)]
    device.act(copies[0], "abandon", reason="A test.")
    device.listed()
    device.saved(f"[data-key='work-list-save-{copies[1]}']", tmp_path)
    home.reload()
    home.get_by_text("On this device: 2 open, 2 not saved to a file, or not all of it.").wait_for()
    assert home.get_by_role("link", name="Working copies").first.get_attribute("href") == "copies/index.html"


def test_home_page_is_silent_when_nothing_can_be_kept(browser: Browser, site: Path) -> None:
    with browser.new_context() as context:
        page = context.new_page()
        said: list[str] = []
        page.on("pageerror", lambda error: said.append(str(error)))
        page.on("console", lambda message: said.append(message.text))
        page.add_init_script("IDBFactory.prototype.open = () => { throw new DOMException('no', 'SecurityError'); }")
        page.goto((site / "index.html").as_uri())
        page.wait_for_timeout(SLIP)
        assert page.locator("[data-work-open]").inner_text() == ""
        assert said == []


# For everybody.

SCREENS = {"laptop": (1280, 900), "tablet": (1024, 768), "phone": (390, 844), "narrow": (320, 640)}


@pytest.mark.requirement(number=14)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_list_breaks_no_rule_of_wcag(browser: Browser, site: Path, small_file: Path, scheme: str) -> None:
    device = Device(browser, site.as_uri(), color_scheme=scheme)
    data = page_data(site, SMALL)
    copy = device.carried_out(data, lot="L-1", count=3)["copy"]
    device.act(copy, "redline", about="wrong", text="V2 is V3.")
    device.act(device.carried_out(data, count=1)["copy"], "abandon", reason="A test.")
    assert violations(device.listed()) == []
    device.brought(small_file)
    assert device.page.locator(".taking").count() == 1
    assert violations(device.page) == []
    device.page.evaluate(FULL, True)
    device.page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    device.page.get_by_text("There is no room left.").first.wait_for()
    assert violations(device.page) == []
    device.close()


@pytest.fixture(scope="module")
def small_file(browser: Browser, site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file of a copy that some other device has begun."""
    device = Device(browser, site.as_uri())
    device.carried_out(page_data(site, SMALL), lot="L-7", count=2)
    device.listed()
    path = device.saved("[data-key^='work-list-save']", tmp_path_factory.mktemp("other"))
    device.close()
    return path


@pytest.mark.requirement(number=1)
@pytest.mark.parametrize("screen", SCREENS)
def test_list_fits_every_screen_and_every_glove(browser: Browser, site: Path, small_file: Path, screen: str) -> None:
    width, height = SCREENS[screen]
    device = Device(browser, site.as_uri(), viewport={"width": width, "height": height})
    device.carried_out(
        page_data(site, SMALL), lot="A-very-long-lot-number-that-somebody-typed-without-a-blank", count=3
    )
    device.listed()
    device.brought(small_file)
    sizes = device.page.locator("main a, main button, main input, summary").evaluate_all(
        "(all) => all.filter((each) => each.checkVisibility())"
        ".map((each) => [each.textContent.trim(), each.getBoundingClientRect().height])"
    )
    assert len(sizes) > 30
    assert [each for each in sizes if each[1] < 48] == []
    wide = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
    assert device.page.evaluate(wide) <= 0
    device.page.evaluate("document.documentElement.style.fontSize = '40px'")
    if screen != "narrow":
        assert device.page.evaluate(wide) <= 0
    device.close()


@pytest.mark.requirement(number=14)
def test_keyboard_alone_saves_a_file_and_takes_the_work(tablet: Device, small_file: Path, tmp_path: Path) -> None:
    page = tablet.listed()
    tablet.brought(small_file)
    save = page.locator("[data-key^='work-list-save']").first
    tab_to(page, "[data-key^='take-']")
    page.keyboard.down("Enter")
    page.locator(".taking").wait_for(state="detached")
    page.keyboard.up("Enter")
    assert "is on this device now" in page.locator("[data-list-said]").inner_text()
    page.keyboard.press("Tab")
    tab_to(page, "[data-key^='work-list-save']")
    with page.expect_download() as download:
        page.keyboard.press("Enter")
    assert download.value.suggested_filename.endswith(".json")
    page.locator("[data-list-said]").get_by_text("Handed to the browser").wait_for()
    # The list was painted anew, and the focus is where it was.
    assert save.evaluate("(button) => button === document.activeElement") is True


# The scripts.

#: what makes code of text, loads a module, or asks elsewhere
UNWANTED = re.compile(r"\beval\b|\bFunction\b|\bimport\b|\bexport\b|\bfetch\b|XMLHttpRequest|https?:|sessionStorage")


@pytest.mark.parametrize("name", OURS)
def test_script_is_classic_and_strict_and_asks_nothing_elsewhere(name: str) -> None:
    text = (SCRIPTS / name).read_text(encoding="utf-8")
    assert text.startswith("'use strict';\n")
    assert len(text.splitlines()) <= 250
    assert UNWANTED.findall(text) == []


def test_every_word_of_these_pages_is_said_by_a_script() -> None:
    table = json.loads((ROOT / "tools" / "tankside" / "texts.json").read_text(encoding="utf-8"))["en"]
    said = "".join(path.read_text(encoding="utf-8") for path in SCRIPTS.glob("*.js"))
    ours = [key for key in table if re.match(r"work-(list|brought|bring|record|store|age|open)(-|$)", key)]
    # Codes are said with the beginning put before them.
    composed = re.compile(r"work-(?=brought-(?!odd)|bring-|store-)|work-list-(?=finish|abandon)")
    assert len(ours) > 90
    assert [key for key in ours if f"'{composed.sub('', key)}'" not in said] == []

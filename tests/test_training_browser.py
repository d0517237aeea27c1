"""A new hire is trained in the page: from the first morning to competent, with everything kept, saved and refused."""

import json
from collections.abc import Iterator, Sequence
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from copies_in_browser import FULL
from jsonschema import Draft202012Validator
from playwright.sync_api import Browser, Page, expect
from trained_pages import (
    PATH,
    answer,
    answer_all,
    attest,
    begin,
    brought,
    fill,
    hold,
    kept,
    lesson,
    loaded,
    on_day,
    opened,
    path_page,
    read,
    saved,
    signed,
    trained,
    wait,
)
from walked_files import assert_judged_rightly
from work_page import BOOK

SCHEMA = Path(__file__).parent.parent / "tools" / "tankside" / "schema" / "competence.schema.json"

#: lay the database of the version before, with the head of a working copy in it
EARLIER = """(book) => new Promise((resolve, reject) => {
  const request = indexedDB.open(`tankside-${book}`, 1);
  request.onerror = reject;
  request.onupgradeneeded = () => {
    const keys = { editions: 'hash', copies: 'copy', events: ['copy', 'seq'], leases: 'copy', notes: 'name' };
    for (const [name, keyPath] of Object.entries(keys)) request.result.createObjectStore(name, { keyPath });
    const time = '2026-11-01T10:00:00.000+00:00';
    request.transaction.objectStore('copies').put({
      copy: 'c0ffee', edition: '', shown: '', id: 'two-sides', title: 'From before', lot: '', started: time, last: time,
      seq: 0, hash: '', ended: 'finish', who: 'AB', procedure: '', step: '', isPaused: false, givenBy: '', redlines: 0,
      exported: 1, saved: time,
    });
  };
  request.onsuccess = () => { request.result.close(); resolve(); };
})"""


@pytest.fixture
def page(browser: Browser, own: str) -> Iterator[Page]:
    """A page on the first day of December 2026."""
    with trained(browser, own) as opened_page:
        yield opened_page


def canonical(value: object) -> str:
    """Return JSON with sorted keys and no blanks (the rule of the file, worked out with the standard library alone)."""
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False)


def digest(value: object) -> str:
    return sha256(canonical(value).encode("utf-8")).hexdigest()


def is_chained(events: Sequence[dict[str, Any]]) -> bool:
    """Return whether each event carries its number, the hash of the one before, and its own."""
    previous = ""
    for place, event in enumerate(events):
        bare = {key: value for key, value in event.items() if key != "hash"}
        if event["seq"] != place or event["previous"] != previous or event["hash"] != digest(bare):
            return False
        previous = event["hash"]
    return True


def items(page: Page) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = page.evaluate("tankside.trainingPath.items")
    return found


def state(page: Page, key: str) -> str:
    """Return what a path says of an item."""
    return page.locator(f"[data-train-item='{key}'] .train-stands").inner_text()


# From the first morning to competent.


@pytest.mark.requirement(number=24)
def test_new_hire_goes_the_whole_path_to_competent(browser: Browser, own: str, tmp_path: Path) -> None:
    with trained(browser, own) as page:
        competence = begin(page, own)
        path_page(page, own, competence)
        todo = items(page)
        assert {state(page, each["key"]) for each in todo} == {"Not begun.", "Not gone through yet."}
        for item in todo:
            if not item["procedure"]:
                gone_through(page, item["key"])
        asked = 0
        goals: dict[str, str] = {}
        for item in todo:
            goals |= {item["procedure"]: item["goal"]} if item["procedure"] else {}
        for at, (procedure, goal) in enumerate(goals.items()):
            lesson(page, own, procedure, competence)
            asked += learnt(page, goal, wrong=2 if at == 0 else 0)
            if at == 1:
                # What was missed on the page before comes back below its own questions.
                for _ in range(2):
                    answer(page, at="[data-train-back]")
                wait(page, "[data-train-back-done]")
        path_page(page, own, competence)
        expect(page.locator("[data-train-next]")).to_have_text("Everything on this path stands as it should.")
        assert page.locator("[data-train-state=due]").count() == 0
        words = {each["goal"]: state(page, each["key"]) for each in todo if each["procedure"]}
        # 2026-12-01 and 180 days, as the demonstration book says: 2027-05-30 (31 + 31 + 28 + 31 + 30 + 29)
        assert words["alone"] == "Competent since 2026-12-01. Lapses on 2027-05-30."
        assert words["supervised"] == "Competent under supervision since 2026-12-01. Lapses on 2027-05-30."
        assert words["read"] == "Read on 2026-12-01."
        opened(page, "appoint")
        attest(page, "appoint")
        expect(page.locator("[data-train-appointed]")).to_have_text(
            "Appointed as Line operator on 2026-12-01 by WL, Workshop lead."
        )
        file = saved(page, own, tmp_path)
    found = loaded(file)
    sound(found)
    answers = [event for event in found["events"] if event["kind"] == "answered"]
    assert asked > 100
    assert [len(answers), sum(not each["right"] for each in answers)] == [asked + 2, 2]
    with trained(browser, own) as page:
        assert brought(page, own, file) == [f"{file.name}: TA: brought in whole. Entries: {len(found['events'])}."]
        path_page(page, own, competence)
        expect(page.locator("[data-train-next]")).to_have_text("Everything on this path stands as it should.")
        again = loaded(saved(page, own, tmp_path / "again"))
    assert {**again, "exported": ""} == {**found, "exported": ""}
    assert_judged_rightly(file, tmp_path / "books")


def gone_through(page: Page, key: str) -> None:
    """Go through something with somebody; what is to be found is found first."""
    opened(page, key)
    for tick in page.locator(f"[data-train-item='{key}'] [data-train-found]").all():
        tick.check()
    attest(page, key)
    expect(page.locator(f"[data-train-item='{key}'] .train-stands")).to_have_text(
        "Gone through on 2026-12-01, with WL, Workshop lead."
    )


def learnt(page: Page, goal: str, wrong: int) -> int:
    """Learn a procedure as far as it is wanted; return how many questions there were."""
    read(page)
    expect(page.locator("[data-train-standing] [data-train-word]")).to_have_attribute(
        "data-train-word", "valid" if goal == "read" else "read"
    )
    count = answer_all(page, wrong)
    if goal == "read":
        return count
    signed(page, "shown", "not-seen")
    for method in ("supervised", "alone") if goal == "alone" else ("supervised",):
        signed(page, method, "competent")
    expect(page.locator("[data-train-standing] [data-train-word]")).to_have_attribute("data-train-word", "valid")
    return count


def sound(found: dict[str, Any]) -> None:
    """Hold a file against its schema, its chain, and the hashes of what was taught."""
    schema = json.loads(SCHEMA.read_text(encoding="utf-8"))
    assert [error.message for error in Draft202012Validator(schema).iter_errors(found)] == []
    assert is_chained(found["events"])
    assert {name: digest(each) for name, each in found["taught"].items()} == {name: name for name in found["taught"]}
    assert {event["taught"] for event in found["events"] if "taught" in event} == set(found["taught"])


# What is refused, and what stays readable.


@pytest.mark.requirement(number=24)
def test_nobody_stands_for_themselves(page: Page, own: str) -> None:
    competence = begin(page, own)
    lesson(page, own, "two-sides", competence)
    fill(page, "alone", "competent")
    form = page.locator("div.work-form:has([data-train-hold=watched])")
    form.locator("[data-typed=watched-who]").fill("ta")
    form.locator("[data-tile=workshop-lead]").press("Enter")
    expect(form.locator("[data-train-missing]")).to_contain_text(
        "Nobody stands for themselves. It takes another person."
    )
    expect(form.locator("[data-train-hold]")).to_be_disabled()
    # Nor past the form.
    refused = """async () => {
      const { refusal } = tankside.trainingEntries;
      const drill = { kind: 'drill', person: 'TA', assessor: ' tA', assessor_role: 'workshop-lead' };
      return refusal(drill, [], { critical: [] });
    }"""
    assert page.evaluate(refused) == "own-assessor"
    assert [event["kind"] for event in kept(page)[0]["events"]] == ["begin"]


@pytest.mark.requirement(number=24)
def test_read_is_not_competent(page: Page, own: str) -> None:
    competence = begin(page, own)
    lesson(page, own, "two-sides", competence)
    read(page)
    answer_all(page)
    expect(page.locator("[data-train-standing]")).to_have_text("Read. That is not competent.")
    path_page(page, own, competence)
    assert state(page, "learn-two-sides-alone") == "Read. That is not competent."


@pytest.mark.requirement(number=24)
def test_competent_alone_needs_every_line_and_what_comes_first(page: Page, own: str) -> None:
    competence = begin(page, own)
    lesson(page, own, "bleed-cleaner-line", competence)
    missing = page.locator("[data-train-missing=watched]")
    fill(page, "alone", "competent", {"step:run-off": "not-seen"})
    expect(missing).to_contain_text("every line on the way was seen and was right. Lines without that: 1.")
    expect(missing).to_contain_text("Not competent yet in: Put on and take off protective equipment; Splash")
    fill(page, "alone", "competent", {"stop": "needs-more"})
    expect(missing).to_contain_text("Some line needs more, so the whole cannot be competent.")
    fill(page, "alone", "needs-more", {"stop": "needs-more"})
    page.locator("[data-train-remark]").fill("Once more tomorrow, with the second person beside.")
    attest(page, "watched")
    expect(page.locator("[data-train-standing]")).to_have_text("Needs more.")
    entry = page.locator("[data-train-entries] li").first
    expect(entry).to_contain_text("Alone. Needs more. WL, Workshop lead. Revision")
    expect(entry).to_contain_text("Needed more: P1 off, V2 and V3 shut")
    expect(entry).to_contain_text("Remark: Once more tomorrow, with the second person beside.")


@pytest.mark.requirement(number=24)
def test_what_was_wrong_is_struck_out_and_stays_readable(page: Page, own: str) -> None:
    competence = begin(page, own)
    lesson(page, own, "two-sides", competence)
    signed(page, "alone", "competent")
    expect(page.locator("[data-train-standing] [data-train-word]")).to_have_attribute("data-train-word", "valid")
    opened(page, "strike-1")
    page.locator("[data-train-reason]").fill("It was somebody else.")
    page.locator("[data-typed=strike-1-who]").fill("WL")
    hold(page, "strike-1")
    expect(page.locator("[data-train-standing]")).to_have_text("Not begun.")
    entry = page.locator("[data-train-entry='1']")
    expect(entry.locator("s")).to_contain_text("Alone. Competent. WL, Workshop lead.")
    expect(entry).to_contain_text("Struck out by WL, 2026-12-01 10:00: It was somebody else.")
    assert entry.locator("summary").count() == 0
    assert [event["kind"] for event in kept(page)[0]["events"]] == ["begin", "signed", "struck"]


def test_press_that_is_let_go_too_soon_enters_nothing(page: Page, own: str) -> None:
    competence = begin(page, own)
    lesson(page, own, "two-sides", competence)
    fill(page, "shown", "not-seen")
    form = page.locator("div.work-form:has([data-train-hold=watched])")
    form.locator("[data-typed=watched-who]").fill("WL")
    form.locator("[data-tile=workshop-lead]").press("Enter")
    page.locator("[data-train-hold=watched]").click(delay=300)
    page.wait_for_timeout(900)
    assert len(kept(page)[0]["events"]) == 1
    page.locator("[data-train-hold=watched]").click(delay=950)
    expect(page.locator("[data-train-standing]")).to_have_text("Shown.")


def test_missed_question_comes_back_later_and_not_at_once(page: Page, own: str) -> None:
    competence = begin(page, own)
    lesson(page, own, "two-sides", competence)
    said = answer(page, is_right=False)
    assert "Not right:" in said
    assert "It comes back later." in said
    answer_all(page)
    assert page.locator("[data-train-back-section]").is_hidden()
    lesson(page, own, "two-sides", competence)
    assert page.locator("[data-train-asking]").count() == 0
    path_page(page, own, competence)
    expect(page.locator("[data-train-missed]")).to_have_text("Questions that come back: 1.")
    answer(page, at="[data-train-back]")
    expect(page.locator("[data-train-missed]")).to_have_count(0)


def test_two_tabs_go_on_in_one_chain(page: Page, own: str) -> None:
    competence = begin(page, own)
    lesson(page, own, "two-sides", competence)
    other = page.context.new_page()
    on_day(other, "2026-12-01")
    other.goto(page.url)
    wait(other, "[data-train-standing] > *")
    read(page)
    # The other tab has not seen it: what it enters is refused, and what stands there is shown.
    other.evaluate("() => document.querySelector('[data-train-i-have-read]').click()")
    expect(other.locator("[data-train-said]")).to_have_text(
        "Something was entered in another tab meanwhile. It is shown now. Look at it, then try again."
    )
    expect(other.locator("[data-train-has-read]")).to_be_visible()
    assert is_chained(kept(page)[0]["events"])


# Files.


@pytest.fixture
def file(page: Page, own: str, tmp_path: Path) -> Path:
    """The file of somebody who was seen to do one thing."""
    competence = begin(page, own)
    lesson(page, own, "two-sides", competence)
    read(page)
    signed(page, "alone", "competent")
    return saved(page, own, tmp_path)


def rechained(found: dict[str, Any]) -> dict[str, Any]:
    """Return a file whose chain was written anew: whoever has it can do so."""
    previous = ""
    for event in found["events"]:
        event["previous"] = previous
        event["hash"] = previous = digest({key: value for key, value in event.items() if key != "hash"})
    return found


def edited(found: dict[str, Any]) -> dict[str, Any]:
    found["events"][2]["result"] = "needs-more"
    return found


def self_assessed(found: dict[str, Any]) -> dict[str, Any]:
    found["events"][2]["assessor"] = "ta"
    return rechained(found)


def lightly_seen(found: dict[str, Any]) -> dict[str, Any]:
    del found["events"][2]["seen"]
    return rechained(found)


def retaught(found: dict[str, Any]) -> dict[str, Any]:
    next(iter(found["taught"].values()))["elements"][0]["says"] = "Something else."
    return found


def foreign(found: dict[str, Any]) -> dict[str, Any]:
    return {**found, "book": "another-book"}


def newer(found: dict[str, Any]) -> dict[str, Any]:
    return {**found, "layout": "tankside-competence-2"}


def half(found: dict[str, Any]) -> dict[str, Any]:
    del found["events"][1]["at"]
    return rechained(found)


def mixed(found: dict[str, Any]) -> dict[str, Any]:
    found["events"][1]["person"] = "XY"
    return rechained(found)


WRONG = {
    edited: "TA: the chain breaks at entry 3: something was changed, added or left out after it was written.",
    self_assessed: "TA: entry 3 is one that may not be made. Nobody stands for themselves.",
    lightly_seen: "TA: entry 3 is one that may not be made. Competent alone means",
    retaught: "TA: what was taught was changed in the file after it was written.",
    foreign: "TA: it belongs to another book.",
    newer: "It was made with another version of this book's pages.",
    half: "TA: entry 2 is not whole.",
    mixed: "TA: entry 2 is about somebody else.",
}


@pytest.mark.requirement(number=25)
def test_file_that_is_not_as_it_was_written_is_refused_in_words(
    browser: Browser, own: str, file: Path, tmp_path: Path
) -> None:
    with trained(browser, own) as page:
        for change, words in WRONG.items():
            path = tmp_path / f"{change.__name__}.json"
            path.write_text(canonical(change(loaded(file))), encoding="utf-8")
            (said,) = brought(page, own, path)
            assert said.startswith(f"{path.name}: {words}"), (change.__name__, said)
        whole = file.read_text(encoding="utf-8")
        for name, text, words in (
            ("cut", whole[:-200], "A part of the file is missing."),
            ("other", "{}", "It is no competence file."),
            ("empty", "", "It is no competence file."),
        ):
            path = tmp_path / f"{name}.json"
            path.write_text(text, encoding="utf-8")
            (said,) = brought(page, own, path)
            assert said.startswith(f"{path.name}: {words}"), (name, said)
        assert kept(page) == []


@pytest.mark.requirement(number=25)
def test_longer_file_adds_and_a_branch_is_refused(
    browser: Browser, own: str, page: Page, file: Path, tmp_path: Path
) -> None:
    competence = loaded(file)["competence"]
    with trained(browser, own) as other:
        assert brought(other, own, file) == [f"{file.name}: TA: brought in whole. Entries: 3."]
        lesson(other, own, "last-look", competence)
        read(other)
        branch = saved(other, own, tmp_path / "branch")
    lesson(page, own, "last-look", competence)
    signed(page, "shown", "not-seen")
    assert brought(page, own, file) == [f"{file.name}: TA: more of it is here than in the file. Nothing was changed."]
    assert brought(page, own, branch)[0].startswith(
        f"{branch.name}: TA: from entry 4 on, the file says something else than what is here. Nothing was changed."
    )
    longer = saved(page, own, tmp_path / "longer")
    with trained(browser, own) as third:
        brought(third, own, file)
        assert brought(third, own, longer) == [f"{longer.name}: TA: what is new was added. Entries: 1."]
        assert brought(third, own, longer)[0].endswith("TA: it is here already, just so. Nothing was changed.")
        assert [each["kind"] for each in kept(third)[0]["events"]] == ["begin", "signed", "signed", "signed"]


@pytest.mark.requirement(number=25)
def test_all_people_leave_in_one_file_and_come_back(browser: Browser, own: str, page: Page, tmp_path: Path) -> None:
    for who in ("TA", "TB"):
        begin(page, own, who)
    page.goto(f"{own}/training/index.html")
    with page.expect_download() as download:
        page.locator("[data-train-save-all]").click()
    path = tmp_path / "all.json"
    download.value.save_as(path)
    schema = json.loads(SCHEMA.read_text(encoding="utf-8"))
    assert [error.message for error in Draft202012Validator(schema).iter_errors(loaded(path))] == []
    expect(page.locator("[data-train-person=TB]")).to_contain_text("all of it.")
    with trained(browser, own) as other:
        assert brought(other, own, path) == [f"all.json: {who}: brought in whole. Entries: 1." for who in ("TA", "TB")]


def test_initials_are_taken_once(page: Page, own: str) -> None:
    begin(page, own)
    page.goto(f"{own}/training/index.html")
    wait(page, "[data-train-person=TA]")
    page.locator("[data-typed=new-who]").fill("ta")
    expect(page.locator("[data-train-begin]")).to_contain_text("TA is in training here already.")
    expect(page.locator("[data-train-begin-now]")).to_be_disabled()


# Where it is kept.


@pytest.mark.requirement(number=11)
def test_page_says_when_nothing_is_kept(browser: Browser, own: str) -> None:
    with trained(browser, own) as page:
        page.add_init_script(
            "for (const name of ['indexedDB', 'localStorage']) Object.defineProperty("
            "window, name, { get() { throw new DOMException('no', 'SecurityError'); } });"
        )
        for address in ("index.html", f"{PATH}.html", f"{PATH}/two-sides.html"):
            page.goto(f"{own}/training/{address}")
            expect(page.locator("[data-train-storage] [role=alert]")).to_contain_text("keeps nothing for this page")
            assert page.locator("[data-train-needs-store]:visible, [data-train-needs-person]:visible").count() == 0


@pytest.mark.requirement(number=10)
def test_entry_that_could_not_be_kept_is_not_shown(page: Page, own: str) -> None:
    competence = begin(page, own)
    lesson(page, own, "two-sides", competence)
    page.evaluate(FULL, True)
    page.locator("[data-train-i-have-read]").press("Enter")
    expect(page.locator("[data-train-said]")).to_contain_text("There is no room left.")
    expect(page.locator("[data-train-has-read]")).to_have_count(0)
    page.evaluate(FULL, False)
    read(page)


def test_working_copies_of_the_version_before_stay(browser: Browser, own: str) -> None:
    with trained(browser, own) as page:
        page.goto(f"{own}/procedures/safety/two-sides.html")
        page.evaluate(EARLIER, BOOK)
        begin(page, own)
        page.goto(f"{own}/copies/index.html")
        expect(page.locator("[data-copy=c0ffee]")).to_contain_text("From before")

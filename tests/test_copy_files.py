"""Working copies leave a device as files and come to another: whole, once, or not at all and a sentence says why."""

import json
from collections.abc import Callable, Iterator
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from copies_in_browser import BOOK, FULL, SLIP, Device, page_data
from playwright.sync_api import Browser

from tankside.records.folding import folded
from tankside.schema.shapes import schema

Record = dict[str, Any]
#: with additions, a measurement, second persons, holds and waiting times; a small one for the rest
LARGE, SMALL = "clean-mixing-tank", "two-sides"


@pytest.fixture
def other(browser: Browser, base: str) -> Iterator[Device]:
    """Another such device."""
    made = Device(browser, base)
    yield made
    made.close()


def plain_json(value: Any) -> str:
    """Return what Python's own library writes: sorted keys, no blanks."""
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False)


def digest(value: Any) -> str:
    return sha256(plain_json(value).encode("utf-8")).hexdigest()


def chained(events: list[Record]) -> list[Record]:
    """Return events with numbers and hashes that hold, worked out here."""
    made: list[Record] = []
    for seq, event in enumerate(events):
        previous = made[-1]["hash"] if made else event["edition"]
        linked = {**{key: each for key, each in event.items() if key != "hash"}, "seq": seq, "previous": previous}
        made.append({**linked, "hash": digest(linked)})
    return made


def written(folder: Path, name: str, content: Any) -> Path:
    """Write a file that somebody brings, and return its path."""
    path = folder / name
    text = content if isinstance(content, str) else plain_json(content)
    path.write_text(text, encoding="utf-8", newline="\n")
    return path


def saved_copy(device: Device, site: Path, folder: Path, name: str = SMALL, **done: Any) -> tuple[str, Path]:
    """Carry something out on a device, and save the file of it."""
    copy = device.carried_out(page_data(site, name), **done)["copy"]
    device.listed()
    return copy, device.saved(f"[data-key='work-list-save-{copy}']", folder)


@pytest.mark.requirement(number=25)
def test_export_then_import_on_a_clean_profile_is_the_same_copy(
    device: Device, other: Device, site: Path, tmp_path: Path
) -> None:
    copy, path = saved_copy(device, site, tmp_path, LARGE, lot="L-7")
    record = json.loads(path.read_text(encoding="utf-8"))
    events = record["events"]
    assert len(events) > 60
    assert {"pour", "read", "second", "release", "skip", "checked", "look"} <= {each["kind"] for each in events}
    (said,) = other.brought(path)
    what = "Clean the mixing tank and its line, lot L-7"
    assert said == f"{path.name}: {what}: brought in whole. Entries: {len(events)}."
    assert other.state(copy) == device.state(copy)
    # The state is that which Python makes of the file, and the limits are those of the edition in it.
    ours = folded(record["edition"], events)
    theirs = other.state(copy)["trail"]
    assert [[each.name, each.state, each.doer] for each in ours.trail] == [
        [each["name"], each["state"], each["doer"]] for each in theirs
    ]
    assert events == chained(events)
    assert events[0]["edition"] == digest(record["edition"]) == record["shown"]["hash"]


def test_file_has_a_name_by_which_it_is_found_again(device: Device, site: Path, tmp_path: Path) -> None:
    copy, path = saved_copy(device, site, tmp_path, lot="L 7/b: x", count=2)
    assert path.name == f"two-sides-L-7-b-x-{copy[:8]}-3.json"  # begun, and two steps
    bare, second = saved_copy(device, site, tmp_path, count=0)
    assert second.name == f"two-sides-{bare[:8]}-1.json"


def test_same_copy_gives_the_same_bytes_but_for_the_time_of_the_file(
    device: Device, site: Path, tmp_path: Path
) -> None:
    copy, path = saved_copy(device, site, tmp_path)
    first = path.read_text(encoding="utf-8")
    device.listed()
    second = device.saved(f"[data-key='work-list-save-{copy}']", tmp_path).read_text(encoding="utf-8")
    times = [json.loads(text)["exported"] for text in (first, second)]
    assert times[0] < times[1]
    assert first.replace(times[0], "") == second.replace(times[1], "")
    assert first == plain_json(json.loads(first))


def test_files_have_the_published_shape(device: Device, site: Path, tmp_path: Path) -> None:
    _, one = saved_copy(device, site, tmp_path, LARGE, lot="L-7")
    device.carried_out(page_data(site, SMALL), count=3)
    device.listed()
    many = device.saved("[data-key=save-all]", tmp_path)
    for path in (one, many):
        loaded = json.loads(path.read_text(encoding="utf-8"))
        wanted = schema("record")["$defs"]["records" if path is many else "record"]
        assert loaded.keys() == wanted["properties"].keys()
        assert loaded["layout"] == wanted["properties"]["layout"]["const"]
    records = json.loads(many.read_text(encoding="utf-8"))["records"]
    assert [each["layout"] for each in records] == ["tankside-record-1"] * 2
    assert all(each["book"] == each["site"] == BOOK for each in records)


def test_all_copies_leave_in_one_file_and_come_back(device: Device, other: Device, site: Path, tmp_path: Path) -> None:
    copies = [device.carried_out(page_data(site, SMALL), lot=f"L-{each}", count=each)["copy"] for each in range(3)]
    device.listed()
    path = device.saved("[data-key=save-unsaved]", tmp_path)
    assert path.name.startswith(f"{BOOK}-records-")
    assert sorted(other.brought(path)) == [
        f"{path.name}: The three sides, and what must never meet, lot L-0: brought in whole. Entries: 1.",
        f"{path.name}: The three sides, and what must never meet, lot L-1: brought in whole. Entries: 2.",
        f"{path.name}: The three sides, and what must never meet, lot L-2: brought in whole. Entries: 3.",
    ]
    for copy in copies:
        assert other.state(copy) == device.state(copy)
    device.listed()
    assert device.page.locator(".in-no-file").count() == 0


def test_file_that_was_brought_twice_changes_nothing(device: Device, other: Device, site: Path, tmp_path: Path) -> None:
    _, path = saved_copy(device, site, tmp_path)
    other.brought(path)
    before = other.kept()
    (said,) = other.brought(path)
    assert said.endswith("it is here already, just so. Nothing was changed.")
    assert other.kept() == before


def test_longer_file_brings_only_what_is_new(device: Device, other: Device, site: Path, tmp_path: Path) -> None:
    copy, short = saved_copy(device, site, tmp_path, count=4)
    other.brought(short)
    assert device.act(copy, "note", text="The floor is wet.") == ""
    assert device.act(copy, "pause", reason="Telephone") == ""
    device.listed()
    long = device.saved(f"[data-key='work-list-save-{copy}']", tmp_path)
    (said,) = other.brought(long)
    assert said.endswith("what is new was added. Entries: 2.")
    assert other.state(copy) == device.state(copy)
    assert other.state(copy)["isPaused"] is True
    before = other.kept()
    (said,) = other.brought(short)
    assert said.endswith("more of it is here than in the file. Nothing was changed.")
    assert other.kept() == before


def test_two_that_went_on_apart_are_never_put_together(
    device: Device, other: Device, site: Path, tmp_path: Path
) -> None:
    copy, path = saved_copy(device, site, tmp_path, count=4)
    other.brought(path)
    assert device.act(copy, "note", text="Here.") == ""
    assert other.act(copy, "note", text="There.") == ""
    assert other.act(copy, "note", text="There again.") == ""
    device.listed()
    ours = device.saved(f"[data-key='work-list-save-{copy}']", tmp_path)
    before = other.kept()
    (said,) = other.brought(ours)
    # Begun, four steps, and then the sixth entry.
    assert "from entry 6 on, the file says something else than what is here. Nothing was changed." in said
    assert said.endswith("Keep this file, save the copy that is here to a file too, and show both to the lead.")
    assert other.kept() == before


def _doubled_event(record: Record) -> Record:
    return {**record, "events": [*record["events"][:3], record["events"][2], *record["events"][3:]]}


def _edited_event(record: Record) -> Record:
    record["events"][2]["who"] = "ZZ"
    return record


def _edited_edition(record: Record) -> Record:
    record["edition"]["written"]["revision"] = "99"
    return record


def _edited_throughout(record: Record) -> Record:
    edited = _edited_edition(record)
    edited["shown"]["hash"] = digest(edited["edition"])
    return edited


def showing(record: Record, **changed: Any) -> Record:
    """Return a record of work at which something else was shown; its chain holds."""
    shown = {**record["shown"], **changed}
    first, *others = record["events"]
    return {**record, "shown": shown, "events": chained([{**first, "shown": digest(shown)}, *others])}


def _shown_in_other_words(record: Record) -> Record:
    record["shown"]["title"] = "Something else"
    return record


def _shown_of_another_edition(record: Record) -> Record:
    return showing(record, hash="0" * 64)


def _left_out(record: Record) -> Record:
    del record["events"][1]
    return record


def _of_another_copy(record: Record) -> Record:
    events = [dict(each) for each in record["events"]]
    events[3]["copy"] = "f" * 16
    return {**record, "events": chained(events)}


def _of_another_book(record: Record) -> Record:
    return {**record, "book": "another-book"}


def _of_another_book_within(record: Record) -> Record:
    record["edition"]["book"] = "another-book"
    return record


def _unknown_kind(record: Record) -> Record:
    record["events"][2]["kind"] = "teleport"
    return {**record, "events": chained(record["events"])}


def _never_done(record: Record) -> Record:
    record["events"][1]["visit"] = 999
    return {**record, "events": chained(record["events"])}


def _with(record: Record, place: int, **own: Any) -> Record:
    record["events"][place].update(own)
    return {**record, "events": chained(record["events"])}


def _shown_of_another(record: Record) -> Record:
    return showing(record, parts=[])


def _nested(record: Record) -> str:
    deep = "[" * 50_000 + "]" * 50_000
    return plain_json(record).replace('"written":', f'"deep":{deep},"written":', 1)


#: what was done to a file -> how the sentence about it begins
BREAKAGES: dict[str, tuple[Callable[[Record], Any], str]] = {
    "cut off": (
        lambda record: plain_json(record)[:-500],
        "A part of the file is missing, or something is in it twice.",
    ),
    "cut off early": (lambda record: plain_json(record)[:200], "A part of the file is missing"),
    "two in one": (
        lambda record: plain_json(record) * 2,
        "A part of the file is missing, or something is in it twice.",
    ),
    "no JSON": (lambda record: "Lot L-7: 20 L", "It is no record file."),
    "a picture": (lambda record: "\x89PNG\r\n\x1a\n\x00", "It is no record file."),
    "empty": (lambda record: " \n", "The file is empty."),
    "a list": (lambda record: [record], "It is no record file."),
    "a text": (lambda record: '"tankside-record-1"', "It is no record file."),
    "some other JSON": (lambda record: {"name": "tankside"}, "It is no record file."),
    "no list of records": (lambda record: {"layout": "tankside-records-1", "records": {}}, "It is no record file."),
    "nothing in the list": (
        lambda record: {"layout": "tankside-records-1", "records": [None]},
        "It is no record file.",
    ),
    "later layout": (lambda record: {**record, "layout": "tankside-record-2"}, "It was made with another version"),
    "later edition": (
        lambda record: {**record, "edition": {**record["edition"], "layout": "tankside-edition-99"}},
        "It was made with another version",
    ),
    "later kind of entry": (_unknown_kind, "It was made with another version"),
    "another book": (_of_another_book, "It belongs to another book."),
    "another book within": (_of_another_book_within, "It belongs to another book."),
    "no entries": (lambda record: {**record, "events": []}, "There is no entry in it."),
    "no list of entries": (lambda record: {**record, "events": "none"}, "There is no entry in it."),
    "half an entry": (lambda record: {**record, "events": [*record["events"], {"seq": 5}]}, "Entry 6 is not whole."),
    "nothing for an entry": (lambda record: {**record, "events": [None]}, "Entry 1 is not whole."),
    "place that is a word": (lambda record: _with(record, 1, visit="__proto__"), "Entry 2 is not whole."),
    "place below none": (lambda record: _with(record, 1, visit=-1), "Entry 2 is not whole."),
    "number that is no text": (lambda record: _with(record, 1, answer=7), "Entry 2 is not whole."),
    "time that is none": (lambda record: _with(record, 1, at="2026-13-01T08:00:00.000Z"), "Entry 2 is not whole."),
    "red-line about nothing": (
        lambda record: _with(record, 1, kind="redline", about="constructor", text=""),
        "Entry 2 is not whole.",
    ),
    "note without a text": (lambda record: _with(record, 1, kind="note"), "Entry 2 is not whole."),
    "entry edited": (_edited_event, "The chain breaks at entry 3"),
    "entry doubled": (_doubled_event, "The chain breaks at entry 4"),
    "entry left out": (_left_out, "The chain breaks at entry 2"),
    "entry of another copy": (_of_another_copy, "Entry 4 belongs to another working copy."),
    "procedure edited": (_edited_edition, "The procedure in it is not the one that the work was begun with."),
    "procedure edited throughout": (_edited_throughout, "The procedure in it is not the one"),
    "shows other words": (_shown_in_other_words, "The procedure in it is not the one"),
    "shows another edition": (_shown_of_another_edition, "The procedure in it is not the one"),
    "what never was": (_never_done, "This page cannot follow what is in it."),
    "shows nothing": (_shown_of_another, "This page cannot follow what is in it."),
    "nested without end": (_nested, "This page cannot follow what is in it."),
}


@pytest.fixture(scope="module")
def small_record(browser: Browser, site: Path, tmp_path_factory: pytest.TempPathFactory) -> str:
    """A sound record: begun, and four steps."""
    device = Device(browser, site.as_uri())
    _, path = saved_copy(device, site, tmp_path_factory.mktemp("sound"), lot="L-7", count=4)
    device.close()
    return path.read_text(encoding="utf-8")


@pytest.mark.parametrize("breakage", BREAKAGES)
def test_broken_file_ends_in_a_sentence_and_changes_nothing(
    browser: Browser, site: Path, small_record: str, tmp_path: Path, breakage: str
) -> None:
    broken, says = BREAKAGES[breakage]
    device = Device(browser, site.as_uri())
    before = device.kept()
    (said,) = device.brought(written(tmp_path, "brought.json", broken(json.loads(small_record))))
    assert said.startswith(f"brought.json: {says}")
    assert device.kept() == before
    (said,) = device.brought(written(tmp_path, "sound.json", small_record))
    assert said.endswith("brought in whole. Entries: 5.")
    device.close()


def test_entry_that_would_not_be_let_pass_is_let_in_and_pointed_out(
    browser: Browser, site: Path, small_record: str, tmp_path: Path
) -> None:
    record = json.loads(small_record)
    record["events"][2]["who"] = "ZZ"  # nobody of that name was there
    record["events"] = chained(record["events"])
    device = Device(browser, site.as_uri())
    (said,) = device.brought(written(tmp_path, "odd.json", record))
    assert said.endswith("Entry 3 is one that this book would not let pass. Show it to the lead.")
    device.close()


def test_one_bad_record_among_many_keeps_none_of_the_others_out(
    browser: Browser, site: Path, small_record: str, tmp_path: Path
) -> None:
    sound, bad = json.loads(small_record), _edited_event(json.loads(small_record))
    content = {"layout": "tankside-records-1", "book": BOOK, "records": [bad, sound, sound], "exported": ""}
    device = Device(browser, site.as_uri())
    said = device.brought(written(tmp_path, "many.json", content))
    assert ["The chain breaks" in said[0], "brought in whole" in said[1], "it is here already" in said[2]] == [True] * 3
    device.close()


def test_blanks_and_a_byte_order_mark_do_no_harm(
    browser: Browser, site: Path, small_record: str, tmp_path: Path
) -> None:
    device = Device(browser, site.as_uri())
    text = "\N{BYTE ORDER MARK}" + json.dumps(json.loads(small_record), indent=2)
    (said,) = device.brought(written(tmp_path, "indented.json", text))
    assert said.endswith("brought in whole. Entries: 5.")
    device.close()


def test_file_that_is_far_too_large_is_not_even_read(browser: Browser, site: Path, tmp_path: Path) -> None:
    device = Device(browser, site.as_uri())
    path = tmp_path / "film.json"
    with path.open("wb") as film:
        film.truncate(64 * 1024 * 1024 + 1)
    (said,) = device.brought(path)
    assert said == "film.json: The file is far too large for a record file. Choose another one."
    device.close()


def test_several_files_are_brought_at_once(browser: Browser, site: Path, small_record: str, tmp_path: Path) -> None:
    device = Device(browser, site.as_uri())
    said = device.brought(written(tmp_path, "a.json", "nothing"), written(tmp_path, "b.json", small_record))
    assert [each.partition(":")[0] for each in said] == ["a.json", "b.json"]
    device.close()


def test_copy_from_a_file_is_looked_at_until_the_work_is_taken(
    device: Device, other: Device, site: Path, tmp_path: Path
) -> None:
    copy, path = saved_copy(device, site, tmp_path, count=4)
    other.brought(path)
    own = {"who": "AB", "role": "line-operator", "text": "Not yet."}
    attempt = """async ([book, copy, own]) => {
      const store = await tankside.copyStore.open(book);
      const work = new tankside.copyWork.Work(store, { ...await store.record(copy), build: 'test', device: 'd' });
      await work.read(copy);
      work.isHere = true;
      return (await work.act('note', own)).code;
    }"""
    assert other.page.evaluate(attempt, [BOOK, copy, own]) == "store-from-file"
    entry = other.listed().locator(f"[data-copy='{copy}']")
    assert "From a file, to be looked at." in entry.inner_text()
    hold = entry.locator(f"[data-key='take-{copy}']")
    hold.click()  # a brush against it is not enough
    assert hold.count() == 1
    box = hold.bounding_box()
    assert box is not None
    other.page.mouse.move(box["x"] + 20, box["y"] + 20)
    other.page.mouse.down()
    hold.wait_for(state="detached")
    other.page.mouse.up()
    assert "is on this device now" in other.page.locator("[data-list-said]").inner_text()
    assert other.page.evaluate(attempt, [BOOK, copy, own]) == ""


def test_tab_that_has_the_work_loses_it_when_a_longer_file_comes(
    device: Device, other: Device, site: Path, tmp_path: Path
) -> None:
    copy, path = saved_copy(device, site, tmp_path, count=4)
    other.brought(path)
    assert other.act(copy, "note", text="Gone on there.") == ""
    other.listed()
    longer = other.saved(f"[data-key='work-list-save-{copy}']", tmp_path)
    work = device.opened("copies/index.html")
    taken = """async ([book, copy]) => {
      const store = await tankside.copyStore.open(book);
      window.work = new tankside.copyWork.Work(store, { ...await store.record(copy), build: 'test', device: 'd' });
      await window.work.read(copy);
      await window.work.takeHere();
    }"""
    work.evaluate(taken, [BOOK, copy])
    assert work.evaluate("window.work.isHere") is True
    device.listed()
    device.brought(longer)
    own = {"who": "AB", "role": "line-operator", "text": "Here too."}
    assert work.evaluate("async (own) => (await window.work.act('note', own)).code", own) == "store-from-file"
    assert work.evaluate("window.work.isHere") is False
    # What came by the file is seen in that tab.
    assert work.evaluate("window.work.last.text") == "Gone on there."


@pytest.mark.requirement(number=25)
def test_what_a_copy_shows_is_not_changed_by_a_file(
    device: Device, site: Path, small_record: str, tmp_path: Path
) -> None:
    own = device.carried_out(page_data(site, SMALL), count=1)["copy"]
    record = showing(json.loads(small_record), title="Something else")
    device.brought(written(tmp_path, "other.json", record))
    titles = {each["copy"]: each["title"] for each in json.loads(device.kept())[1]}
    assert titles[record["copy"]] == "Something else" != titles[own]
    # Both follow the same edition, and each keeps what it showed.
    assert sorted(each["shown"]["title"] == "Something else" for each in json.loads(device.kept())[0]) == [False, True]


def test_file_without_room_ends_in_a_sentence(browser: Browser, base: str, small_record: str, tmp_path: Path) -> None:
    device = Device(browser, base)
    before = device.kept()
    device.page.evaluate(FULL, True)
    (said,) = device.brought(written(tmp_path, "brought.json", small_record))
    assert "There is no room left. Nothing more is kept." in said
    assert device.kept() == before
    assert "There is no room left." in device.page.locator("[data-list-storage]").inner_text()
    device.page.evaluate(FULL, False)
    device.page.wait_for_timeout(SLIP)
    device.page.get_by_role("button", name="Try again").click()
    device.page.get_by_text("Working copies are kept on this device").wait_for()
    (said,) = device.brought(written(tmp_path, "brought.json", small_record))
    assert said.endswith("brought in whole. Entries: 5.")
    device.close()


def test_copy_can_still_leave_when_the_store_was_cleared_meanwhile(device: Device, site: Path, tmp_path: Path) -> None:
    copy = device.carried_out(page_data(site, SMALL), count=4)["copy"]
    device.page = device.opened(f"copies/copy.record.html#{copy}")
    device.page.locator(".record-end").wait_for()
    deleting = "(name) => new Promise((done) => { indexedDB.deleteDatabase(name).onsuccess = () => done(true); })"
    assert device.page.evaluate(deleting, f"tankside-{BOOK}") is True
    path = device.saved("button:text('Save file')", tmp_path)
    assert len(json.loads(path.read_text(encoding="utf-8"))["events"]) == 5

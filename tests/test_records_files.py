"""Record files: read strictly, with the place of what is wrong; their schema, and where it is published."""

import errno
import json
import os
from collections.abc import Iterator
from pathlib import Path
from typing import IO, Any

import pytest
from click.testing import CliRunner
from followed_editions import demo_editions
from jsonschema import Draft202012Validator
from record_files import BATCH, LABELS, ONE_CARTON, SHORT, Record, finished, finished_text, kept, record_of, written

from tankside.cli.schema import schema as schema_command
from tankside.edition.making import LAYOUT as EDITION_LAYOUT
from tankside.problems import Problem
from tankside.publish.building import _own_assets
from tankside.records import files
from tankside.records.document import Document
from tankside.records.files import read_file
from tankside.records.folding import KINDS
from tankside.records.following import LAYOUTS
from tankside.records.json_places import Places
from tankside.records.shape import misfits

SCHEMA = Path(__file__).parent.parent / "tools/tankside/schema/record.schema.json"
FITTING = Draft202012Validator(json.loads(SCHEMA.read_text(encoding="utf-8")))
TIME = "2026-12-01T08:00:00.000+00:00"
HASH = "ab" * 32
#: what every event has
COMMON = {
    **{"seq": 1, "copy": "0123456789abcdef", "previous": HASH, "hash": HASH, "edition": HASH, "who": "AB"},
    **{"role": "line-operator", "at": TIME, "clock": 0, "session": "s1", "device": "d1", "build": "b1"},
}
POUR = {"value": "6.5", "unit": "kg", "target": "6.6", "low": "6.4", "high": "6.8", "inside": True, "total": "6.5"}
READ = {"value": "-5", "unit": "degC", "low": "", "high": "25", "inside": True, "instrument": "T1", "due": "2027-01-01"}
PEOPLE = [{"who": "AB", "role": "line-operator"}]
#: kind of event -> its own keys that must be there, and those that may
EVENTS: dict[str, tuple[dict[str, Any], dict[str, Any]]] = {
    "start": (
        {"inputs": {"blend": {"batch": "60 L"}}, "people": PEOPLE, "shown": HASH},
        {"lot": "L-7", "product": "", "bottle": "1 L", "confirmed": ["dressed"]},
    ),
    "begin": ({"visit": 0}, {}),
    "mark": ({"visit": 0}, {"answer": "yes", "text": "12:30"}),
    "look": ({"visit": 0, "says": "LM-1"}, {"lot": "B-1"}),
    "pour": ({"visit": 0, **POUR}, {}),
    "checked": ({"instrument": "T1", "due": ""}, {"with": "ice water"}),
    "read": ({"visit": 0, **READ}, {}),
    "take": ({"visit": 0}, {}),
    "count": ({"visit": 0}, {"issued": 100, "used": 90, "spoiled": 4, "left": 6}),
    "second": ({"visit": 0}, {}),
    "alone": ({"visit": 0, "reason": "ill"}, {}),
    "release": ({"visit": 0}, {}),
    "allow": ({"visit": 0, "reason": "little over"}, {}),
    "skip": ({"visit": 0, "reason": "no tag hangs there"}, {}),
    "deviate": ({"visit": 0, "reason": "by hand"}, {}),
    "decide": ({"visit": 0, "then": "again", "reason": "talked over"}, {}),
    "correct": (
        {"corrects": 0, "reason": "slip"},
        {"value": "1", "unit": "L", "second": "CD", "text": "x", "lot": "B", "used": 1, "spoiled": 1, "left": 1},
    ),
    "unmark": ({"corrects": 0, "reason": "slip"}, {}),
    "pause": ({}, {"reason": "phone"}),
    "resume": ({}, {"sure": "yes", "reason": "put right"}),
    "stop": ({}, {"reason": "leak"}),
    "give": ({}, {"text": "T1 still rises"}),
    "receive": ({}, {}),
    "join": ({}, {}),
    "leave": ({}, {}),
    "note": ({"text": "The floor is wet."}, {}),
    "redline": ({"about": "near-miss", "text": ""}, {"step": "open-v2", "procedure": SHORT, "revision": "3"}),
    "finish": ({}, {}),
    "abandon": ({"reason": "ill"}, {}),
}
FROM_PAPER = {"paper": "K7M4P9TXC", "entered_at": TIME}


def problems_of(path: Path) -> list[Problem]:
    return read_file(path)[1]


def said(path: Path) -> list[str]:
    return [f"{each.span.line}:{each.span.column}: {each.message} [{each.code}]" for each in problems_of(path)]


def record_with(event: dict[str, Any]) -> Record:
    return {**finished(), "events": [event]}


def misfits_of(record: Any) -> list[Problem]:
    return [each.problem for each in misfits(Document(Places("x", json.dumps(record)), (), record))]


# --- reading


def test_record_is_read_as_it_was_written(tmp_path: Path) -> None:
    (document,), problems = read_file(written(tmp_path, finished_text()))
    assert problems == []
    assert document.value == finished()


def test_byte_order_mark_and_blanks_change_nothing(tmp_path: Path) -> None:
    spaced = json.dumps(finished(), indent=2, ensure_ascii=False).replace("\n", "\r\n")
    (document,), problems = read_file(written(tmp_path, b"\xef\xbb\xbf" + spaced.encode()))
    assert problems == []
    assert document.value == finished()


#: a text that is no record -> what is said of it, with its place
BROKEN = {
    "": "1:1: this file is empty [record-cut-off]",
    " \n": "1:1: this file is empty [record-cut-off]",
    '{"layout": "tankside-rec': "1:12: this file ends in the middle of a record [record-cut-off]",
    '{"layout":\n': "1:10: this file ends in the middle of a record [record-cut-off]",
    '{"a": 1,\n "b": oops}': "2:7: this is not JSON: expecting value [record-not-json]",
    '{"a": 1} {"a": 1}': "1:10: this is not JSON: extra data [record-not-json]",
    '{"a": [1,\n  {"b": 1, "c": 2,\n   "b": 3}]}': "3:4: key 'b' stands twice here, and readers differ in which one"
    " counts [record-key-twice]",
    '{"a": [0, NaN]}': "1:11: 'NaN' is no number of JSON [record-number]",
    '{"a":\n-Infinity}': "2:1: '-Infinity' is no number of JSON [record-number]",
    '{"a": "1.5", "b": 1.5}': "1:19: '1.5' is not a whole number of at most 15 digits [record-number]",
    '{"a": 1e3}': "1:7: '1e3' is not a whole number of at most 15 digits [record-number]",
    "[1, -1234567890123456]": "1:5: '-1234567890123456' is not a whole number of at most 15 digits [record-number]",
    f"[{'9' * 5000}]": f"1:2: '{'9' * 59}…' is not a whole number of at most 15 digits [record-number]",
    "[" * 61 + "]" * 61: "1:61: this is nested more than 60 deep [record-too-deep]",
    '{"a":' * 200_000: "1:1: this is nested more than 60 deep [record-too-deep]",
    "[]": "1:1: this file is not a record [record-foreign]",
    '"text"': "1:1: this file is not a record [record-foreign]",
    '{"layout": 7}': "1:1: layout '7' is not that of a record [record-foreign]",
    '{"layout": "sheet-1"}': "1:1: layout 'sheet-1' is not that of a record [record-foreign]",
    '{"layout": "tankside-record-2"}': "1:1: layout 'tankside-record-2' is newer than this version knows"
    " [record-newer]",
    '{"layout": "tankside-records-17"}': "1:1: layout 'tankside-records-17' is newer than this version knows"
    " [record-newer]",
    '{"layout": "tankside-record-0"}': "1:1: layout 'tankside-record-0' is older than any that was ever published"
    " [record-older]",
}


@pytest.mark.parametrize("text", BROKEN, ids=range(len(BROKEN)))
def test_what_is_no_record_is_said_at_its_place(tmp_path: Path, text: str) -> None:
    assert said(written(tmp_path, text)) == [BROKEN[text]]


def test_nesting_and_digits_that_are_just_allowed_are_read(tmp_path: Path) -> None:
    deepest = "[" * 60 + "-123456789012345" + "]" * 60
    assert said(written(tmp_path, deepest)) == ["1:1: this file is not a record [record-foreign]"]


def test_byte_that_is_no_text_is_said_at_its_place(tmp_path: Path) -> None:
    data = '{"a":\n"ä'.encode() + b'\xff"}'
    assert said(written(tmp_path, data)) == ["2:3: byte 0xff is not UTF-8 text [record-not-utf-8]"]


def test_utf_16_is_no_record(tmp_path: Path) -> None:
    path = written(tmp_path, finished_text().encode("utf-16"))
    assert [each.code for each in problems_of(path)] == ["record-not-utf-8"]


def test_file_that_is_too_big_is_not_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(files, "MOST_BYTES", 2 * 1024 * 1024)
    path = written(tmp_path, b" " * (2 * 1024 * 1024) + b"x")
    assert said(path) == ["1:1: this file is larger than 2 MiB, the most that is read [record-too-big]"]
    assert [each.code for each in problems_of(written(tmp_path, b" " * (2 * 1024 * 1024)))] == ["record-cut-off"]


def test_file_that_may_not_be_read_is_a_problem(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # Who runs the tests may be allowed to read everything, so the refusal is played.
    path = written(tmp_path, finished_text())

    def refusing(opened: Path, *arguments: str, **options: str) -> IO[Any]:
        assert opened == path
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))

    monkeypatch.setattr(Path, "open", refusing)
    assert said(path) == ["1:1: this file cannot be read: permission denied [record-unreadable]"]


def test_places_are_those_that_an_editor_shows() -> None:
    record = finished()
    text = json.dumps(record, indent=1, ensure_ascii=False)
    places, lines = Places("x.json", text), text.split("\n")
    for number, event in enumerate(record["events"]):
        span = places.span(("events", number, "hash"))
        assert lines[span.line - 1][span.column - 1 :].startswith(f'"{event["hash"]}"')
        span = places.key_span(("events", number, "hash"))
        assert lines[span.line - 1][span.column - 1 :].startswith('"hash":')
    assert places.span(("events", 3, "no-such-key")) == places.span(("events", 3))
    assert lines[places.span(("events", 3)).line - 1] == "  {"


def test_several_working_copies_in_one_file_are_several_records(tmp_path: Path) -> None:
    records = [finished(), {**finished(), "copy": "0000000000000002"}]
    whole = {"layout": "tankside-records-1", "book": records[0]["book"], "records": records, "exported": TIME}
    path = written(tmp_path, json.dumps(whole, indent=1))
    documents, problems = read_file(path)
    assert problems == []
    assert [each.value for each in documents] == records
    place = documents[1].error("x", "x", "x", "copy").span
    line = path.read_text(encoding="utf-8").split("\n")[place.line - 1]
    assert line[place.column - 1 :] == '"0000000000000002",'


@pytest.mark.parametrize(
    ("changed", "expected"),
    [
        ({"records": []}, ["'records' with a list of 0 has not the form expected here [record-value]"]),
        ({"records": {}}, ["'records' with an object has not the form expected here [record-value]"]),
        ({"more": 1}, ["key 'more' is not known here [record-key-unknown]"]),
        ({"exported": "today"}, ["'exported' 'today' has not the form expected here [record-value]"]),
    ],
)
def test_file_of_several_has_a_shape_of_its_own(tmp_path: Path, changed: Record, expected: list[str]) -> None:
    whole = {"layout": "tankside-records-1", "book": "b", "records": [finished()], "exported": TIME, **changed}
    assert [each.split(": ", 1)[1] for each in said(written(tmp_path, json.dumps(whole)))] == expected


# --- the schema


def working_copies() -> Iterator[Any]:
    yield kept(SHORT).through()
    yield kept(BATCH).through()
    yield kept(LABELS, answers=ONE_CARTON).through()


def test_records_of_the_demonstration_fit_the_schema() -> None:
    kinds = set()
    for working in working_copies():
        record = record_of(working)
        assert list(FITTING.iter_errors(record)) == []
        assert misfits_of(record) == []
        kinds |= {event["kind"] for event in record["events"]}
    assert {"start", "mark", "look", "pour", "read", "count", "second", "release", "finish"} <= kinds


def test_schema_knows_the_kinds_that_are_folded() -> None:
    assert set(EVENTS) == set(KINDS)


@pytest.mark.parametrize("kind", EVENTS)
def test_kind_of_event_fits_with_all_and_with_only_what_it_must_have(kind: str) -> None:
    needed, more = EVENTS[kind]
    for own in (needed, {**needed, **more}, {**needed, **more, **FROM_PAPER}):
        record = record_with({**COMMON, "kind": kind, **own})
        assert list(FITTING.iter_errors(record)) == []
        assert misfits_of(record) == []


@pytest.mark.parametrize("kind", EVENTS)
def test_kind_of_event_is_refused_without_each_key_that_it_must_have(kind: str) -> None:
    whole = {**COMMON, "kind": kind, **EVENTS[kind][0]}
    for key in whole:
        record = record_with({name: value for name, value in whole.items() if name != key})
        assert not FITTING.is_valid(record)
        (problem,) = misfits_of(record)
        assert problem.message.endswith(f"key '{key}' is missing"), key


@pytest.mark.parametrize("kind", EVENTS)
def test_kind_of_event_is_refused_with_a_key_of_another_kind(kind: str) -> None:
    record = record_with({**COMMON, "kind": kind, **EVENTS[kind][0], "initials": "AB"})
    assert not FITTING.is_valid(record)
    (problem,) = misfits_of(record)
    assert problem.message == f"event 1 ({kind}): key 'initials' is not known here"


@pytest.mark.parametrize("wrong", [None, True, 1, -1, "", "x" * 10_001, "\n", [], {}, ["x"], {"x": "x"}])
def test_whole_schema_and_piecewise_check_agree_on_any_value_anywhere(wrong: Any) -> None:
    # That the two say the same is what lets the check go event by event.
    refused = 0
    for kind, (needed, more) in EVENTS.items():
        whole = {**COMMON, "kind": kind, **needed, **more, **FROM_PAPER}
        for key in whole:
            record = record_with({**whole, key: wrong})
            is_valid = FITTING.is_valid(record)
            assert is_valid == (misfits_of(record) == []), (kind, key)
            refused += not is_valid
    for key in finished():
        record = {**finished(), key: wrong}
        assert FITTING.is_valid(record) == (misfits_of(record) == []), key
    assert refused > 250


def test_schema_is_one_of_those_that_the_command_prints_and_the_site_has() -> None:
    text = SCHEMA.read_text(encoding="utf-8")
    assert CliRunner().invoke(schema_command, ["record"]).output == text
    assert dict(_own_assets())["record.schema.json"] == text.encode()


def test_schema_stands_alone() -> None:
    # Whoever fetches it from the site has no other file.
    assert '"$ref": "#/$defs/record"' in SCHEMA.read_text(encoding="utf-8")
    assert "common.schema.json" not in SCHEMA.read_text(encoding="utf-8")


def test_editions_that_are_made_today_can_be_followed() -> None:
    assert EDITION_LAYOUT in LAYOUTS
    assert {each["layout"] for each in demo_editions().values()} == {EDITION_LAYOUT}

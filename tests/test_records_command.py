"""`tankside records` from the outside: what it prints, what it leaves with, and that it writes nothing."""

import csv
import io
import json
import re
import shutil
from datetime import timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from followed_editions import demo_editions
from record_examples import beginning
from record_files import (
    BATCH,
    LABELS,
    ONE_CARTON,
    SHORT,
    Kept,
    eventful,
    finished,
    finished_text,
    kept,
    record_of,
    rewritten,
    text_of,
    written,
)
from straight_copies import MORNING, SECOND

from tankside.cli import tankside
from tankside.cli.records import records

SHOWN = Path(__file__).parent / "shown"
ROOT = Path(__file__).parent.parent
ESCAPE = "\x1b"


def run(*arguments: object) -> Result:
    done = CliRunner().invoke(tankside, ["records", *map(str, arguments)])
    assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
    return done


def masked(text: str) -> str:
    """Return a text without the digits of hashes, which change with every change of a book."""
    return re.sub(r"\b[0-9a-f]{8}\b", "########", text)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder in which the command runs."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def changed_text() -> str:
    record = finished()
    record["events"][9]["who"] = "XY"
    return text_of(record)


# --- check


def test_sound_record_is_one_line_and_a_sum(folder: Path) -> None:
    written(folder, finished_text(), "a.json")
    done = run("check", "a.json")
    assert (done.exit_code, done.stderr) == (0, "")
    assert masked(done.stdout) == (
        "a.json: Bleed the filling line, milk-line cleaner, lot L-7, 30 events, finished; edition ########, "
        "revision 3 by its own word\n1 working copy in 1 file: no problems\n"
    )


def test_remark_is_no_failure(folder: Path) -> None:
    written(folder, beginning(finished()), "a.json")
    done = run("check", "a.json")
    assert done.exit_code == 0
    assert done.stdout.endswith("1 working copy in 1 file: 1 remark\n")
    assert ", lot L-7, 8 events, at 'open-v2'; edition " in done.stdout


def test_error_leaves_with_1_and_says_what_can_be_told(folder: Path) -> None:
    written(folder, changed_text(), "a.json")
    done = run("check", "a.json")
    assert done.exit_code == 1
    lines = masked(done.stdout).splitlines()
    assert re.fullmatch(
        r"a\.json:1:\d+: error: event 10 \(mark\) was changed after it was entered \[record-event-changed\]", lines[0]
    )
    assert lines[1] == (
        "    hint: the 9 before it hold together; compare with an earlier file of this working copy, or with what the "
        "device still has"
    )
    assert lines[2:] == [
        "a.json: Bleed the filling line, milk-line cleaner, lot L-7, 9 events, only its first 9 events can be told; "
        "edition ########, revision 3 by its own word",
        "1 working copy in 1 file: 1 error",
    ]


def test_json_says_the_same(folder: Path) -> None:
    written(folder, finished_text(), "a.json")
    written(folder, changed_text(), "b.json")
    done = run("check", "--format", "json", "a.json", "b.json")
    found = json.loads(done.stdout)
    assert done.exit_code == 1
    assert found["is_sound"] is False
    (record,) = found["records"]
    edition = record.pop("edition")
    assert re.fullmatch("[0-9a-f]{64}", edition)
    assert record == {
        "file": "a.json",
        "working_copy": "0000000000000001",
        "id": SHORT,
        "title": "Bleed the filling line, milk-line cleaner",
        "lot": "L-7",
        "revision": "3",
        "origin": None,
        "events": 30,
        "state": "finished",
    }
    assert [(each["path"], each["code"], each["severity"]) for each in found["problems"]] == [
        ("b.json", "record-shorter", "remark"),
        ("b.json", "record-event-changed", "error"),
    ]
    assert list(found["problems"][0]) == ["path", "line", "column", "severity", "code", "message", "hint"]


def test_github_gets_a_command_a_problem(folder: Path) -> None:
    written(folder, changed_text(), "a.json")
    done = run("check", "--format", "github", "a.json")
    assert done.exit_code == 1
    assert re.fullmatch(
        r"::error file=a\.json,line=1,col=\d+,title=record-event-changed::event 10 \(mark\) was changed .*\n",
        done.stdout,
    )
    written(folder, finished_text(), "b.json")
    assert run("check", "--format", "github", "b.json").stdout == ""


def test_book_says_which_revision_it_was(folder: Path, tmp_path: Path) -> None:
    book = folder / "book"
    for part in ("procedures", "checklists", "site_src"):
        shutil.copytree(ROOT / part, book / part)
    written(folder, finished_text(), "a.json")
    assert "revision 3, the book as it stands, in no commit that was looked at\n" in (
        run("check", "a.json", "--book", "book").stdout
    )
    found = json.loads(run("check", "a.json", "--book", "book", "--format", "json").stdout)
    assert found["records"][0]["origin"] == {"revision": "3", "commit": ""}


def test_folder_in_which_it_runs_is_the_book_when_it_holds_one(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = written(folder, finished_text(), "a.json")
    shutil.copytree(ROOT / "tests" / "base", folder / "book")
    monkeypatch.chdir(folder / "book")
    assert "[record-other-book]" in run("check", path).stdout


@pytest.mark.parametrize(
    ("arguments", "expected"),
    [
        (("check",), "Missing argument 'FILES...'"),
        (("check", "nosuch.json"), "File 'nosuch.json' does not exist"),
        (("check", "."), "File '.' is a directory"),
        (("check", "a.json", "--book", "empty"), "empty holds no book: it has nothing in procedures/"),
        (("check", "a.json", "--format", "sarif"), "'sarif' is not one of 'text', 'json', 'github'"),
        (("show",), "Missing argument 'FILE'"),
        (("csv", "a.json", "--what", "steps"), "'steps' is not one of 'events', 'readings', 'additions', 'labels'"),
    ],
)
def test_wrong_usage_is_exit_code_2_with_a_sentence(folder: Path, arguments: tuple[str, ...], expected: str) -> None:
    written(folder, finished_text(), "a.json")
    (folder / "empty").mkdir()
    done = run(*arguments)
    assert (done.exit_code, done.stdout) == (2, "")
    assert expected in done.stderr


@pytest.mark.parametrize("verb", ["check", "list", "show", "redlines", "csv"])
def test_any_file_of_noise_is_a_problem_and_no_fault_of_ours(folder: Path, verb: str) -> None:
    written(folder, bytes(range(256)), "a.json")
    done = run(verb, "a.json")
    assert done.exit_code == 1
    assert "a.json:2:118: error: byte 0x80 is not UTF-8 text [record-not-utf-8]" in done.output


@pytest.mark.parametrize("verb", ["check", "list", "show", "redlines", "csv"])
def test_what_can_be_told_of_a_broken_record_is_told_and_nothing_is_written(folder: Path, verb: str) -> None:
    written(folder, changed_text(), "a.json")
    before = {path: path.read_bytes() for path in folder.rglob("*")}
    done = run(verb, "a.json")
    assert done.exit_code == 1
    assert "was changed after it was entered" in done.output
    assert {path: path.read_bytes() for path in folder.rglob("*")} == before
    if verb not in ("check", "redlines"):
        assert "What can be told is shown" in done.stderr
        assert SHORT in done.stdout


@pytest.mark.parametrize("verb", ["list", "show", "redlines", "csv"])
def test_nothing_is_promised_of_a_file_of_which_nothing_can_be_told(folder: Path, verb: str) -> None:
    written(folder, finished_text()[:-40], "a.json")
    done = run(verb, "a.json")
    assert done.exit_code == 1
    assert done.stderr.endswith("Nothing can be told. For the remarks see 'tankside records check'.\n")
    assert done.stdout.count("\n") == {"list": 0, "show": 0, "redlines": 1, "csv": 1}[verb]


def test_event_that_stands_twice_leaves_the_record_whole(folder: Path) -> None:
    record = beginning(finished())
    record["events"].insert(5, record["events"][4])
    written(folder, record, "a.json")
    done = run("check", "a.json")
    assert "[record-event-twice]" in done.stdout
    assert "[record-not-finished]" in done.stdout
    assert ", lot L-7, 8 events, at 'open-v2'; edition " in done.stdout


@pytest.mark.parametrize("verb", [(), ("check",), ("show",)])
def test_help_says_what_a_record_is_worth(verb: tuple[str, ...]) -> None:
    said = " ".join(run(*verb, "--help").output.split())
    assert "Initials and roles are claims, no signatures" in said or "Initials and roles in them are claims" in said
    if verb != ("show",):
        assert "who has the device could write all of it anew" in said
        assert "No compliance with any regulation is claimed" in said


# --- list


def test_list_has_a_line_for_each_copy_the_first_one_begun_first(folder: Path) -> None:
    written(folder, record_of(eventful()), "a.json")
    written(folder, rewritten({**beginning(finished()), "copy": "0000000000000002"}), "b.json")
    written(folder, finished_text(), "c.json")
    events: list[Any] = json.loads((folder / "b.json").read_text(encoding="utf-8"))["events"]
    later = [{**each, "copy": "0000000000000002", "at": each["at"].replace("-01T", "-02T")} for each in events]
    written(folder, rewritten({**finished(), "copy": "0000000000000002", "events": later}), "b.json")
    done = run("list", "a.json", "b.json", "c.json")
    assert done.exit_code == 0
    assert [re.split(" {2,}", line) for line in masked(done.stdout).splitlines()] == [
        [
            *("0000000000000001", SHORT, "Bleed the filling line, milk-line cleaner", "lot L-7", "revision 3 ########"),
            *("begun 2026-12-01 08:01:00 +00:00", "finished", "last finish 2026-12-01 08:30:00 +00:00", "AB"),
        ],
        [
            *("00000000000000ee", "everything", "A tiny procedure", "lot L-7", "revision 1 ########"),
            *("begun 2026-12-01 08:01:00 +00:00", "at 'notify-lead'", "last note 2026-12-01 16:46:00 +00:00", "AB"),
        ],
        [
            *("0000000000000002", SHORT, "Bleed the filling line, milk-line cleaner", "lot L-7", "revision 3 ########"),
            *("begun 2026-12-02 08:01:00 +00:00", "at 'open-v2'", "last mark 2026-12-02 08:08:00 +00:00", "AB"),
        ],
    ]


@pytest.mark.parametrize(
    ("happened", "expected"),
    [
        ((), "at 'label-released'"),
        (("pause",), "paused, at 'label-released'"),
        (("give",), "waits to be taken over from AB"),
        (("abandon",), "given up"),
    ],
)
def test_state_is_said_in_words(folder: Path, happened: tuple[str, ...], expected: str) -> None:
    working = kept()
    for kind in happened:
        working.enter(kind, **({"reason": "ill"} if kind == "abandon" else {}))
    written(folder, record_of(working), "a.json")
    assert f"  {expected}  last " in run("list", "a.json").stdout


def test_state_without_anything_left_to_do_is_said(folder: Path) -> None:
    written(folder, {**finished(), "events": finished()["events"][:-1]}, "a.json")
    assert "  nothing is left to do  " in run("list", "a.json").stdout


# --- show


def test_show_is_the_golden_text(folder: Path) -> None:
    written(folder, record_of(eventful()), "a.json")
    done = run("show", "a.json")
    assert (done.exit_code, done.stderr) == (0, "")
    assert masked(done.stdout) == (SHOWN / "eventful.txt").read_text(encoding="utf-8")


def test_show_fits_a_terminal_and_cannot_speak_to_it(folder: Path) -> None:
    for name, record in (("a.json", record_of(eventful())), ("b.json", finished(BATCH))):
        written(folder, record, name)
        text = run("show", name).stdout
        assert max(map(len, text.splitlines())) <= 100
        assert ESCAPE not in text


@pytest.mark.parametrize("name", [SHORT, BATCH, LABELS, "make-descaler"])
def test_show_has_every_event_and_every_step(folder: Path, name: str) -> None:
    working = kept(name, answers=ONE_CARTON).through()
    written(folder, record_of(working), "a.json")
    text = run("show", "a.json").stdout
    shown = [int(number) for number in re.findall(r"^ {6}(\d+)  \d\d:\d\d:\d\d  ", text, re.MULTILINE)]
    assert sorted(set(shown)) == list(range(1, len(working.events) + 1))
    for part in working.copy.script.parts:
        reached = {visit.name for visit in working.copy.trail if visit.node >= 0}
        listed = text.replace("\n", " ")
        for step in part.steps:
            assert (f"({step})" if step in reached else f" {step}") in re.sub(r" +", " ", listed), step


def test_several_records_of_a_file_are_all_shown(folder: Path) -> None:
    other = rewritten(
        {**finished(BATCH), "events": [{**each, "copy": "0" * 15 + "2"} for each in finished(BATCH)["events"]]}
    )
    records = [finished(), {**other, "copy": "0" * 15 + "2"}]
    whole = {
        "layout": "tankside-records-1",
        "book": records[0]["book"],
        "records": records,
        "exported": records[0]["exported"],
    }
    written(folder, json.dumps(whole), "a.json")
    done = run("show", "a.json")
    assert done.exit_code == 0
    assert done.stdout.count("\nSTEPS\n") == 2


def test_time_in_another_zone_and_on_another_day_is_said(folder: Path) -> None:
    record = finished()
    for event in record["events"][28:]:
        event["at"] = event["at"].replace("12-01T08", "12-02T01").replace("+00:00", "+02:00")
    written(folder, rewritten(record), "a.json")
    text = run("show", "a.json").stdout
    assert "      28  08:28:00  AB (line-operator)  done\n" in text
    assert "      29  2026-12-02 01:29:00 +02:00  AB (line-operator)  done\n" in text


# --- redlines


def test_redlines_stand_by_procedure_and_step_with_revision_and_content(folder: Path) -> None:
    working = kept("make-descaler")
    part = working.copy.script.parts[-1]
    steps = list(part.steps)
    about = {"procedure": part.procedure, "revision": part.revision}
    working.enter("redline", about="wrong", text="It is the blue one.", step=steps[4], **about)
    working.enter("redline", about="could-not", text="", step=steps[1], **about)
    working.enter("redline", about="near-miss", text="@slip", **about)
    written(folder, record_of(working), "a.json")
    written(folder, record_of(eventful()), "b.json")
    done = run("redlines", "a.json", "b.json")
    assert done.exit_code == 0
    blocks = masked(done.stdout).split("\n\n")
    assert blocks[-1] == "4 red-lines about 2 procedures\n"
    title = part.edition["written"]["title"]
    lines = blocks[0].splitlines()
    assert lines[0] == f"{title} ({part.procedure}), revision {part.revision}, content ########"
    assert next(line for line in lines if re.match(r" {2}\S", line)) == "  about no step"
    order = [line.split(":")[0].split(" ")[-1] for line in lines if re.match(r" {2}\d", line)]
    assert order == [steps[1], steps[4]]
    assert ' it is wrong: "It is the blue one."' in re.sub(r"\s+", " ", blocks[0])
    assert "it cannot be done so" in re.sub(r"\s+", " ", blocks[0])
    assert "working copy 0000000000000001" in re.sub(r"\s+", " ", blocks[0])


def test_redline_names_the_content_that_stands_on_the_sheet_of_the_procedure(folder: Path) -> None:
    # In a checklist, too, the lead mends the procedure.
    working = kept("make-descaler")
    part = working.copy.script.parts[0]
    working.enter("redline", about="wrong", text="x", procedure=part.procedure, revision=part.revision)
    written(folder, record_of(working), "a.json")
    assert f"content {kept(part.procedure).copy.script.hash[:8]}\n" in run("redlines", "a.json").stdout


def test_note_that_follows_a_redline_at_its_step_explains_it(folder: Path) -> None:
    # The page keeps the mark at the first touch, and then asks for words, which are a note.
    working = kept()
    part = working.copy.script.parts[0]
    about = {"procedure": part.procedure, "revision": part.revision, "step": "open-v2"}
    working.enter("note", text="Before it.", **about)
    working.enter("redline", about="wrong", text="", **about)
    working.enter("note", text="Of another step.", **{**about, "step": "open-v3"})
    working.enter("note", text="It turns left.", **about)
    working.enter("redline", about="near-miss", text="", **about)
    working.enter("note", text="A drop fell.", by=SECOND, **about)
    written(folder, record_of(working), "a.json")
    said = re.sub(r"\s+", " ", run("redlines", "a.json").stdout)
    assert 'event 3: it is wrong; note: "It turns left." 2026' in said
    assert 'event 6: somebody was nearly hurt; note: "A drop fell." 2 red-lines' in said
    assert "Before it" not in said


def test_no_redline_is_said(folder: Path) -> None:
    written(folder, finished_text(), "a.json")
    assert run("redlines", "a.json").stdout == "0 red-lines about 0 procedures\n"


# --- csv


def about(lot: str) -> Kept:
    """Return a working copy of a lot that was just begun."""
    working = Kept(demo_editions()[SHORT])
    working.start(lot=lot)
    return working


def rows(folder: Path, what: str) -> list[dict[str, str]]:
    done = run("csv", "--what", what, *sorted(folder.glob("*.json")))
    assert done.exit_code == 0
    return list(csv.DictReader(io.StringIO(done.stdout)))


def test_events_have_a_line_each(folder: Path) -> None:
    working = eventful()
    written(folder, record_of(working), "a.json")
    found = rows(folder, "events")
    assert [each["event"] for each in found] == [str(number) for number in range(1, 49)]
    assert [each["hash"] for each in found] == [event["hash"] for event in working.events]
    assert {each["working_copy"] for each in found} == {"00000000000000ee"}
    assert {each["lot"] for each in found} == {"L-7"}
    assert [(each["kind"], each["corrects_event"]) for each in found if each["corrects_event"]] == [("correct", "14")]


def test_readings_carry_their_limits_and_the_first_value_stays(folder: Path) -> None:
    working = kept().through()
    (read,) = [event for event in working.events if event["kind"] == "read"]
    working.enter("correct", corrects=read["seq"], value="190", unit="mS/cm", reason="misread")
    working.enter("correct", corrects=len(working.events) - 1, value="191", unit="mS/cm", reason="once more")
    written(folder, record_of(working), "a.json")
    (row,) = rows(folder, "readings")
    assert {key: row[key] for key in ("value", "unit", "low", "high", "inside", "instrument", "step")} == {
        **{"value": "180", "unit": "mS/cm", "low": "180", "high": "230", "inside": "yes"},
        **{"instrument": "conductivity-meter", "step": "last-conductivity"},
    }
    assert (row["corrected_value"], row["corrected_because"], row["corrected_by"]) == ("191", "once more", "AB")


def test_additions_carry_material_and_the_lot_on_the_label(folder: Path) -> None:
    written(folder, record_of(eventful()), "a.json")
    found = rows(folder, "additions")
    keys = ("material", "into", "lot_on_label", "value", "target", "total", "inside", "corrected_value")
    assert [tuple(each[key] for key in keys) for each in found] == [
        ("water", "tank", "", "54", "54", "54", "yes", ""),
        ("acid", "tank", "B-1", "5.4", "6", "5.4", "no", "4.5"),
        ("acid", "tank", "B-1", "1.5", "6", "6", "yes", ""),
    ]
    assert found[1]["corrected_seen_by"] == "CD"


def test_labels_are_counted_out_and_in(folder: Path) -> None:
    written(folder, record_of(eventful()), "a.json")
    keys = ("product", "says", "counted", "issued", "used", "spoiled", "left")
    assert [tuple(each[key] for key in keys) for each in rows(folder, "labels")] == [
        ("lemonade", "LM-1", "out", "100", "", "", ""),
        ("lemonade", "", "in", "", "90", "4", "5"),
    ]


@pytest.mark.parametrize(
    "begins",
    ["=1+1", "+1", "-1", "@SUM(A1)", "\tx", "\rx", "\nx", " =1+1", "\u00a0@x", "\uff1d1", "\uff0d1"],
)
def test_cell_that_a_spreadsheet_would_take_for_a_formula_is_text(folder: Path, begins: str) -> None:
    working = kept()
    working.enter("note", text=begins)
    written(folder, record_of(working), "a.json")
    done = run("csv", "a.json")
    *_, last = csv.DictReader(io.StringIO(done.stdout, newline=""))
    assert last["text"] == f"'{begins}"


@pytest.mark.parametrize("lot", ["007", "0", "12-10", "3/4", "1.5.2026", "2026-12-01", "12e3", "1234567890123456"])
def test_lot_of_which_a_spreadsheet_would_make_another_one_is_text(folder: Path, lot: str) -> None:
    written(folder, record_of(about(lot)), "a.json")
    (row,) = rows(folder, "events")
    assert row["lot"] == ("0" if lot == "0" else f"'{lot}")


@pytest.mark.parametrize("lot", ["L-7", "7", "B 12-10", "2026-W49", "1234"])
def test_lot_that_a_spreadsheet_leaves_alone_stands_as_it_is(folder: Path, lot: str) -> None:
    written(folder, record_of(about(lot)), "a.json")
    (row,) = rows(folder, "events")
    assert row["lot"] == lot


def test_number_below_zero_stays_a_number(folder: Path) -> None:
    record = record_of(eventful())
    place = next(place for place, event in enumerate(record["events"]) if event["kind"] == "read")
    record["events"][place].update(value="-5")
    written(folder, rewritten(record), "a.json")
    (first, *_) = rows(folder, "readings")
    assert (first["value"], first["low"], first["due"]) == ("-5", "5", "2027-01-31")


def test_what_a_terminal_obeys_reaches_none_by_any_command(folder: Path) -> None:
    speaking = "\x1b[2J\x9b\u202e\x07"
    record = record_of(about(f"L{speaking}7"))
    record["edition"]["book"] += speaking
    record["edition"]["written"]["procedure"] += speaking
    written(folder, rewritten(record), "a.json")
    for arguments in (("check",), ("check", "--format", "json"), ("list",), ("show",), ("redlines",), ("csv",)):
        output = run(arguments[0], "a.json", *arguments[1:]).output
        assert not set(output) & set(speaking.replace("[2J", "")), arguments
    assert json.loads(run("check", "a.json", "--format", "json").stdout)["records"][0]["lot"] == f"L{speaking}7"


def test_cell_with_commas_quotes_and_lines_comes_back_as_it_was(folder: Path) -> None:
    text = 'one, "two"\nthree = 3'
    working = kept()
    working.enter("note", text=text)
    written(folder, record_of(working), "a.json")
    *_, last = csv.DictReader(io.StringIO(run("csv", "a.json").stdout, newline=""))
    assert last["text"] == text


# --- board


@pytest.fixture
def book(folder: Path) -> Path:
    for part in ("procedures", "checklists", "site_src"):
        shutil.copytree(ROOT / part, folder / "book" / part)
    return folder / "book"


def told(text: str) -> dict[str, list[list[str]]]:
    """Return the rows of a board by piece, words that were wrapped joined again: words, since, lot, by."""
    head, _, rest = text.partition("\n\nPiece")
    assert head == "As far as these records say. Somebody entered it; it never replaces looking."
    table, _, _ = rest.partition("\n\n")
    edges = [0, 22, 54, 72, 84, 100]
    found: dict[str, list[list[str]]] = {}
    rows: list[list[str]] = []
    for line in table.splitlines()[2:]:
        title, *cells = (line[one:other].strip() for one, other in pairwise(edges))
        if cells[1]:
            rows.append([title, *cells])
        else:
            rows[-1] = [f"{one} {other}".strip() for one, other in zip(rows[-1], [title, *cells], strict=True)]
    tag = ""
    for title, *cells in rows:
        tag = title.partition(" ")[0] or tag
        found.setdefault(tag, []).append(cells)
    return found


def test_board_says_what_is_in_each_piece_since_when_and_by_which_lot(folder: Path, book: Path) -> None:
    written(folder, record_of(kept(BATCH, name="000000000000000a").through()), "a.json")
    done = run("board", "a.json", "--book", "book")
    assert (done.exit_code, done.stderr) == (0, "")
    tank = told(done.stdout)["tank-60"]
    assert [each[0] for each in tank] == ["holds 40 to 60 L of acid- descaler", "released", "dirty"]
    events = [(event["step"], event["at"]) for event in json.loads((folder / "a.json").read_text("utf-8"))["events"]]
    (at,) = {at for step, at in events if step == "write-released"}
    assert tank[1][1:] == [f"{at[:10]} {at[11:16]}", "L-7", "blend-descaler write-released"]
    assert "\nNothing is recorded of: " in done.stdout
    assert " tank-250," in done.stdout.replace("\n   ", "").partition("Nothing is recorded of:")[2]
    assert max(map(len, done.stdout.splitlines())) <= 100


def test_board_takes_the_last_word_of_several_records(folder: Path, book: Path) -> None:
    early = kept(SHORT, name="000000000000000b", begun=MORNING).before("shut-v2")
    late = kept(SHORT, name="000000000000000c", begun=MORNING + timedelta(hours=3)).through()
    written(folder, record_of(late), "a.json")
    written(folder, record_of(early), "b.json")
    assert [row[0] for row in told(run("board", "b.json", "--book", "book").stdout)["V2"]] == ["open"]
    both = told(run("board", "a.json", "b.json", "--book", "book").stdout)
    assert [row[0] for row in both["V2"]] == ["shut"]


def test_board_says_of_what_nobody_can_be_sure(folder: Path, book: Path) -> None:
    working = kept(SHORT).before("open-v2")
    working.enter("begin", visit=len(working.copy.trail) - 1)
    written(folder, record_of(working), "a.json")
    assert told(run("board", "a.json", "--book", "book").stdout)["V2"][0] == [
        *("NOT SURE: look at it", "2026-12-01 08:09", "L-7", "bleed-cleaner- line open-v2"),
    ]


def test_board_leaves_records_of_another_book_out_and_says_so(folder: Path, book: Path) -> None:
    written(folder, record_of(eventful()), "a.json")
    done = run("board", "a.json", "--book", "book")
    assert done.exit_code == 0
    assert done.stdout.endswith("\nOf another book, and left out: a.json\n")
    assert told(done.stdout) == {}


def test_board_of_a_folder_without_a_book_or_with_a_broken_one_is_refused(folder: Path, book: Path) -> None:
    written(folder, finished_text(), "a.json")
    (folder / "empty").mkdir()
    assert run("board", "a.json").exit_code == 2
    assert run("board", "a.json", "--book", "empty").exit_code == 2
    (book / "procedures/plant/roles.yaml").unlink()
    done = run("board", "a.json", "--book", "book")
    assert (done.exit_code, done.stdout) == (1, "")
    assert done.stderr.endswith("There is no plant to show.\n")


# --- what the README says


def test_readme_has_a_line_for_each_command_on_record_files() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    shown = set(re.findall(r"^tankside records (\w+) FILES?", readme, re.MULTILINE))
    assert shown == set(records.commands)

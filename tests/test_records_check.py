"""What `tankside records check` finds: an example for each code, records written anew by their owner, several files."""

import ast
import json
import re
from pathlib import Path
from typing import Any

import pytest
from record_checking import checked, codes, problems_of
from record_examples import ELSEWHERE, EXAMPLES, beginning, otherwise
from record_files import (
    BATCH,
    LABELS,
    ONE_CARTON,
    SHORT,
    Record,
    finished,
    finished_text,
    kept,
    record_of,
    rewritten,
    text_of,
    written,
)

from tankside.records.chain import chained
from tankside.records.checking import check_files
from tankside.records.sorts import RECORD

PACKAGE = Path(__file__).parent.parent / "tools/tankside/records"
CODE = re.compile(r"record-[a-z0-9-]+")


# --- every code


@pytest.mark.parametrize("code", EXAMPLES)
def test_example_raises_its_code_and_only_it(tmp_path: Path, code: str) -> None:
    make, severity, message = EXAMPLES[code]
    found = checked(tmp_path, *make()).problems
    said = [re.sub(r"\b[0-9a-f]{8}\b", "########", each.message.replace(f"{tmp_path}/", "")) for each in found]
    assert [(each.code, each.severity.value) for each in found] == [(code, severity)], said
    assert said == [message]
    assert found[0].hint


def test_every_code_of_the_source_has_an_example_and_no_example_is_left_over() -> None:
    trees = (ast.parse(path.read_text(encoding="utf-8")) for path in PACKAGE.glob("*.py"))
    texts = (node.value for tree in trees for node in ast.walk(tree) if isinstance(node, ast.Constant))
    found = {text for text in texts if isinstance(text, str) and CODE.fullmatch(text)}
    assert found | {*RECORD.codes} == EXAMPLES.keys() | ELSEWHERE.keys()


def test_example_elsewhere_is_there() -> None:
    for code, name in ELSEWHERE.items():
        assert code in (Path(__file__).parent / name).read_text(encoding="utf-8").replace(f'"{code}": "{name}"', "")


# --- what was written anew in a sound chain is judged by the edition


def numbers_in(record: Record) -> list[tuple[int, str]]:
    """Return where a record has figures that its edition makes."""
    keys = ("target", "low", "high", "total", "inside")
    return [(place, key) for place, event in enumerate(record["events"]) for key in keys if key in event]


@pytest.mark.parametrize("name", [SHORT, BATCH])
def test_figure_that_was_changed_under_a_new_chain_is_found(tmp_path: Path, name: str) -> None:
    found = numbers_in(finished(name))
    assert len(found) == {SHORT: 3, BATCH: 21}[name]
    for place, key in found:
        record = finished(name)
        event = record["events"][place]
        event[key] = not event[key] if key == "inside" else f"{event[key] or '1'}1"
        (problem,) = problems_of(tmp_path, rewritten(record))
        assert problem.code == "record-figure"
        assert f"event {place + 1} " in problem.message
        assert f"'{key}' is" in problem.message


def test_amount_that_was_changed_under_a_new_chain_no_longer_fits_what_is_in(tmp_path: Path) -> None:
    record = finished(BATCH)
    pours = [place for place, event in enumerate(record["events"]) if event["kind"] == "pour"]
    assert len(pours) == 3
    for place in pours:
        record = finished(BATCH)
        # A thousandth more is within every tolerance.
        record["events"][place]["value"] += "001" if "." in record["events"][place]["value"] else ".001"
        (problem,) = problems_of(tmp_path, rewritten(record))
        assert (problem.code, "'total' is" in problem.message) == ("record-figure", True)


def test_figure_with_idle_zeros_is_the_same(tmp_path: Path) -> None:
    record = finished()
    (read,) = [event for event in record["events"] if event["kind"] == "read"]
    read["low"] += ".000"
    assert codes(tmp_path, rewritten(record)) == []


def test_reading_that_its_owner_wrote_anew_within_limits_cannot_be_seen(tmp_path: Path) -> None:
    # The honest limit of all this: see the words at the head of 'tankside records show'.
    record = finished()
    (read,) = [event for event in record["events"] if event["kind"] == "read"]
    read["value"] = "201"
    assert codes(tmp_path, rewritten(record)) == []


def test_events_behind_one_that_was_refused_are_said_not_to_be_judged(tmp_path: Path) -> None:
    record = finished()
    record["events"][5]["visit"] = 99
    (problem,) = problems_of(tmp_path, rewritten(record))
    assert problem.message == "event 6 (mark) is about a step to which the way had not led"
    assert problem.hint.endswith("; the 24 events behind it were not judged")


def test_several_acts_that_were_not_allowed_are_all_found(tmp_path: Path) -> None:
    record = finished()
    for event in record["events"]:
        if event["kind"] in ("release", "second"):
            event["who"], event["role"] = "AB", "line-operator"
    assert codes(tmp_path, rewritten(record)) == ["record-wrong-role", "record-same-person"]


def test_role_that_somebody_did_not_have_is_found_and_the_rest_is_judged(tmp_path: Path) -> None:
    record = finished()
    record["events"][7]["role"] = "workshop-lead"
    record["events"][17]["low"] = "170"
    assert codes(tmp_path, rewritten(record)) == ["record-wrong-role", "record-figure"]


def test_first_broken_place_is_told_and_what_stands_before_it(tmp_path: Path) -> None:
    record = finished()
    record["events"][9]["who"], record["events"][20]["who"] = "XY", "XY"
    found = checked(tmp_path, text_of(record))
    assert [each.message for each in found.problems] == [
        "event 10 (mark) was changed after it was entered",
        "event 21 (mark) was changed after it was entered",
    ]
    assert found.problems[0].hint.startswith("the 9 before it hold together; ")
    assert len(found.records[0].entries) == 9


def test_event_that_has_not_the_shape_of_one_ends_what_is_judged(tmp_path: Path) -> None:
    record = finished()
    record["events"][9]["clock"] = "noon"
    found = checked(tmp_path, text_of(record))
    assert [each.message for each in found.problems] == [
        "event 10 (mark): 'clock' 'noon' has not the form expected here"
    ]
    assert len(found.records[0].entries) == 9


def test_count_that_names_what_is_counted_elsewhere_is_no_account(tmp_path: Path) -> None:
    # "issued" beside what is put away would be taken for labels that are only taken out, which leave none to miss.
    record = record_of(kept(LABELS, answers=ONE_CARTON).through())
    (event,) = (each for each in record["events"] if each["kind"] == "count" and "used" in each)
    event.update(issued=0, used=1)
    (problem,) = problems_of(tmp_path, rewritten(record))
    assert problem.code == "record-refused"
    assert problem.message.endswith(" (count) has no number that the step can take")


# --- remarks


def test_sound_records_of_the_demonstration_raise_nothing(tmp_path: Path) -> None:
    for name, answers in ((SHORT, {}), (BATCH, {}), (LABELS, ONE_CARTON)):
        assert codes(tmp_path, record_of(kept(name, answers=answers).through())) == []


def test_correction_that_leads_outside_is_a_remark(tmp_path: Path) -> None:
    working = kept().through()
    (read,) = [event for event in working.events if event["kind"] == "read"]
    working.enter("correct", corrects=read["seq"], value="250", unit="mS/cm", reason="misread")
    (problem,) = problems_of(tmp_path, record_of(working))
    assert problem.message == (
        "event 31 (correct) corrects the reading to 250 mS/cm at 'last-conductivity', "
        "the limits are 180 mS/cm to 230 mS/cm"
    )


def test_time_of_day_may_go_on_in_another_zone(tmp_path: Path) -> None:
    record = finished()
    for event in record["events"][10:]:
        event["at"] = event["at"].replace("T08", "T10").replace("+00:00", "+02:00")
    assert codes(tmp_path, rewritten(record)) == []


def test_clock_of_the_page_that_ran_backwards_is_a_remark(tmp_path: Path) -> None:
    record = finished()
    record["events"][10]["clock"] -= 61_000
    (problem,) = problems_of(tmp_path, rewritten(record))
    assert (
        problem.message == "event 11 (mark) was entered 1 s before the event that it follows: the clock ran backwards"
    )


# --- several files


def test_same_copy_in_three_files_is_counted_once_and_the_longest_counts(tmp_path: Path) -> None:
    found = checked(tmp_path, text_of(beginning(finished())), finished_text(), finished_text())
    assert [each.code for each in found.problems] == ["record-shorter", "record-same"]
    (record,) = found.records
    assert record.path == f"{tmp_path}/1.json"


def test_remarks_of_a_copy_are_said_once(tmp_path: Path) -> None:
    whole = text_of(beginning(finished()))
    assert codes(tmp_path, whole, whole) == ["record-not-finished", "record-same"]


def test_contradiction_names_the_first_event_that_differs(tmp_path: Path) -> None:
    found = problems_of(tmp_path, otherwise(finished()), finished_text())
    assert [each.message for each in found] == [f"event 9 (note) differs from the same event in {tmp_path}/1.json"]
    assert str(found[0].span).startswith(f"{tmp_path}/0.json:1:")


def test_file_that_is_named_twice_is_read_once(tmp_path: Path) -> None:
    path = written(tmp_path, finished_text())
    assert check_files([path, path]).problems == ()


def test_broken_file_does_not_keep_others_from_being_judged(tmp_path: Path) -> None:
    found = checked(tmp_path, finished_text()[:-9], finished_text())
    assert [each.code for each in found.problems] == ["record-cut-off"]
    assert len(found.records) == 1


def test_ten_thousand_events_are_read_and_judged(tmp_path: Path) -> None:
    working = kept()
    before: Any = working.events[-1]
    note = {**before, "kind": "note", "text": "The floor is wet."}
    for key in ("people", "inputs", "lot", "product", "bottle", "confirmed", "shown"):
        del note[key]
    events = [before]
    for _ in range(9_999):
        events.append(chained(note, events[-1]))
    found = checked(tmp_path, text_of({**record_of(working), "events": events}))
    assert [each.code for each in found.problems] == ["record-not-finished"]
    assert len(found.records[0].entries) == 10_000


def test_half_of_a_character_that_a_keyboard_left_behind_is_no_fault(tmp_path: Path) -> None:
    # A browser keeps it and writes it as its escape (ECMA-262, well-formed JSON.stringify).
    working = kept()
    working.enter("note", text="wet \ud83d")
    text = json.dumps(record_of(working), ensure_ascii=True)
    assert codes(tmp_path, text) == ["record-not-finished"]

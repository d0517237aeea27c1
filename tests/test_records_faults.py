"""Whatever may befall a record file of its own accord, or by a careless hand, is found and said."""

import json
from collections.abc import Callable
from pathlib import Path
from random import Random
from typing import Any

import pytest
from record_checking import checked, codes, problems_of
from record_examples import beginning
from record_files import finished, finished_text, kept, record_of, rewritten, text_of, written

from tankside.records.checking import check_files

#: said by the device, in no hash, and read by nothing that judges or shows
UNJUDGED = ("site", "shown", "exported")


def judged_part(text: str) -> Any:
    """Return what is judged of a record, None for a text that is none."""
    try:
        value = json.loads(text)
    except ValueError:
        return None
    return {key: each for key, each in value.items() if key not in UNJUDGED} if isinstance(value, dict) else None


def is_found(folder: Path, text: str) -> bool:
    return any(each.severity.value == "error" for each in problems_of(folder, text))


def test_any_character_that_is_another_one_is_found_or_changes_nothing_that_is_judged(tmp_path: Path) -> None:
    chance, text = Random(1), json.dumps(finished(), indent=1, ensure_ascii=False)
    missed, harmless = [], 0
    for place in chance.sample(range(len(text)), 200):
        other = chance.choice([each for each in '\n 0aZ"{]:,\\é' if each != text[place]])
        changed = text[:place] + other + text[place + 1 :]
        if judged_part(changed) == judged_part(text):
            harmless += 1
        elif not is_found(tmp_path, changed):
            missed.append(changed[place - 30 : place + 30])
    assert missed == []
    assert harmless < 60


def test_any_bit_that_falls_over_is_found_or_changes_nothing_that_is_judged(tmp_path: Path) -> None:
    chance, data = Random(2), finished_text().encode("utf-8")
    for place in chance.sample(range(len(data)), 100):
        changed = bytearray(data)
        changed[place] ^= 1 << chance.randrange(8)
        found = check_files([written(tmp_path, bytes(changed))]).problems
        if not found:
            assert judged_part(changed.decode("utf-8")) == judged_part(finished_text()), place


@pytest.mark.parametrize("place", range(29))
def test_event_that_is_taken_out_is_found_where_it_is_missing(tmp_path: Path, place: int) -> None:
    record = finished()
    del record["events"][place]
    (problem,) = problems_of(tmp_path, record)
    assert problem.code == "record-events-missing"
    assert problem.message.startswith(f"event {place + 1} ")
    assert problem.hint.startswith(
        {0: "nothing before it is left", 1: "the one before it holds"}.get(
            place, f"the {place} before it hold together"
        )
    )


def test_end_that_is_taken_off_cannot_be_seen_and_nobody_says_that_it_can(tmp_path: Path) -> None:
    assert codes(tmp_path, beginning(finished())) == ["record-not-finished"]
    # With the last event gone the work is not finished; with notes after its end gone, nothing at all is to be seen.
    record = kept().through()
    record.enter("note", text="The pail leaks.")
    whole = record_of(record)
    assert codes(tmp_path, whole) == codes(tmp_path, {**whole, "events": whole["events"][:-1]}) == []


@pytest.mark.parametrize("place", range(30))
def test_event_that_stands_twice_is_found_and_counts_once(tmp_path: Path, place: int) -> None:
    for into in (place, place + 1, 30):
        record = finished()
        record["events"].insert(into, record["events"][place])
        found = checked(tmp_path, text_of(record))
        assert [each.code for each in found.problems] == ["record-event-twice"]
        assert len(found.records[0].entries) == 30


@pytest.mark.parametrize("place", range(29))
def test_events_that_changed_places_are_found_and_the_chain_has_their_order(tmp_path: Path, place: int) -> None:
    for other in {place + 1, 29}:
        record = finished()
        events = record["events"]
        events[place], events[other] = events[other], events[place]
        found = checked(tmp_path, text_of(record))
        assert {each.code for each in found.problems} == {"record-event-order"}
        assert found.records[0].hashes == [event["hash"] for event in finished()["events"]]


def test_any_key_of_an_event_that_is_changed_is_found_at_that_event(tmp_path: Path) -> None:
    keys = finished()["events"][5]
    assert len(keys) == 18
    for key, value in keys.items():
        record = finished()
        other = "b" if str(value)[-1:] != "b" else "c"
        record["events"][5][key] = value + 1 if isinstance(value, int) else f"{value[:-1]}{other}"
        (problem,) = problems_of(tmp_path, record)
        assert problem.message.startswith("event 6 "), key
        assert problem.code in ("record-event-changed", "record-value"), key


def test_file_that_was_cut_off_anywhere_is_found(tmp_path: Path) -> None:
    chance, text = Random(3), finished_text()
    for length in chance.sample(range(len(text)), 50):
        (problem,) = problems_of(tmp_path, text[:length])
        assert problem.code in ("record-cut-off", "record-not-json")
    assert codes(tmp_path, text[: text.index("layout") // 2]) == ["record-cut-off"]


def places_in(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Return the ways to everything inside a value."""
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [each for key, inner in items for each in ((*path, key), *places_in(inner, (*path, key)))]


#: what is said where Python has only its own words
ODD_VALUE = "a value in it has not the form that it has in an edition"


def inner(edition: Any) -> Any:
    """Return the edition of the first part of a checklist."""
    return edition["parts"][0]["edition"]


def odd_effects(edition: Any) -> dict[str, Any]:
    """Return effects of all steps of the first part that are about nothing."""
    return {node["step"]: [{"kind": "sets"}] for node in edition["parts"][0]["program"]["nodes"]}


def put(value: Any, path: tuple[Any, ...], inner: Any) -> None:
    for key in path[:-1]:
        value = value[key]
    value[path[-1]] = inner


def test_edition_that_was_changed_anywhere_is_found(tmp_path: Path) -> None:
    chance = Random(4)
    for path in chance.sample(places_in(finished()["edition"]), 60):
        if path == ("layout",):
            continue
        record = finished()
        put(record["edition"], path, "changed")
        assert codes(tmp_path, record) == ["record-edition-differs"]


def test_edition_of_any_shape_under_a_chain_made_anew_ends_in_words(tmp_path: Path) -> None:
    # Only its owner can make such a file; it must not be able to stop whoever judges many.
    chance, said = Random(5), set()
    places = places_in(finished()["edition"])
    for _ in range(150):
        record = finished()
        path = chance.choice([each for each in places if len(each) <= chance.choice((1, 2, 3, 4, 9))])
        put(record["edition"], path, chance.choice((None, "", {}, [], 7, "99", "no-such")))
        said |= set(codes(tmp_path, rewritten(record)))
    assert "record-not-followed" in said


def test_way_that_leads_round_is_no_edition(tmp_path: Path) -> None:
    # Looking ahead on it would never end.
    record = finished()
    program = record["edition"]["program"]
    for number, node in enumerate(program["nodes"]):
        node["exits"] = [{"to": str(number)}]
    record["edition"]["written"]["followed"] = "do then check"
    (problem,) = problems_of(tmp_path, rewritten(record))
    assert problem.code == "record-not-followed"
    assert "the way leads round at '" in problem.message


#: what its owner might write into an edition -> what is met there
ODD: dict[str, tuple[Callable[[Any], object], str]] = {
    "no parts": (lambda edition: edition.update(parts=[]), "it has 0 parts"),
    "no way in": (lambda edition: edition["parts"][0]["program"].update(start="decides"), "no way leads in"),
    "no rules": (lambda edition: inner(edition).update(fold_rules={"lines": []}), "it has no 'held'"),
    "effects": (lambda edition: inner(edition)["effects"].update(odd_effects(edition)), ODD_VALUE),
    "volumes": (lambda edition: inner(edition)["volumes"].update(x={"litres": "x"}), ODD_VALUE),
    "seen": (lambda edition: inner(edition)["seen"].update(x=[{"kind": "smells"}]), "it has no 'smells'"),
    "stopping": (lambda edition: inner(edition).update(stopping=7), ODD_VALUE),
    "asked": (lambda edition: inner(edition)["written"].update(prerequisites=7), ODD_VALUE),
}


@pytest.mark.parametrize("name", ODD)
def test_edition_that_no_page_could_follow_is_said_in_words_by_every_command(tmp_path: Path, name: str) -> None:
    change, met = ODD[name]
    record = record_of(kept("make-descaler"))
    change(record["edition"])
    (problem,) = problems_of(tmp_path, rewritten(record))
    assert problem.message == f"the edition in this file cannot be followed: {met}"

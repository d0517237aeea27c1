"""For each code of a problem of a record an example that raises it and only it, and what is said."""

import json
from collections.abc import Callable
from typing import Any

from record_files import (
    BATCH,
    SHORT,
    Kept,
    Record,
    finished,
    finished_text,
    kept,
    record_of,
    rewritten,
    text_of,
)

from tankside.records.chain import chained, event_hash

#: what makes the texts of files -> how bad it is, and the message; digits of hashes are taken out of it
Example = tuple[Callable[[], list[str]], str, str]


def one(make: Callable[[], Record | str]) -> Callable[[], list[str]]:
    def texts() -> list[str]:
        made = make()
        return [made if isinstance(made, str) else text_of(made)]

    return texts


def edited(place: int, **changed: Any) -> Callable[[], list[str]]:
    """Return what makes a record in which one event was changed, and nothing else."""

    def make() -> Record:
        record = finished()
        record["events"][place].update(changed)
        return record

    return one(make)


def forged(place: int, name: str = SHORT, **changed: Any) -> Callable[[], list[str]]:
    """Return what makes a record in which one event was changed, and the chain made anew."""

    def make() -> Record:
        record = finished(name)
        record["events"][place].update(changed)
        return rewritten(record)

    return one(make)


def frame(**changed: Any) -> Callable[[], list[str]]:
    return one(lambda: {**finished(), **changed})


def listed(change: Callable[[list[Any]], None]) -> Callable[[], list[str]]:
    """Return what makes a record in whose list of events something was done."""

    def make() -> Record:
        record = finished()
        change(record["events"])
        return record

    return one(make)


def place_of(record: Record, kind: str) -> int:
    return next(place for place, event in enumerate(record["events"]) if event["kind"] == kind)


def swapped(events: list[Any]) -> None:
    events[5], events[6] = events[6], events[5]


def replaced(events: list[Any]) -> None:
    """Put another event in the place of one, with a hash of its own; those behind it still name the old one."""
    events[5] = chained({**events[5], "at": "2026-12-01T08:06:30.000+00:00"}, events[4])


def beside(events: list[Any]) -> None:
    """Put in a second event that follows the same one."""
    events.insert(6, chained({**events[5], "at": "2026-12-01T08:06:30.000+00:00"}, events[4]))


def foreign(key: str, value: str) -> Callable[[list[Any]], None]:
    def put(events: list[Any]) -> None:
        other = {**events[3], key: value, "previous": "ab" * 32}
        events.insert(5, {**other, "hash": event_hash(other)})

    return put


def miscounted() -> Record:
    """Return a record whose last event has a number too many, with a hash of its own."""
    record = finished()
    last = record["events"][-1]
    last["seq"] += 1
    last["hash"] = event_hash(last)
    return record


def edition_of(change: Callable[[Any], None]) -> Callable[[], list[str]]:
    """Return what makes a record with another edition, and a chain made anew over it."""

    def make() -> Record:
        record = finished()
        change(record["edition"])
        return rewritten(record)

    return one(make)


def without_program(edition: Any) -> None:
    del edition["program"]


def copy(act: Callable[[Kept], Any], name: str = SHORT) -> Callable[[], list[str]]:
    """Return what makes a record of a working copy at which something happened."""

    def make() -> Record:
        working = kept(name)
        act(working)
        return record_of(working)

    return one(make)


def with_reading_outside(working: Kept) -> None:
    working.until(lambda visit: visit.kind == "measure")
    visit = working.copy.now
    assert visit is not None
    at = {"visit": working.copy.trail.index(visit)}
    tag = working.copy.step_of(visit)["instrument"]
    working.enter("checked", instrument=tag, due="")
    working.enter("read", instrument=tag, due="", value="12.5", unit="mS/cm", **at)
    entered = len(working.events) - 1
    working.enter("correct", corrects=entered, value="200", unit="mS/cm", reason="slip of the pen", second="CD")
    working.through()


def with_nobody_else(working: Kept) -> None:
    working.before("right-drum")
    at = {"visit": len(working.copy.trail) - 1}
    working.enter("mark", answer="yes", **at)
    working.enter("alone", reason="CD was called away", **at)
    working.through()


def from_paper(working: Kept) -> None:
    typed = {"paper": "K7M4P9TXC", "entered_at": "2026-12-01T10:00:00.000+00:00"}
    for _ in range(2):
        assert working.copy.now is not None
        working.enter("mark", answer="yes", visit=working.copy.trail.index(working.copy.now), **typed)
    working.begun = working.now
    working.now = working.now.replace(hour=11)
    working.through()


def given_up(working: Kept) -> None:
    working.step()
    working.enter("abandon", reason="The fire alarm rang.")


def cut_short(working: Kept) -> None:
    working.answers = {"label-released": "no"}
    working.until(lambda visit: visit.node < 0)
    working.enter("decide", visit=len(working.copy.trail) - 1, then="end", reason="no lot today")
    working.enter("finish")


def behind_the_clock() -> Record:
    record = finished()
    for event in record["events"][10:]:
        event["at"] = event["at"].replace("T08", "T07")
    return rewritten(record)


def too_early() -> Record:
    record = finished(BATCH)
    place = place_of(record, "begin")
    record["events"][place + 1]["clock"] = record["events"][place]["clock"] + 299_999
    for number, event in enumerate(record["events"][place + 2 :]):
        event["clock"] = record["events"][place + 1]["clock"] + 1000 * number
    return rewritten(record)


def by_the_wrong_role() -> Record:
    record = finished()
    event = record["events"][place_of(record, "release")]
    event["who"], event["role"] = "AB", "line-operator"
    return rewritten(record)


def by_the_same_person() -> Record:
    record = finished()
    event = record["events"][place_of(record, "second")]
    event["who"], event["role"] = "AB", "line-operator"
    return rewritten(record)


def otherwise(record: Record) -> Record:
    """Return a record that begins alike and goes on in another way, whole in itself."""
    events = record["events"][:8]
    note = {**events[-1], "kind": "note", "text": "another story", "at": "2026-12-01T08:30:00.000+00:00"}
    del note["visit"]
    return {**record, "events": [*events, chained(note, events[-1])]}


def twice(change: Callable[[Record], Record]) -> Callable[[], list[str]]:
    return lambda: [finished_text(), text_of(change(finished()))]


def beginning(record: Record) -> Record:
    return {**record, "events": record["events"][:8]}


EXAMPLES: dict[str, Example] = {
    "record-abandoned": (copy(given_up), "remark", "event 3 (abandon) gives the work up: 'The fire alarm rang.'"),
    "record-book-differs": (
        frame(book="another-book"),
        "error",
        "the file names the book 'another-book', its edition is of 'cafe-cleaning-workshop'",
    ),
    "record-clock": (
        one(behind_the_clock),
        "remark",
        "event 11 (mark) was entered 59 min before the event that it follows: the clock ran backwards",
    ),
    "record-contradicts": (
        twice(otherwise),
        "error",
        "event 9 (note) differs from the same event in 0.json",
    ),
    "record-copy-differs": (
        frame(copy="0000000000000002"),
        "error",
        "the file names the working copy '0000000000000002', its events belong to '0000000000000001'",
    ),
    "record-cut-off": (one(lambda: finished_text()[:-40]), "error", "this file ends in the middle of a record"),
    "record-cut-short": (
        copy(cut_short),
        "remark",
        "event 9 (decide) ends the work before its last step: 'no lot today'",
    ),
    "record-edition-differs": (
        one(lambda: finished_text().replace('"approved":"workshop-lead"', '"approved":"line-operator"')),
        "error",
        "the events follow edition ########, and the one in this file is ########",
    ),
    "record-edition-layout": (
        edition_of(lambda edition: edition.update(layout="tankside-edition-2")),
        "error",
        "this version cannot follow an edition of the layout 'tankside-edition-2'",
    ),
    "record-event-beside": (
        listed(beside),
        "error",
        "event 7 (mark) stands beside the chain: another event has its number",
    ),
    "record-event-changed": (edited(5, who="CD"), "error", "event 6 (mark) was changed after it was entered"),
    "record-event-number": (one(miscounted), "error", "event 30 (finish) has the number of event 31"),
    "record-event-order": (
        listed(swapped),
        "error",
        "event 6 (mark) stands before event 7, which it follows",
    ),
    "record-event-twice": (
        listed(lambda events: events.insert(9, events[4])),
        "error",
        "event 10 (mark) is event 5 once more",
    ),
    "record-event-unlinked": (
        listed(replaced),
        "error",
        "event 7 (mark) follows another event than the one before it here",
    ),
    "record-events-missing": (
        listed(lambda events: events.__delitem__(slice(5, 8))),
        "error",
        "event 6 (mark) follows none that is here: 3 events are missing before it",
    ),
    "record-figure": (
        forged(17, low="170"),
        "error",
        "event 18 (read): 'low' is '170', the edition makes it '180'",
    ),
    "record-foreign": (one(lambda: '{"layout": "sheet-1"}'), "error", "layout 'sheet-1' is not that of a record"),
    "record-from-paper": (
        copy(from_paper),
        "remark",
        "event 2 (mark) and 1 more behind it were taken over from paper, sheet 'K7M4P9TXC'",
    ),
    "record-key-missing": (
        one(lambda: finished_text().replace('"device":"d1",', "", 1)),
        "error",
        "event 1 (start): key 'device' is missing",
    ),
    "record-key-twice": (
        one(lambda: finished_text().replace('"device":"d1",', '"device":"d1","device":"d2",', 1)),
        "error",
        "key 'device' stands twice here, and readers differ in which one counts",
    ),
    "record-key-unknown": (edited(5, mood="good"), "error", "event 6 (mark): key 'mood' is not known here"),
    "record-misnamed": (
        forged(5, step="run-off"),
        "error",
        "event 6 (mark) names the step 'run-off'; it is about 'guard-down'",
    ),
    "record-newer": (
        one(lambda: finished_text().replace("tankside-record-1", "tankside-record-2")),
        "error",
        "layout 'tankside-record-2' is newer than this version knows",
    ),
    "record-not-finished": (
        one(lambda: beginning(finished())),
        "remark",
        "event 8 (mark) is the last one, and the work is not finished",
    ),
    "record-not-followed": (
        edition_of(without_program),
        "error",
        "the edition in this file cannot be followed: it has no 'program'",
    ),
    "record-not-independent": (
        copy(with_nobody_else),
        "remark",
        "event 22 (alone) says that nobody looked a second time at 'right-drum': 'CD was called away'",
    ),
    "record-not-json": (one(lambda: f"{finished_text()}]"), "error", "this is not JSON: extra data"),
    "record-number": (
        one(lambda: finished_text().replace('"clock":60000', '"clock":60000.0', 1)),
        "error",
        "'60000.0' is not a whole number of at most 15 digits",
    ),
    "record-older": (
        one(lambda: finished_text().replace("tankside-record-1", "tankside-record-0")),
        "error",
        "layout 'tankside-record-0' is older than any that was ever published",
    ),
    "record-other-copy": (
        listed(foreign("copy", "0000000000000002")),
        "error",
        "event 6 (mark) belongs to another working copy, 0000000000000002",
    ),
    "record-other-edition": (
        listed(foreign("edition", "cd" * 32)),
        "error",
        "event 6 (mark) follows another edition, ########",
    ),
    "record-reading-outside": (
        copy(with_reading_outside),
        "remark",
        "event 18 (read) reads 12.5 mS/cm at 'last-conductivity', the limits are 180 mS/cm to 230 mS/cm",
    ),
    "record-refused": (
        forged(5, answer="perhaps"),
        "error",
        "event 6 (mark) gives an answer that the step does not know",
    ),
    "record-same": (
        lambda: [finished_text(), json.dumps(finished())],
        "remark",
        "this is the same working copy as in 0.json, event by event",
    ),
    "record-same-person": (
        one(by_the_same_person),
        "error",
        "event 22 (second) was entered by the person who must not be the same",
    ),
    "record-shorter": (twice(beginning), "remark", "this is the beginning of 0.json: 8 of its 30 events"),
    "record-shown-differs": (
        one(lambda: {**finished(), "shown": {**finished()["shown"], "title": "Something else"}}),
        "error",
        "what a page would show of it is not what it showed when the work was begun",
    ),
    "record-time": (
        forged(5, at="2026-13-41T08:06:00.000+00:00"),
        "error",
        "event 6 (mark): '2026-13-41T08:06:00.000+00:00' under 'at' is no time that a clock can show",
    ),
    "record-too-deep": (
        one(lambda: finished_text().replace('"shown":{', f'"shown":{{"a":{"[" * 70}{"]" * 70},', 1)),
        "error",
        "this is nested more than 60 deep",
    ),
    "record-value": (
        edited(5, role="the boss"),
        "error",
        "event 6 (mark): 'role' 'the boss' has not the form expected here",
    ),
    "record-wait-short": (
        one(too_early),
        "error",
        "event 47 (mark) ends the wait 'wait-bubbles-to-leave' after 4 min 59 s, the step says 5 min",
    ),
    "record-wrong-role": (
        one(by_the_wrong_role),
        "error",
        "event 20 (release) was entered in a role that may not do this here",
    ),
}
#: codes with an example elsewhere: what a text alone cannot bring about
ELSEWHERE = {
    "record-too-big": "test_records_files.py",
    "record-unreadable": "test_records_files.py",
    "record-not-utf-8": "test_records_files.py",
    "record-edition-unknown": "test_records_origins.py",
    "record-other-book": "test_records_origins.py",
}

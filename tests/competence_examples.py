"""For each code of a problem of a competence file an example that raises it and only it, and what is said."""

import json
from collections.abc import Callable
from typing import Any

from competence_making import SEEN, TAUGHT, File, Making, rechained, usual

from tankside.records.chain import chained, content_hash, event_hash

#: what makes the files -> how bad it is, and the message; digits of hashes are taken out of it
Example = tuple[Callable[[], list[File | str]], str, str]


def one(make: Callable[[], File | str]) -> Callable[[], list[File | str]]:
    return lambda: [make()]


def text(change: Callable[[str], str]) -> Callable[[], list[File | str]]:
    return one(lambda: change(json.dumps(usual().file, separators=(",", ":"))))


def frame(**changed: Any) -> Callable[[], list[File | str]]:
    return one(lambda: {**usual().file, **changed})


def edited(place: int, **changed: Any) -> Callable[[], list[File | str]]:
    """Return what makes a file in which one event was changed, and nothing else."""
    return listed(lambda events: events[place].update(changed))


def forged(place: int, **changed: Any) -> Callable[[], list[File | str]]:
    """Return what makes a file in which one event was changed, and the chain made anew."""

    def make() -> File:
        file = usual().file
        file["events"][place].update(changed)
        return rechained(file)

    return one(make)


def listed(change: Callable[[list[Any]], Any]) -> Callable[[], list[File | str]]:
    """Return what makes a file in whose list of events something was done."""

    def make() -> File:
        file = usual().file
        change(file["events"])
        return file

    return one(make)


def entered(act: Callable[[Making], Any]) -> Callable[[], list[File | str]]:
    """Return what makes a file into which more was entered."""

    def make() -> File:
        making = usual()
        act(making)
        return making.file

    return one(make)


def swapped(events: list[Any]) -> None:
    events[3], events[4] = events[4], events[3]


def replaced(events: list[Any]) -> None:
    events[5] = chained({**events[5], "at": "2026-05-26T11:00:00.000+00:00"}, events[4])


def beside(events: list[Any]) -> None:
    events.insert(6, chained({**events[5], "at": "2026-05-26T11:00:00.000+00:00"}, events[4]))


def foreign(key: str, value: str) -> Callable[[list[Any]], None]:
    def put(events: list[Any]) -> None:
        other = {**events[3], key: value, "previous": "ab" * 32}
        events.insert(5, {**other, "hash": event_hash(other)})

    return put


def miscounted(events: list[Any]) -> None:
    last = events[-1]
    last["seq"] += 1
    last["hash"] = event_hash(last)


def without_first() -> File:
    file = usual().file
    return rechained({**file, "events": file["events"][-1:]})


def another_taught() -> File:
    """Return a file in which what was taught was changed under its hash."""
    file = usual().file
    (held,) = file["taught"].values()
    held["elements"][1]["says"] = "Most: 110 L"
    return file


def nothing_held() -> File:
    """Return a file whose last event names what was taught, and the file does not hold it."""
    making = usual()
    making.drill("2026-06-10", {**TAUGHT, "revision": 2})
    file = making.file
    file["taught"] = {content_hash(TAUGHT): TAUGHT}
    return file


def on_another_device(making: Making) -> File:
    """Return a file that begins alike and goes on in another way, whole in itself."""
    events = making.events[:6]
    other = {**events[-1], "at": "2026-05-27T10:00:00.000+00:00", "choice": "Open V2", "right": False}
    return {**making.file, "events": [*events, chained(other, events[-1])]}


def another_chain() -> File:
    making = Making(name="00000000000000aa", begun="2026-06-15")
    making.read("2026-07-01")
    return making.file


EXAMPLES: dict[str, Example] = {
    "competence-begin": (
        one(without_first),
        "error",
        "event 1 (appointed) is the first one, and none says whose competence this is and for which role",
    ),
    "competence-clock": (
        entered(lambda making: making.read("2026-05-30")),
        "remark",
        "event 10 (signed) was entered 95 h 59 min before the event that it follows: the clock ran backwards",
    ),
    "competence-contradicts": (
        lambda: [usual().file, on_another_device(usual())],
        "error",
        "event 7 (answered) differs from the same event in 0.json",
    ),
    "competence-cut-off": (
        text(lambda whole: whole[:-40]),
        "error",
        "this file ends in the middle of a competence record",
    ),
    "competence-event-beside": (
        listed(beside),
        "error",
        "event 7 (answered) stands beside the chain: another event has its number",
    ),
    "competence-event-changed": (
        edited(4, result="needs-more"),
        "error",
        "event 5 (signed) was changed after it was entered",
    ),
    "competence-event-number": (
        listed(miscounted),
        "error",
        "event 9 (appointed) has the number of event 10",
    ),
    "competence-event-order": (listed(swapped), "error", "event 4 (signed) stands before event 5, which it follows"),
    "competence-event-twice": (
        listed(lambda events: events.insert(6, events[4])),
        "error",
        "event 7 (signed) is event 5 once more",
    ),
    "competence-event-unlinked": (
        listed(replaced),
        "error",
        "event 7 (drill) follows another event than the one before it here",
    ),
    "competence-events-missing": (
        listed(lambda events: events.__delitem__(slice(4, 6))),
        "error",
        "event 5 (drill) follows none that is here: 2 events are missing before it",
    ),
    "competence-foreign": (
        one(lambda: '{"layout": "tankside-record-1"}'),
        "error",
        "layout 'tankside-record-1' is not that of a competence record",
    ),
    "competence-key-missing": (
        text(lambda whole: whole.replace('"device":"d1",', "", 1)),
        "error",
        "event 1 (begin): key 'device' is missing",
    ),
    "competence-key-twice": (
        text(lambda whole: whole.replace('"device":"d1",', '"device":"d1","device":"d2",', 1)),
        "error",
        "key 'device' stands twice here, and readers differ in which one counts",
    ),
    "competence-key-unknown": (
        edited(4, score="9"),
        "error",
        "event 5 (signed): key 'score' is not known here",
    ),
    "competence-needs-more": (
        entered(lambda making: making.other("2026-06-10", seen={**SEEN, "step:open-v2": "needs-more"})),
        "error",
        "event 10 (signed) says competent, and needs more at step 'open-v2'",
    ),
    "competence-newer": (
        text(lambda whole: whole.replace("tankside-competence-1", "tankside-competence-2")),
        "error",
        "layout 'tankside-competence-2' is newer than this version knows",
    ),
    "competence-not-json": (text(lambda whole: f"{whole}]"), "error", "this is not JSON: extra data"),
    "competence-not-looked-at": (
        entered(lambda making: making.other("2026-06-10", seen={"stop": "competent", "step:open-v2": "competent"})),
        "error",
        "event 10 (signed) says competent alone, and nobody looked at step 'start-p1'",
    ),
    "competence-not-seen": (
        entered(lambda making: making.other("2026-06-10", seen={**SEEN, "step:start-p1": "not-seen"})),
        "remark",
        "event 10 (signed) says competent; not seen: step 'start-p1'",
    ),
    "competence-number": (
        text(lambda whole: whole.replace('"revision":3', '"revision":3.0', 1)),
        "error",
        "'3.0' is not a whole number of at most 15 digits",
    ),
    "competence-older": (
        text(lambda whole: whole.replace("tankside-competence-1", "tankside-competence-0")),
        "error",
        "layout 'tankside-competence-0' is older than any that was ever published",
    ),
    "competence-other-competence": (
        listed(foreign("competence", "00000000000000bb")),
        "error",
        "event 6 (signed) belongs to another competence record, 00000000000000bb",
    ),
    "competence-other-person": (
        listed(foreign("person", "TB")),
        "error",
        "event 6 (signed) is about another person, 'TB'",
    ),
    "competence-person-differs": (
        frame(person="TB"),
        "error",
        "the file names the person 'TB', its events are of 'TA'",
    ),
    "competence-record-differs": (
        frame(competence="00000000000000bb"),
        "error",
        "the file names the competence record '00000000000000bb', its events are of '0000000000005441'",
    ),
    "competence-same": (
        lambda: [usual().file, json.dumps(usual().file, indent=1)],
        "remark",
        "this is the same competence record as in 0.json, event by event",
    ),
    "competence-self-assessed": (
        entered(lambda making: making.other("2026-06-10", assessor=" ta ")),
        "error",
        "event 10 (signed) was attested by ta, whose own competence it is",
    ),
    "competence-shorter": (
        lambda: [usual().file, {**usual().file, "events": usual().file["events"][:3]}],
        "remark",
        "this is the beginning of 0.json: 3 of its 9 events",
    ),
    "competence-struck": (
        entered(lambda making: making.struck("2026-06-10", 0)),
        "error",
        "event 10 (struck) strikes out event 1, which nobody can",
    ),
    "competence-taught-changed": (
        one(another_taught),
        "error",
        "what stands under ######## was changed: its own hash is ########",
    ),
    "competence-taught-differs": (
        forged(4, revision=4),
        "error",
        "event 5 (signed) is about 'bleed-cleaner-line', revision 4; what it names was taught of 'bleed-cleaner-line', "
        "revision 3",
    ),
    "competence-taught-missing": (
        one(nothing_held),
        "error",
        "event 10 (drill) names what was taught, ########, which this file does not hold",
    ),
    "competence-time": (
        forged(8, at="2026-13-41T08:06:00.000+00:00"),
        "error",
        "event 9 (appointed) was entered at '2026-13-41T08:06:00.000+00:00', which is no time that a clock can show",
    ),
    "competence-too-deep": (
        text(lambda whole: whole.replace('"elements":[', f'"elements":[{"[" * 70}{"]" * 70},', 1)),
        "error",
        "this is nested more than 60 deep",
    ),
    "competence-two-records": (
        lambda: [usual().file, another_chain()],
        "remark",
        "TA has another competence record, 0000000000005441 in 0.json",
    ),
    "competence-unwatched": (
        entered(lambda making: making.other("2026-06-10", method="shown")),
        "error",
        "event 10 (signed) says competent of who was not watched: shown",
    ),
    "competence-value": (
        edited(4, assessor_role="the boss"),
        "error",
        "event 5 (signed): 'assessor_role' 'the boss' has not the form expected here",
    ),
}
#: codes with an example elsewhere: what a text alone cannot bring about, and what only a book can say
ELSEWHERE = {
    "competence-too-big": "test_competence_files.py",
    "competence-unreadable": "test_competence_files.py",
    "competence-not-utf-8": "test_competence_files.py",
    "competence-other-book": "test_competence_files.py",
    "competence-unknown-role": "test_competence_files.py",
    "competence-unknown-procedure": "test_competence_files.py",
    "competence-unknown-path": "test_competence_files.py",
    "competence-assessor": "test_training_command.py",
}

"""What a step of a working copy refuses, kind by kind of event."""

from collections.abc import Callable
from datetime import datetime

from tankside.quantities.portable import Portable
from tankside.records.copy import Copy, State, Visit, difference, label_of, needs_second
from tankside.records.correcting import correct_refusal, unmark_refusal
from tankside.records.entries import FINE, counts_refusal, number_refusal, target_of
from tankside.records.script import CHANGED, MARKED, SKIPPED
from tankside.records.worth import entered, like
from tankside.units import parse_quantity


def _of(copy: Copy, event: Portable) -> Visit:
    visit: Visit = copy.trail[event["visit"]]
    return visit


def _begin(copy: Copy, event: Portable) -> str:
    visit = _of(copy, event)
    if visit.kind in ("hold", "question"):
        return "wrong-kind"
    return FINE if visit.state is State.NOT_STARTED else "begun-already"


def _mark(copy: Copy, event: Portable) -> str:
    visit = _of(copy, event)
    if visit.kind not in MARKED:
        return "wrong-kind"
    if visit.doer:
        return "marked-already"
    answers = [each.answer for each in copy.node_of(visit).exits]
    if event.get("answer", "") not in answers:
        return "answer-unknown"
    return _waited(copy, visit, event) if visit.kind == "wait" else FINE


def _waited(copy: Copy, visit: Visit, event: Portable) -> str:
    if visit.begun is None:
        return "not-begun"
    wanted = parse_quantity(copy.step_of(visit)["time"]).value
    return FINE if elapsed(copy.events[visit.begun], event) >= wanted * 1000 else "too-early"


def elapsed(before: Portable, after: Portable) -> int:
    """Return the time between two events [ms]: by a clock that nobody sets, where both were made in one go."""
    if before["session"] == after["session"]:
        return int(after["clock"]) - int(before["clock"])
    between = datetime.fromisoformat(after["at"]) - datetime.fromisoformat(before["at"])
    return round(between.total_seconds() * 1000)


def _look(copy: Copy, event: Portable) -> str:
    return FINE if label_of(copy, _of(copy, event)) else "wrong-kind"


def _has_label(copy: Copy, visit: Visit) -> bool:
    return visit.is_labelled or not label_of(copy, visit)


def _pour(copy: Copy, event: Portable) -> str:
    visit = _of(copy, event)
    if visit.kind != "add":
        return "wrong-kind"
    if not _has_label(copy, visit):
        return "label-not-read"
    wanted, _, high = target_of(copy, visit)
    value = entered(event)
    if value is None or not like(value, wanted) or value.value <= 0:
        return "no-number"
    return "over" if visit.total > high.value else FINE


def _read(copy: Copy, event: Portable) -> str:
    visit = _of(copy, event)
    if visit.kind != "measure":
        return "wrong-kind"
    if visit.values:
        return "read-already"
    step, today = copy.step_of(visit), event["at"][:10]
    if event["instrument"] != step["instrument"]:
        return "wrong-instrument"
    if event["due"] and event["due"] < today:
        return "out-of-calibration"
    if copy.checked.get(event["instrument"]) != today:
        return "not-checked"
    return number_refusal(copy, visit, event)


def _take(copy: Copy, event: Portable) -> str:
    visit = _of(copy, event)
    return FINE if visit.kind == "measure" and visit.values and not visit.is_inside else "not-outside"


def _count(copy: Copy, event: Portable) -> str:
    visit = _of(copy, event)
    if visit.kind != "labels":
        return "wrong-kind"
    if not _has_label(copy, visit):
        return "label-not-read"
    return "counted-already" if visit.values else counts_refusal(copy, visit, event)


def _second(copy: Copy, event: Portable) -> str:
    visit = _of(copy, event)
    if not needs_second(copy, visit) or not _is_ready(visit):
        return "nothing-to-check"
    return "same-person" if event["who"] in visit.hands else FINE


def _is_ready(visit: Visit) -> bool:
    """Return whether there is something for a second person to look at."""
    return visit.is_inside if visit.kind in ("add", "measure", "labels") else bool(visit.doer)


def _alone(copy: Copy, event: Portable) -> str:
    visit = _of(copy, event)
    return FINE if needs_second(copy, visit) and _is_ready(visit) else "nothing-to-check"


def _release(copy: Copy, event: Portable) -> str:
    visit = _of(copy, event)
    if visit.kind != "hold":
        return "wrong-kind"
    if visit.doer:
        return "marked-already"
    return FINE if event["role"] == copy.step_of(visit)["released_by"] else "wrong-role"


def _allow(copy: Copy, event: Portable) -> str:
    visit = _of(copy, event)
    is_over = visit.kind == "add" and bool(visit.values) and visit.total > target_of(copy, visit)[2].value
    is_off = visit.kind == "labels" and bool(visit.values) and difference(copy, visit) != 0
    if not is_over and not is_off:
        return "nothing-to-allow"
    return FINE if event["role"] == copy.part_of(visit).approver else "wrong-role"


def _skip(copy: Copy, event: Portable) -> str:
    visit = _of(copy, event)
    if visit.kind not in SKIPPED:
        return "cannot-be-skipped"
    return "marked-already" if visit.doer else FINE


def _deviate(copy: Copy, event: Portable) -> str:
    visit = _of(copy, event)
    is_counted = visit.kind == "labels" and bool(visit.values)
    return FINE if visit.kind in CHANGED and not is_counted else "cannot-be-changed"


def _decide(copy: Copy, event: Portable) -> str:
    if _of(copy, event).node >= 0:
        return "wrong-kind"
    return FINE if event["then"] in ("again", "end") else "answer-unknown"


#: kind of event -> what a step refuses of it
STEP_REFUSALS: dict[str, Callable[[Copy, Portable], str]] = {
    "begin": _begin,
    "mark": _mark,
    "look": _look,
    "pour": _pour,
    "read": _read,
    "take": _take,
    "count": _count,
    "second": _second,
    "alone": _alone,
    "release": _release,
    "allow": _allow,
    "skip": _skip,
    "deviate": _deviate,
    "decide": _decide,
    "correct": correct_refusal,
    "unmark": unmark_refusal,
}

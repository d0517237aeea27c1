"""What a step of a working copy refuses, kind by kind of event."""

from collections.abc import Callable
from datetime import datetime

from tankside.quantities.portable import Portable
from tankside.records.copy import Copy, State, Visit, difference, label_of, marked_by, needs_second, valued
from tankside.records.script import CHANGED, LOOSE, SKIPPED
from tankside.records.worth import entered, like, limits, target
from tankside.units import Quantity, parse_quantity

#: nothing is against it
FINE = ""
#: what is marked and nothing else
MARKED = (*LOOSE, "wait", "choose", "repeat", "question")


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
    wanted, _, high = _target(copy, visit)
    value = entered(event)
    if value is None or not like(value, wanted) or value.value <= 0:
        return "no-number"
    return "over" if visit.total > high.value else FINE


def _target(copy: Copy, visit: Visit) -> tuple[Quantity, Quantity, Quantity]:
    return target(copy.part_of(visit), copy.step_of(visit), copy.inputs)


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
    return _number(copy, visit, event)


def _number(copy: Copy, visit: Visit, event: Portable) -> str:
    """Return what is against the value of an event as that of a step."""
    if visit.kind == "add":
        example = _target(copy, visit)[0]
    else:
        ends = limits(copy.part_of(visit), copy.step_of(visit))
        example = next(each for each in ends if each is not None)
    value = entered(event)
    return FINE if value is not None and like(value, example) else "no-number"


def _take(copy: Copy, event: Portable) -> str:
    visit = _of(copy, event)
    return FINE if visit.kind == "measure" and visit.values and not visit.is_inside else "not-outside"


def _count(copy: Copy, event: Portable) -> str:
    visit = _of(copy, event)
    if visit.kind != "labels":
        return "wrong-kind"
    if not _has_label(copy, visit):
        return "label-not-read"
    return "counted-already" if visit.values else _counts(copy, visit, event)


def _counts(copy: Copy, visit: Visit, event: Portable) -> str:
    names = ("issued",) if copy.step_of(visit)["counted"] == "out" else ("used", "spoiled", "left")
    return FINE if all(isinstance(event.get(name), int) and event[name] >= 0 for name in names) else "no-number"


def _second(copy: Copy, event: Portable) -> str:
    visit = _of(copy, event)
    if not needs_second(copy, visit) or not _is_ready(visit):
        return "nothing-to-check"
    return "same-person" if event["who"] == visit.doer else FINE


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
    return FINE if event["role"] == copy.step_of(visit)["released_by"] else "wrong-role"


def _allow(copy: Copy, event: Portable) -> str:
    visit = _of(copy, event)
    is_over = visit.kind == "add" and bool(visit.values) and visit.total > _target(copy, visit)[2].value
    is_off = visit.kind == "labels" and bool(visit.values) and difference(copy, visit) != 0
    if not is_over and not is_off:
        return "nothing-to-allow"
    return FINE if event["role"] == copy.part_of(visit).approver else "wrong-role"


def _skip(copy: Copy, event: Portable) -> str:
    return FINE if _of(copy, event).kind in SKIPPED else "cannot-be-skipped"


def _deviate(copy: Copy, event: Portable) -> str:
    return FINE if _of(copy, event).kind in CHANGED else "cannot-be-changed"


def _decide(copy: Copy, event: Portable) -> str:
    if _of(copy, event).node >= 0:
        return "wrong-kind"
    return FINE if event["then"] in ("again", "end") else "answer-unknown"


def _correct(copy: Copy, event: Portable) -> str:
    place = event["corrects"]
    visit = valued(copy, place) if 0 <= place < len(copy.events) else None
    if place in copy.corrected:
        return "corrected-already"
    if visit is None:
        is_label = 0 <= place < len(copy.events) and copy.events[place]["kind"] == "look"
        return FINE if is_label and event.get("lot") else "nothing-to-correct"
    if visit.kind in ("add", "measure"):
        return _number(copy, visit, event) or _reopens(copy, visit, event)
    if visit.kind == "labels":
        return _counts(copy, visit, event)
    return FINE if event.get("text") else "nothing-to-correct"


def _reopens(copy: Copy, visit: Visit, event: Portable) -> str:
    """Return what is against a correction after which the work would go on, though it stopped at the first value."""
    if visit.is_inside or not visit.is_open:
        return FINE
    if event.get("second") not in copy.people:
        return "second-person-missing"
    return "same-person" if event["second"] in (event["who"], visit.doer) else FINE


def _unmark(copy: Copy, event: Portable) -> str:
    visit = marked_by(copy, event["corrects"])
    if visit is None or visit.exit != 0 or visit.kind not in (*LOOSE, "wait"):
        return "nothing-to-correct"
    after = copy.trail[copy.trail.index(visit) :]
    return "past-a-hold" if any(each.kind == "hold" and not each.is_open for each in after) else FINE


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
    "correct": _correct,
    "unmark": _unmark,
}

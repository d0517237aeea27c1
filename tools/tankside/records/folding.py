"""Events folded into the state of a working copy. The page folds alike (``copy-fold.js``), driven by the same cases."""

from collections.abc import Callable, Iterable

from tankside.quantities.portable import Portable
from tankside.records.copy import Copy, State, Visit, label_of, needs_second
from tankside.records.correcting import correct, unmark
from tankside.records.entries import JUDGED
from tankside.records.script import Script
from tankside.records.trail import complete, extend


def folded(edition: Portable, events: Iterable[Portable]) -> Copy:
    """Return the state that events lead to; each is one that `refusal` lets pass."""
    copy = Copy(Script(edition))
    for event in events:
        fold(copy, event)
    return copy


def fold(copy: Copy, event: Portable) -> None:
    """Change a copy as an event says."""
    copy.events.append(event)
    _FOLDS[event["kind"]](copy, event)
    extend(copy)


def _start(copy: Copy, event: Portable) -> None:
    copy.people = {each["who"]: each["role"] for each in event["people"]}
    copy.inputs = {name: dict(chosen) for name, chosen in event["inputs"].items()}


def _begin(copy: Copy, event: Portable) -> None:
    visit = _visit(copy, event)
    visit.state, visit.begun = State.STARTED, event["seq"]


def _mark(copy: Copy, event: Portable) -> None:
    visit = _handled(copy, event)
    visit.answer = event.get("answer", "")
    visit.values.append(event["seq"])
    is_denied = visit.kind == "check" and visit.answer == "no"
    if is_denied or not needs_second(copy, visit):
        complete(copy, visit, event, State.COMPLETE)


def _handled(copy: Copy, event: Portable) -> Visit:
    """Return the visit in which somebody has a hand now."""
    visit = _visit(copy, event)
    visit.state, visit.doer = State.STARTED, event["who"]
    visit.hands.append(event["who"])
    return visit


def _look(copy: Copy, event: Portable) -> None:
    visit = _handled(copy, event)
    visit.is_labelled = event["says"] == label_of(copy, visit)


def _enter(copy: Copy, event: Portable) -> None:
    """Fold an amount put in, a reading or a count."""
    visit = _handled(copy, event)
    visit.values.append(event["seq"])
    JUDGED[visit.kind](copy, visit)
    if visit.is_inside and not needs_second(copy, visit):
        complete(copy, visit, event, _settled(copy, visit))


def _take(copy: Copy, event: Portable) -> None:
    visit = _visit(copy, event)
    visit.answer = "outside"
    complete(copy, visit, event, State.DEVIATED)


def _second(copy: Copy, event: Portable) -> None:
    visit = _visit(copy, event)
    visit.second = event["seq"]
    complete(copy, visit, event, _settled(copy, visit))


def _alone(copy: Copy, event: Portable) -> None:
    complete(copy, _visit(copy, event), event, State.DEVIATED)


def _settled(copy: Copy, visit: Visit) -> State:
    """Return the state of a finished step; where its value was corrected, what was first entered stays to be seen."""
    return State.DEVIATED if any(seq in copy.corrected for seq in visit.values) else State.COMPLETE


def _release(copy: Copy, event: Portable) -> None:
    visit = _handled(copy, event)
    if not needs_second(copy, visit):
        complete(copy, visit, event, State.COMPLETE)


def _allow(copy: Copy, event: Portable) -> None:
    complete(copy, _visit(copy, event), event, State.DEVIATED)


def _skip(copy: Copy, event: Portable) -> None:
    complete(copy, _visit(copy, event), event, State.NOT_APPLICABLE)


def _deviate(copy: Copy, event: Portable) -> None:
    complete(copy, _visit(copy, event), event, State.DEVIATED)


def _decide(copy: Copy, event: Portable) -> None:
    visit = _visit(copy, event)
    visit.answer = event["then"]
    complete(copy, visit, event, State.COMPLETE)


def _pause(copy: Copy, event: Portable) -> None:
    copy.is_paused = True


def _resume(copy: Copy, event: Portable) -> None:
    copy.is_paused = False


def _give(copy: Copy, event: Portable) -> None:
    copy.given_by = event["who"]


def _receive(copy: Copy, event: Portable) -> None:
    copy.given_by, copy.is_paused = "", False
    copy.people[event["who"]] = event["role"]


def _join(copy: Copy, event: Portable) -> None:
    copy.people[event["who"]] = event["role"]


def _leave(copy: Copy, event: Portable) -> None:
    del copy.people[event["who"]]


def _checked(copy: Copy, event: Portable) -> None:
    copy.checked[event["instrument"]] = event["at"][:10]


def _end(copy: Copy, event: Portable) -> None:
    copy.ended = event["kind"]


def _say(copy: Copy, event: Portable) -> None:
    """A note or a red-line: it stands in the log and changes nothing."""


_FOLDS: dict[str, Callable[[Copy, Portable], None]] = {
    "start": _start,
    "begin": _begin,
    "mark": _mark,
    "look": _look,
    "pour": _enter,
    "read": _enter,
    "take": _take,
    "count": _enter,
    "second": _second,
    "alone": _alone,
    "release": _release,
    "allow": _allow,
    "skip": _skip,
    "deviate": _deviate,
    "decide": _decide,
    "correct": correct,
    "unmark": unmark,
    "pause": _pause,
    "resume": _resume,
    "stop": _pause,
    "give": _give,
    "receive": _receive,
    "join": _join,
    "leave": _leave,
    "checked": _checked,
    "note": _say,
    "redline": _say,
    "finish": _end,
    "abandon": _end,
}
KINDS = tuple(_FOLDS)


def _visit(copy: Copy, event: Portable) -> Visit:
    visit: Visit = copy.trail[event["visit"]]
    return visit

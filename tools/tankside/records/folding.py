"""Events folded into the state of a working copy. The page folds alike (``copy-fold.js``), driven by the same cases."""

from collections.abc import Callable, Iterable
from fractions import Fraction

from tankside.quantities.portable import Portable
from tankside.records.copy import Copy, State, Visit, difference, label_of, latest, marked_by, needs_second, valued
from tankside.records.script import Script
from tankside.records.trail import complete, extend
from tankside.records.worth import entered, is_inside, limits, target


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
    visit = _visit(copy, event)
    visit.doer, visit.answer = event["who"], event.get("answer", "")
    visit.values.append(event["seq"])
    if needs_second(copy, visit) and visit.answer != "no":
        visit.state = State.STARTED
    else:
        complete(copy, visit, event, State.COMPLETE)


def _look(copy: Copy, event: Portable) -> None:
    visit = _visit(copy, event)
    visit.is_labelled = event["says"] == label_of(copy, visit)
    visit.state, visit.doer = State.STARTED, event["who"]


def _pour(copy: Copy, event: Portable) -> None:
    visit = _visit(copy, event)
    visit.state, visit.doer = State.STARTED, event["who"]
    visit.values.append(event["seq"])
    _weigh(copy, visit)
    if visit.is_inside and not needs_second(copy, visit):
        complete(copy, visit, event, State.COMPLETE)


def _weigh(copy: Copy, visit: Visit) -> None:
    """Work out what has been put in, corrections included."""
    _, low, high = target(copy.part_of(visit), copy.step_of(visit), copy.inputs)
    visit.total = sum((_worth(copy, seq) for seq in visit.values), Fraction(0))
    visit.is_inside = is_inside(visit.total, low, high)


def _read(copy: Copy, event: Portable) -> None:
    visit = _visit(copy, event)
    visit.state, visit.doer = State.STARTED, event["who"]
    visit.values.append(event["seq"])
    _compare(copy, visit)
    if visit.is_inside and not needs_second(copy, visit):
        complete(copy, visit, event, State.COMPLETE)


def _compare(copy: Copy, visit: Visit) -> None:
    visit.total = _worth(copy, visit.values[-1])
    visit.is_inside = is_inside(visit.total, *limits(copy.part_of(visit), copy.step_of(visit)))


def _take(copy: Copy, event: Portable) -> None:
    visit = _visit(copy, event)
    visit.answer = "outside"
    complete(copy, visit, event, State.DEVIATED)


def _count(copy: Copy, event: Portable) -> None:
    visit = _visit(copy, event)
    visit.state, visit.doer = State.STARTED, event["who"]
    visit.values = [event["seq"]]
    visit.is_inside = difference(copy, visit) == 0
    if visit.is_inside and not needs_second(copy, visit):
        complete(copy, visit, event, State.COMPLETE)


def _second(copy: Copy, event: Portable) -> None:
    visit = _visit(copy, event)
    visit.second = event["seq"]
    complete(copy, visit, event, _settled(copy, visit, State.COMPLETE))


def _alone(copy: Copy, event: Portable) -> None:
    complete(copy, _visit(copy, event), event, State.DEVIATED)


def _settled(copy: Copy, visit: Visit, state: State) -> State:
    """Return the state of a step whose value was corrected: what was first entered stays to be seen."""
    return State.DEVIATED if any(seq in copy.corrected for seq in visit.values) else state


def _release(copy: Copy, event: Portable) -> None:
    visit = _visit(copy, event)
    visit.doer = event["who"]
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


def _correct(copy: Copy, event: Portable) -> None:
    copy.corrected[event["corrects"]] = event["seq"]
    visit = valued(copy, event["corrects"])
    if visit is None:
        return
    if visit.kind == "add":
        _weigh(copy, visit)
    elif visit.kind == "measure":
        _compare(copy, visit)
    elif visit.kind == "labels":
        visit.is_inside = difference(copy, visit) == 0
    else:
        return
    if not visit.is_open:
        visit.state = visit.state if visit.is_inside else State.DEVIATED
    elif visit.is_inside and not needs_second(copy, visit) and not copy.ended:
        complete(copy, visit, event, State.DEVIATED)


def _worth(copy: Copy, seq: int) -> Fraction:
    value = entered(latest(copy, seq))
    assert value is not None, "what is no number is refused"
    return value.value


def _unmark(copy: Copy, event: Portable) -> None:
    copy.corrected[event["corrects"]] = event["seq"]
    visit = marked_by(copy, event["corrects"])
    assert visit is not None, "what marked nothing is refused"
    visit.state, visit.exit, visit.doer, visit.answer = State.NOT_STARTED, None, "", ""
    visit.begun = visit.second = visit.done = None
    visit.values, copy.is_through = [], False


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

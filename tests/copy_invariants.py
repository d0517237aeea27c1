"""What must hold of a working copy whatever was done: said of the log, and of what the core makes of its steps."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from copy_model_telling import ENTERED, Event, Telling, Turn

#: one time that the way leads to a step: what was done there, and what the core makes of it (see `snapshot`)
Step = tuple[Turn, dict[str, Any]]


@dataclass(frozen=True)
class Before:
    """How it stood before an event."""

    #: who -> role
    present: dict[str, str]
    #: steps that were finished
    finished: frozenset[Turn]
    #: steps at which the work had stopped, because what was entered is not right
    stopped: frozenset[Turn]


def as_it_stands(model: Telling, trail: Sequence[dict[str, Any]]) -> Before:
    """Return how a working copy stands now."""
    steps = list(zip(model.way, trail, strict=True))
    wrong = (turn for turn, _ in steps if turn.kind in ENTERED and model.entries(turn) and model.has_stopped(turn))
    return Before(
        dict(model.present),
        frozenset(turn for turn, seen in steps if is_finished(seen)),
        frozenset(turn for turn in wrong if turn.is_due),
    )


def is_finished(seen: dict[str, Any]) -> bool:
    """Return whether the core has led the way on behind a step."""
    return seen["exit"] is not None


def broken(model: Telling, trail: Sequence[dict[str, Any]], before: Before) -> list[str]:
    """Return in words what does not hold after the last event of a log."""
    steps = list(zip(model.way, trail, strict=True))
    event = model.log[-1]
    new = [step for step in steps if is_finished(step[1]) and step[0] not in before.finished]
    found = [
        *(said for step in new for said in (*_order(model, steps, step), *_holds(model, steps, step))),
        *(said for step in new for said in _gates(model, step, event, before)),
        *(said for step in steps for said in _whole(model, step)),
        *_label_first(model, event),
        *_confirmed(model, event, before),
    ]
    return [f"{event['kind']} {event['seq']}: {said}" for said in found]


def _order(model: Telling, steps: list[Step], step: Step) -> Iterator[str]:
    """A step is finished when all before it is; known by heart, steps of one section are in any order."""
    turn = step[0]
    waiting = [other for other, seen in steps[: steps.index(step)] if not is_finished(seen) and not seen["isAside"]]
    if not waiting:
        return
    beside = [turn, *waiting]
    if not model.book.is_by_heart or any(each.node is None for each in beside):
        yield f"'{turn.name}' is finished before '{waiting[0].name}'"
    elif len({model.where(each) for each in beside}) > 1:
        yield f"'{turn.name}' is finished before '{waiting[0].name}' of another section"
    elif any(each.kind in (*ENTERED, "hold", "wait", "choose", "repeat", "question") for each in beside):
        yield f"'{turn.name}' is finished out of turn with '{waiting[0].name}'"


def _holds(model: Telling, steps: list[Step], step: Step) -> Iterator[str]:
    """Nothing behind a hold is finished before it is released."""
    for turn, seen in steps[: steps.index(step)]:
        if turn.kind == "hold" and not is_finished(seen) and not seen["isAside"]:
            yield f"'{step[0].name}' is finished behind the hold '{turn.name}'"


def _gates(model: Telling, step: Step, event: Event, before: Before) -> Iterator[str]:
    """Return what was passed by the event that finished a step, and must not have been."""
    turn, seen = step
    allowed = [each for each in model.events(turn, "allow") if each is event]
    approver = model.part(turn).edition["written"]["approved"]
    if any(before.present.get(each["who"]) != approver for each in allowed):
        yield f"'{turn.name}' was not let on by the role that approves"
    if turn.kind == "hold":
        role = model.step(turn)["released_by"]
        if not any(each["role"] == role for each in model.events(turn, "release")):
            yield f"the hold '{turn.name}' was passed without its role"
        if event["kind"] == "release" and before.present.get(event["who"]) != role:
            yield f"the hold '{turn.name}' was released by somebody who is not there with that role"
    if turn.kind == "measure" and seen["exit"] == 0 and not model.is_right(turn):
        yield f"'{turn.name}' was left with a reading outside its limits"
    if turn.kind == "measure" and seen["exit"] > 0 and event["kind"] != "take":
        yield f"'{turn.name}' went where an outside reading leads, and nobody chose that"
    if turn.kind == "add" and not (model.is_right(turn) or allowed):
        yield f"'{turn.name}' is finished with another amount than is asked for"
    is_changed = event["kind"] == "deviate" and not model.entries(turn)
    if turn.kind == "labels" and not (model.entries(turn) and model.is_right(turn)) and not allowed and not is_changed:
        yield f"'{turn.name}' is finished though the labels do not add up"


def _whole(model: Telling, step: Step) -> Iterator[str]:
    """Return what a finished step claims and must not."""
    turn, seen = step
    if not is_finished(seen) or turn.node is None:
        return
    is_denied = turn.kind == "check" and [each.get("answer") for each in model.entries(turn)] == ["no"]
    seconds = {each["who"] for each in model.events(turn, "second")}
    if model.wants_two(turn) and seen["state"] == "complete" and not is_denied and not seconds - model.hands(turn):
        yield f"'{turn.name}' is complete without anybody who had no hand in it"
    if turn.kind in ENTERED and seen["state"] == "complete" and not model.is_right(turn):
        yield f"'{turn.name}' is complete with a wrong value"
    if seen["state"] == "not applicable" and (model.entries(turn) or not model.events(turn, "skip")):
        yield f"'{turn.name}' is not applicable though it was done"


def _label_first(model: Telling, event: Event) -> Iterator[str]:
    """Nothing is put in or counted out before the right label was read."""
    if event["kind"] not in ("pour", "count"):
        return
    turn = next(each for each in model.way if event["seq"] in each.log)
    read = [each["says"] for each in model.events(turn, "look") if each["seq"] < event["seq"]]
    if model.label(turn) and read[-1:] != [model.label(turn)]:
        yield f"'{turn.name}' was done with another label"


def _confirmed(model: Telling, event: Event, before: Before) -> Iterator[str]:
    """Where the work had stopped, a correction is confirmed by somebody who is there and had no hand in it."""
    for turn in before.stopped if event["kind"] == "correct" else ():
        if turn in model.way and not turn.is_due and not turn.is_left:
            other = event["second"]
            if other not in before.present or other == event["who"] or other in model.hands(turn):
                yield f"'{turn.name}' went on after a correction that nobody confirmed"

"""Corrections, the paper way: what they refuse, and what they make of the state. The first entry stays in the log."""

from tankside.quantities.portable import Portable
from tankside.records.copy import Copy, State, Visit, counted_with, entry_of, marked_by, needs_second, valued
from tankside.records.entries import FINE, JUDGED, counts_refusal, number_refusal, target_of
from tankside.records.script import LOOSE, MARKED
from tankside.records.trail import complete


def correct_refusal(copy: Copy, event: Portable) -> str:
    """Return what is against a correction of something entered, or of a lot; a correction may be corrected itself."""
    place = event["corrects"]
    if not 0 <= place < len(copy.events):
        return "nothing-to-correct"
    if place in copy.corrected:
        return "corrected-already"
    visit = valued(copy, place)
    if visit is None:
        is_label = copy.events[entry_of(copy, place)]["kind"] == "look"
        return FINE if is_label and event.get("lot") else "nothing-to-correct"
    if visit.kind not in JUDGED:
        return FINE if event.get("text") else "nothing-to-correct"
    refusal = counts_refusal if visit.kind == "labels" else number_refusal
    return refusal(copy, visit, event) or _going_on(copy, visit, event)


def _going_on(copy: Copy, visit: Visit, event: Portable) -> str:
    """Return what is against a correction after which the work could go on, though it stopped at the first value."""
    stopped = [each for each in counted_with(copy, visit) if each.is_open and _has_stopped(copy, each)]
    if not stopped:
        return FINE
    if event.get("second") not in copy.people:
        return "second-person-missing"
    hands = (event["who"], *(who for each in (visit, *stopped) for who in each.hands))
    return "same-person" if event["second"] in hands else FINE


def _has_stopped(copy: Copy, visit: Visit) -> bool:
    """Return whether nothing more can be entered at a step whose value is wrong; to too little, more is added."""
    return not visit.is_inside and (visit.kind != "add" or visit.total > target_of(copy, visit)[2].value)


def correct(copy: Copy, event: Portable) -> None:
    """Fold a correction."""
    copy.corrected[event["corrects"]] = event["seq"]
    visit = valued(copy, event["corrects"])
    if visit is None:
        return
    visit.hands.append(event["who"])
    for each in counted_with(copy, visit):
        _judge_again(copy, each, event)


def _judge_again(copy: Copy, visit: Visit, event: Portable) -> None:
    """Go on, stop, or mark a step where its value is another one than was thought."""
    if visit.kind in JUDGED:
        JUDGED[visit.kind](copy, visit)
    is_wrong = visit.kind in JUDGED and not visit.is_inside
    if visit.exit is None:
        if visit.is_open and visit.is_inside and not needs_second(copy, visit) and not copy.ended:
            complete(copy, visit, event, State.DEVIATED)
    elif is_wrong and _is_newest(copy, visit) and not copy.ended:
        visit.state, visit.exit, visit.second, visit.done = State.STARTED, None, None, None
        copy.is_through = False
    elif is_wrong or needs_second(copy, visit):
        visit.state = State.DEVIATED


def _is_newest(copy: Copy, visit: Visit) -> bool:
    """Return whether nothing behind a step was begun, so that the work can stop there as if it had not gone on."""
    after = copy.trail[copy.trail.index(visit) + 1 :]
    return visit.exit == 0 and not visit.is_aside and all(each.state is State.NOT_STARTED for each in after)


def unmark_refusal(copy: Copy, event: Portable) -> str:
    """Return what is against taking back a mark: of a step that is done, or that a second person has to look at."""
    visit = marked_by(copy, event["corrects"])
    if visit is None or visit.exit not in (None, 0):
        return "nothing-to-correct"
    if visit.kind not in (MARKED if visit.exit is None else (*LOOSE, "wait")):
        return "nothing-to-correct"
    after = copy.trail[copy.trail.index(visit) :]
    return "past-a-hold" if any(each.kind == "hold" and each.doer for each in after) else FINE


def unmark(copy: Copy, event: Portable) -> None:
    """Fold a mark that was a mistake."""
    copy.corrected[event["corrects"]] = event["seq"]
    visit = marked_by(copy, event["corrects"])
    assert visit is not None, "what marked nothing is refused"
    if visit.is_aside:
        copy.trail.remove(visit)
        return
    visit.state, visit.exit, visit.doer, visit.answer = State.NOT_STARTED, None, "", ""
    visit.begun = visit.second = visit.done = None
    visit.values, visit.hands, copy.is_through = [], [], False

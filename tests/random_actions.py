"""Random actions on a working copy, right and wrong: most often what the step asks for, by who may do it."""

from collections.abc import Callable
from random import Random
from typing import Any

from carried_copies import Carried, Person, start_of

from tankside.quantities.decimal_text import decimal_text
from tankside.records.copy import Copy, Visit, label_of, needs_second
from tankside.records.worth import limits, number_in, target
from tankside.units import parse_quantity

Own = dict[str, Any]
#: how much time passes before something is done [ms]
PAUSES = (0, 900, 40_000, 1_300_000)
#: longer than any wait
LONG = 12 * 3_600_000
DUE = "2027-01-01"
REASONS = ("the jug was full", "the jug was full", "the jug was full", "the jug was full", "", " ")


def random_action(carrying: Carried) -> dict[str, Any]:
    """Return something that somebody might do now, right or wrong."""
    copy, chance = carrying.copy, carrying.chance
    carrying.wait(chance.choice(PAUSES))
    if chance.random() < 0.02:
        carrying.reload()
    if not copy.is_started:
        return _starting(carrying)
    if (copy.is_paused or copy.given_by) and chance.random() < 0.7:
        return carrying.propose(**_back(carrying))
    if copy.is_through and chance.random() < 0.5:
        return carrying.propose(**chance.choice(({"kind": "finish"}, _aside(carrying))))
    if copy.events[-1]["kind"] in ("pour", "read", "count") and chance.random() < 0.2:
        return carrying.propose(**correction(carrying))
    if not copy.trail or chance.random() < 0.12:
        return carrying.propose(**_aside(carrying))
    place = _place(copy, chance)
    visit = copy.trail[min(max(place, 0), len(copy.trail) - 1)]
    return carrying.propose(**{**on_step(carrying, visit), "visit": place})


def _place(copy: Copy, chance: Random) -> int:
    """Return the place of a step: most often of the next one; of any that is shown where work is known by heart."""
    due = copy.open_visits if copy.script.is_loose else copy.open_visits[:1]
    if not due or chance.random() < 0.1:
        return chance.randrange(-1, len(copy.trail) + 1)
    return copy.trail.index(due[0] if chance.random() < 0.5 else chance.choice(due))


def likely_action(carrying: Carried) -> dict[str, Any]:
    """Return what the work asks for next, by somebody who may do it."""
    copy = carrying.copy
    if not copy.is_started:
        return start_of(carrying)
    if copy.is_paused or copy.given_by:
        return carrying.propose(**_back(carrying))
    now = copy.now
    if now is None:
        return carrying.propose("finish")
    own = _likely(carrying, now)
    if own.get("by", carrying.here[0])[0] not in copy.people:
        return carrying.propose("join", by=own["by"])
    return carrying.propose(**{**own, "visit": copy.trail.index(now)})


def _starting(carrying: Carried) -> dict[str, Any]:
    event, chance = start_of(carrying), carrying.chance
    wrong: list[Own] = [
        {"people": []},
        {"people": event["people"][:1]},
        {"people": [*event["people"], {"who": " ab", "role": "anyone"}]},
        {"people": [*event["people"], {"who": " ", "role": "anyone"}]},
        {"who": "ZZ"},
        {"lot": " "},
        {"bottle": "7 L"},
        {"inputs": {}},
        {"inputs": {name: dict.fromkeys(chosen, "1 mL") for name, chosen in event["inputs"].items()}},
        {"kind": "note", "text": "Not begun."},
    ]
    return {**event, **chance.choice(wrong)} if chance.random() < 0.4 else event


def _back(carrying: Carried) -> Own:
    """Return what brings the work back."""
    if carrying.copy.given_by:
        takers = [each for each in carrying.people if each[0] != carrying.copy.given_by]
        return {
            "kind": "receive",
            "by": carrying.chance.choice((*takers, *takers, carrying.people[0], ("NO", "anyone"))),
        }
    return {"kind": "resume", "sure": "yes"}


def on_step(carrying: Carried, visit: Visit) -> Own:
    """Return an action on a step: most often the one that it asks for."""
    chance, reason = carrying.chance, carrying.chance.choice(REASONS)
    others: list[Own] = [
        *[{"kind": "begin"}] * 2,
        {"kind": "mark", "answer": chance.choice(("", "yes", "no", "enough"))},
        {"kind": "second"},
        *[{"kind": "alone", "reason": reason}] * 3,
        {"kind": "release"},
        {"kind": "allow", "reason": reason},
        *[{"kind": "skip", "reason": reason}] * 6,
        *[{"kind": "deviate", "reason": reason}] * 4,
        {"kind": "decide", "then": chance.choice(("again", "end", "on")), "reason": reason},
        {"kind": "take"},
        {"kind": "look", "says": chance.choice(("softened-water", "X-1")), "lot": "B-2"},
        {"kind": "pour", "value": chance.choice(("1", "-1", "x")), "unit": chance.choice(("kg", "L"))},
        {"kind": "read", "instrument": "T1", "due": DUE, "value": "20", "unit": "degC"},
        {"kind": "count", "issued": chance.choice((5, -1))},
    ]
    return _likely(carrying, visit) if chance.random() < 0.85 else chance.choice(others)


def _likely(carrying: Carried, visit: Visit) -> Own:
    copy, chance = carrying.copy, carrying.chance
    if visit.node < 0:
        return {"kind": "decide", "then": "again" if chance.random() < 0.85 else "end", "reason": "talked over"}
    is_judged = visit.kind in ("add", "measure", "labels")
    if needs_second(copy, visit) and (visit.is_inside if is_judged else visit.doer):
        others = [each for each in carrying.here if each[0] not in visit.hands]
        alone: Own = {"kind": "alone", "reason": "nobody else is there"}
        looker = chance.choice(others if chance.random() < 0.9 else carrying.here) if others else ("", "")
        return {"kind": "second", "by": looker} if others else alone
    likely = _LIKELY.get(visit.kind)
    if likely is not None:
        return likely(carrying, visit)
    answers = [each.answer for each in copy.node_of(visit).exits]
    return {"kind": "mark", "answer": answers[0] if chance.random() < 0.75 else chance.choice(answers)}


def _holding(carrying: Carried, visit: Visit) -> Own:
    role = carrying.copy.step_of(visit)["released_by"]
    return {"kind": "release", "by": carrying.with_role(role)}


def _waiting(carrying: Carried, visit: Visit) -> Own:
    if visit.begun is None and chance_of(carrying, 0.85):
        return {"kind": "begin"}
    if chance_of(carrying, 0.7):
        carrying.wait(LONG)
    return {"kind": "mark", "answer": ""}


def chance_of(carrying: Carried, share: float) -> bool:
    """Return True in so many of the cases."""
    return carrying.chance.random() < share


def _adding(carrying: Carried, visit: Visit) -> Own:
    copy, chance = carrying.copy, carrying.chance
    label = label_of(copy, visit)
    if label and not visit.is_labelled:
        return {"kind": "look", "says": chance.choice((label, label, label, "vinegar")), "lot": "B-1"}
    wanted, low, high = target(copy.part_of(visit), copy.step_of(visit), copy.inputs)
    if visit.total > high.value:
        more: Own = {"kind": "pour", "value": "1", "unit": wanted.unit.symbol}
        allowed: Own = {"kind": "allow", "reason": "little over", "by": _approver(carrying, visit)}
        return allowed if chance_of(carrying, 0.8) else more
    missing = wanted.value - visit.total
    value = chance.choice((missing, missing, missing, low.value - visit.total, high.value - visit.total, missing / 2))
    much = (high.value - visit.total) * 2 if chance_of(carrying, 0.15) else value
    return {"kind": "pour", "value": number_in(much or wanted.value, wanted.unit), "unit": wanted.unit.symbol}


def _approver(carrying: Carried, visit: Visit) -> Person:
    may = carrying.with_role(carrying.copy.part_of(visit).approver)
    return may if carrying.chance.random() < 0.8 else carrying.chance.choice(carrying.here)


def _measuring(carrying: Carried, visit: Visit) -> Own:
    copy, chance = carrying.copy, carrying.chance
    step = copy.step_of(visit)
    if visit.values and chance_of(carrying, 0.85):
        return {"kind": "take"}
    # An instrument is looked at each day.
    if not _is_checked(copy, carrying, step["instrument"]) and chance.random() < 0.9:
        return {"kind": "checked", "instrument": step["instrument"], "due": DUE}
    low, high = limits(copy.part_of(visit), step)
    end = high or low
    assert end is not None
    value = end.value if chance.random() < 0.75 else end.value + (1000 if high else -1000)
    due = chance.choice((DUE, DUE, DUE, "", "2026-11-30"))
    reading = {"value": number_in(value, end.unit), "unit": end.unit.symbol}
    instrument = step["instrument"] if chance.random() < 0.95 else "Q9"
    return {"kind": "read", "instrument": instrument, "due": due, **reading}


def _is_checked(copy: Copy, carrying: Carried, instrument: str) -> bool:
    return copy.checked.get(instrument) == carrying.propose("note")["at"][:10]


def _labelling(carrying: Carried, visit: Visit) -> Own:
    copy, chance = carrying.copy, carrying.chance
    label = label_of(copy, visit)
    if label and not visit.is_labelled:
        return {"kind": "look", "says": chance.choice((label, label, "OLD-1")), "lot": ""}
    if visit.values and chance_of(carrying, 0.8):
        return {"kind": "allow", "reason": "one is lost", "by": _approver(carrying, visit)}
    if copy.step_of(visit)["counted"] == "out":
        return {"kind": "count", "issued": 100}
    return {"kind": "count", "used": 90, "spoiled": 4, "left": chance.choice((6, 6, 5))}


_LIKELY: dict[str, Callable[[Carried, Visit], Own]] = {
    "hold": _holding,
    "wait": _waiting,
    "add": _adding,
    "measure": _measuring,
    "labels": _labelling,
}


def _aside(carrying: Carried) -> Own:
    """Return an action that is about no step."""
    chance = carrying.chance
    away = [each for each in carrying.people if each[0] not in carrying.copy.people]
    fresh = chance.choice((*away, ("NO", "anyone"), (" ", "anyone"), ("ab", "anyone"), carrying.people[0]))
    stranger = chance.choice((*carrying.people, ("QQ", "anyone"), (carrying.people[0][0], "anyone")))
    return chance.choice(
        [
            {"kind": "note", "text": "The floor is wet.", "by": stranger},
            {"kind": "redline", "about": "near-miss", "text": "", "by": stranger},
            {"kind": "pause", "reason": ""},
            {"kind": "pause", "reason": "", "by": stranger},
            {"kind": "resume", "sure": "yes"},
            {"kind": "stop", "by": stranger},
            {"kind": "give", "text": "T1 still rises"},
            {"kind": "receive", "by": fresh},
            {"kind": "join", "by": fresh},
            {"kind": "join", "by": fresh},
            {"kind": "leave"} if len(carrying.here) > 2 or chance.random() < 0.2 else {"kind": "note", "text": ""},
            taking_back(carrying),
            taking_back(carrying),
            correction(carrying),
            correction(carrying),
            correction(carrying),
            {"kind": "checked", "instrument": "T1", "due": chance.choice(("", DUE, "2026-01-01"))},
            {"kind": "finish"},
            {"kind": "abandon", "reason": "ill" if chance.random() < 0.4 else ""},
            {"kind": "nothing-known"},
            {"kind": "start", "people": []},
        ]
    )


def taking_back(carrying: Carried) -> Own:
    """Return that a mark was a mistake, most often one of the last."""
    chance, copy = carrying.chance, carrying.copy
    lately = copy.trail[-8:] if chance_of(carrying, 0.7) else copy.trail
    marks = [seq for visit in lately for seq in (visit.done, *visit.values[-1:]) if seq is not None]
    return {
        "kind": "unmark",
        "corrects": chance.choice((*marks, _anything(chance, copy))),
        "reason": chance.choice(REASONS),
    }


def _anything(chance: Random, copy: Copy) -> int:
    return chance.randrange(-1, len(copy.events) + 1)


def correction(carrying: Carried) -> Own:
    """Return a correction, most often of something that was entered."""
    chance, copy = carrying.chance, carrying.copy
    kinds = ("pour", "read", "count", "correct", "look")
    entered = [event["seq"] for event in copy.events if event["kind"] in kinds]
    # A slip is most often seen at once.
    lately = entered[-1:] * (len(entered) + 1)
    place = chance.choice((*entered, *lately, _anything(chance, copy)))
    second = chance.choice(("", *(who for who, _ in carrying.here)))
    said = {"kind": "correct", "corrects": place, "reason": chance.choice(REASONS), "second": second}
    return {**said, **_corrected(carrying, place)}


def _corrected(carrying: Carried, place: int) -> Own:
    chance, events = carrying.chance, carrying.copy.events
    event = events[place] if 0 <= place < len(events) else {}
    if "value" in event and event["kind"] in ("pour", "read", "correct"):
        number = parse_quantity(f"{event['value']} {event['unit']}").number
        value = decimal_text(number * chance.choice((1, 1, 2, 2, -1)) / chance.choice((1, 2)))
        return {"value": value, "unit": event["unit"]}
    left = chance.choice((5, 6, 7))
    counts = {"issued": 94 + left, "used": 90, "spoiled": 4, "left": left}
    # Now and then a number is named, too, that is not counted at that step.
    named = event if chance.random() < 0.9 else counts
    own = {name: count for name, count in counts.items() if name in named}
    return {"lot": chance.choice(("B-9", "")), "text": "as seen", **own}

"""Random actions on a working copy, legal and illegal, and what Python and the page make of them, as JSON."""

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from random import Random
from typing import Any

from playwright.sync_api import Page

from tankside.quantities.decimal_text import decimal_text
from tankside.records.chain import chained
from tankside.records.copy import Copy, Visit, label_of, needs_second
from tankside.records.folding import fold
from tankside.records.refusing import refusal
from tankside.records.script import Script
from tankside.records.worth import limits, number_in, target
from tankside.units import parse_quantity

#: roles that the people of the demonstration book have
PEOPLE = (("AB", "line-operator"), ("CD", "second-person"), ("EF", "workshop-lead"), ("GH", "authorised-person"))
MORNING = datetime(2026, 12, 1, 8, 0, tzinfo=UTC)
#: what each event must carry beside what is its own
COMMON = {"copy": "0123456789abcdef", "session": "s1", "device": "d1", "build": "b1"}

FOLD = """(sent) => {
  const { edition, events } = JSON.parse(sent);
  const copy = tankside.copyState.newCopy(tankside.copyScript.script(edition));
  let before = null;
  return JSON.stringify(events.map((proposed) => {
    const event = tankside.chain.chained(proposed, before);
    const code = tankside.copyRefusal.refusal(copy, event);
    if (code !== '') return [code, ''];
    tankside.copyFold.fold(copy, event);
    before = event;
    const trail = copy.trail.map((visit) => ({
      ...visit, values: [...visit.values], sender: null, total: tankside.decimalText.decimalText(visit.total),
    }));
    const { people, inputs, checked, corrected, isPaused, givenBy, isThrough, isCutShort, ended } = copy;
    return [event.hash, {
      trail, people: [...people], inputs, checked: [...checked], corrected: [...corrected],
      isPaused, givenBy, isThrough, isCutShort, ended,
    }];
  }));
}"""


@dataclass
class Carried:
    """A working copy that is being carried out, with every action that was tried on it."""

    copy: Copy
    chance: Random
    tried: list[dict[str, Any]]
    codes: list[str]
    clock: int = 0

    def propose(self, kind: str, **own: Any) -> dict[str, Any]:
        """Return an event of this moment."""
        self.clock += self.chance.choice((0, 900, 40_000, 1_300_000))
        at = (MORNING + timedelta(milliseconds=self.clock)).isoformat(timespec="milliseconds")
        here = tuple(self.copy.people.items()) if self.chance.random() < 0.97 else PEOPLE
        who, role = own.pop("by", None) or self.chance.choice(here or PEOPLE)
        common = {**COMMON, "edition": self.copy.script.hash, "at": at, "clock": self.clock}
        return {**common, "kind": kind, "who": who, "role": role, **own}

    def attempt(self, event: dict[str, Any]) -> str:
        """Do what an event says unless it is refused; return why it is, empty when it is not."""
        linked = chained(event, self.copy.events[-1] if self.copy.events else None)
        code = refusal(self.copy, linked)
        self.tried.append(event)
        self.codes.append(code or linked["hash"])
        if not code:
            fold(self.copy, linked)
        return code


def carried(edition: Any, seed: int) -> Carried:
    """Return a working copy on which nothing has been done yet."""
    return Carried(Copy(Script(edition)), Random(seed), [], [])


def start_of(carrying: Carried) -> dict[str, Any]:
    """Return a start to which nothing can be said."""
    script = carrying.copy.script
    inputs: dict[str, dict[str, str]] = {}
    for procedure, name, asked in script.inputs():
        inputs.setdefault(procedure, {})[name] = carrying.chance.choice([asked["usual"], *asked["table"]])
    people = [{"who": who, "role": role} for who, role in PEOPLE]
    return carrying.propose(
        "start", lot="L-7", product="", bottle=(*script.sizes, "")[0], inputs=inputs, people=people, by=PEOPLE[0]
    )


def random_action(carrying: Carried) -> dict[str, Any]:
    """Return something that somebody might do now, right or wrong."""
    copy, chance = carrying.copy, carrying.chance
    if not copy.is_started:
        event = start_of(carrying)
        if chance.random() < 0.3:
            event[chance.choice(("people", "inputs"))] = chance.choice(([], [{"who": "AB", "role": "line-operator"}]))
            event["inputs"] = event["inputs"] or {}
            event["people"] = event["people"] or []
            event["inputs"] = {} if isinstance(event["inputs"], list) else event["inputs"]
        return event
    if (copy.is_paused or copy.given_by) and chance.random() < 0.6:
        return carrying.propose(**_back(copy))
    if copy.trail and chance.random() < 0.95:
        now = copy.now
        anywhere = chance.randrange(-1, len(copy.trail) + 1)
        place = copy.trail.index(now) if now is not None and chance.random() < 0.9 else anywhere
        visit = copy.trail[min(max(place, 0), len(copy.trail) - 1)]
        return carrying.propose(**_on(carrying, visit), visit=place)
    return carrying.propose(**_aside(carrying))


def _back(copy: Copy) -> dict[str, Any]:
    """Return what brings the work back."""
    if copy.given_by:
        return {"kind": "receive", "by": next(each for each in PEOPLE if each[0] != copy.given_by)}
    return {"kind": "resume", "sure": "yes"}


def _on(carrying: Carried, visit: Visit) -> dict[str, Any]:
    """Return an action on a step: most often the one that it asks for."""
    copy, chance = carrying.copy, carrying.chance
    reason = chance.choice(("", "the jug was full"))
    likely = _likely(copy, chance, visit)
    others = [
        {"kind": "begin"},
        {"kind": "mark", "answer": chance.choice(("", "yes", "no", "enough"))},
        {"kind": "second"},
        {"kind": "alone", "reason": reason},
        {"kind": "release"},
        {"kind": "allow", "reason": reason},
        {"kind": "skip", "reason": reason},
        {"kind": "deviate", "reason": reason},
        {"kind": "decide", "then": chance.choice(("again", "end", "on")), "reason": reason},
        {"kind": "take"},
        {"kind": "look", "says": chance.choice(("softened-water", "X-1")), "lot": "B-2"},
        {"kind": "pour", "value": chance.choice(("1", "-1", "x")), "unit": chance.choice(("kg", "L"))},
        {"kind": "count", "issued": chance.choice((5, -1))},
    ]
    return likely if chance.random() < 0.8 else chance.choice(others)


def _likely(copy: Copy, chance: Random, visit: Visit) -> dict[str, Any]:
    if visit.node < 0:
        return {"kind": "decide", "then": chance.choice(("again", "again", "end")), "reason": "talked over"}
    step = copy.step_of(visit)
    if needs_second(copy, visit) and (
        visit.is_inside or (visit.doer and visit.kind not in ("add", "measure", "labels"))
    ):
        return {"kind": "second"}
    answers = [each.answer for each in copy.node_of(visit).exits]
    match visit.kind:
        case "hold":
            role = step["released_by"]
            return {"kind": "release", "by": next((each for each in PEOPLE if each[1] == role), PEOPLE[1])}
        case "wait" if visit.begun is None:
            return {"kind": "begin"}
        case "add":
            return _adding(copy, chance, visit)
        case "measure":
            return _measuring(copy, chance, visit)
        case "labels":
            return _labelling(copy, chance, visit)
    return {"kind": "mark", "answer": answers[0] if chance.random() < 0.85 else chance.choice(answers)}


def _adding(copy: Copy, chance: Random, visit: Visit) -> dict[str, Any]:
    label = label_of(copy, visit)
    if label and not visit.is_labelled:
        return {"kind": "look", "says": chance.choice((label, label, "vinegar")), "lot": "B-1"}
    wanted, _, high = target(copy.part_of(visit), copy.step_of(visit), copy.inputs)
    if visit.total > high.value:
        return {"kind": "allow", "reason": "little over", "by": chance.choice(PEOPLE)}
    value = (wanted.value - visit.total) * chance.choice((1, 1, 1, 0.5, 2)).__int__() or wanted.value / 2
    return {"kind": "pour", "value": number_in(value, wanted.unit), "unit": wanted.unit.symbol}


def _measuring(copy: Copy, chance: Random, visit: Visit) -> dict[str, Any]:
    step = copy.step_of(visit)
    if visit.values:
        return {"kind": "take"}
    if step["instrument"] not in copy.checked and chance.random() < 0.9:
        return {"kind": "checked", "instrument": step["instrument"], "due": "2027-01-01"}
    low, high = limits(copy.part_of(visit), step)
    end = high or low
    assert end is not None
    value = end.value if chance.random() < 0.8 else end.value * 2
    due = chance.choice(("2027-01-01", "", "2026-11-30"))
    reading = {"value": number_in(value, end.unit), "unit": end.unit.symbol}
    return {"kind": "read", "instrument": step["instrument"], "due": due, **reading}


def _labelling(copy: Copy, chance: Random, visit: Visit) -> dict[str, Any]:
    label = label_of(copy, visit)
    if label and not visit.is_labelled:
        return {"kind": "look", "says": chance.choice((label, label, "OLD-1")), "lot": ""}
    if visit.values:
        return {"kind": "allow", "reason": "one is lost", "by": chance.choice(PEOPLE)}
    if copy.step_of(visit)["counted"] == "out":
        return {"kind": "count", "issued": 100}
    return {"kind": "count", "used": 90, "spoiled": 4, "left": chance.choice((6, 6, 5))}


def _aside(carrying: Carried) -> dict[str, Any]:
    """Return an action that is about no step."""
    copy, chance = carrying.copy, carrying.chance
    place = chance.randrange(len(copy.events))
    reason = chance.choice(("", "slip of the pen"))
    fresh = (chance.choice(("IJ", "KL", "AB")), "line-operator")
    return chance.choice(
        [
            {"kind": "note", "text": "The floor is wet."},
            {"kind": "redline", "about": "near-miss", "text": ""},
            {"kind": "pause", "reason": ""},
            {"kind": "resume", "sure": "yes"},
            {"kind": "resume", "sure": "yes"},
            {"kind": "stop"},
            {"kind": "give", "text": "T1 still rises"},
            {"kind": "receive", "by": fresh},
            {"kind": "join", "by": fresh},
            {"kind": "leave"},
            {"kind": "unmark", "corrects": place, "reason": reason},
            {"kind": "correct", "corrects": place, "reason": reason, **_corrected(copy, chance, place)},
            {"kind": "checked", "instrument": "T1", "due": chance.choice(("", "2026-01-01"))},
            {"kind": "finish"},
            {"kind": "abandon", "reason": ""} if chance.random() < 0.9 else {"kind": "abandon", "reason": "ill"},
            {"kind": "nothing-known"},
        ]
    )


def _corrected(copy: Copy, chance: Random, place: int) -> dict[str, Any]:
    event = copy.events[place]
    second = chance.choice(("", "CD", "EF"))
    if event["kind"] in ("pour", "read"):
        value = decimal_text(parse_quantity(f"{event['value']} {event['unit']}").number * chance.choice((1, 2)))
        return {"value": value, "unit": event["unit"], "second": second}
    return {"lot": "B-9", "text": "as on the sheet", "issued": 99, "used": 1, "spoiled": 1, "left": 1}


def snapshot(copy: Copy) -> dict[str, Any]:
    """Return all of a state as the page writes it."""
    trail = [
        {
            "part": each.part,
            "node": each.node,
            "kind": each.kind,
            "name": each.name,
            "state": str(each.state),
            "sender": None,
            "exit": each.exit,
            "doer": each.doer,
            "answer": each.answer,
            "isLabelled": each.is_labelled,
            "values": list(each.values),
            "total": decimal_text(each.total),
            "isInside": each.is_inside,
            "begun": each.begun,
            "second": each.second,
            "done": each.done,
        }
        for each in copy.trail
    ]
    return {
        "trail": trail,
        "people": [list(each) for each in copy.people.items()],
        "inputs": copy.inputs,
        "checked": [list(each) for each in copy.checked.items()],
        "corrected": [list(each) for each in copy.corrected.items()],
        "isPaused": copy.is_paused,
        "givenBy": copy.given_by,
        "isThrough": copy.is_through,
        "isCutShort": copy.is_cut_short,
        "ended": copy.ended,
    }


def acted(edition: Any, seed: int, count: int) -> tuple[Carried, list[Any]]:
    """Return a working copy after so many random actions, and after each what came of it."""
    carrying = carried(edition, seed)
    found = []
    for _ in range(count):
        code = carrying.attempt(random_action(carrying))
        found.append([code, ""] if code else [carrying.codes[-1], snapshot(carrying.copy)])
    return carrying, found


def differing(ours: list[Any], theirs: list[Any]) -> str:
    """Return in words where two outcomes differ."""
    if ours[0] != theirs[0] or not isinstance(ours[1], dict):
        return f"python {ours[0]}, page {theirs[0]}"
    keys = [key for key in ours[1] if ours[1][key] != theirs[1][key]]
    return "; ".join(f"{key}: python {ours[1][key]}, page {theirs[1][key]}" for key in keys)


def differences(page: Page, edition: Any, seeds: Sequence[int], count: int) -> Iterator[str]:
    """Return where the page answers otherwise than Python does."""
    for seed in seeds:
        carrying, expected = acted(edition, seed, count)
        answers = json.loads(page.evaluate(FOLD, json.dumps({"edition": edition, "events": carrying.tried})))
        for place, (ours, theirs) in enumerate(zip(expected, answers, strict=True)):
            if ours != theirs:
                yield f"seed {seed}, action {place} {carrying.tried[place]['kind']}: {differing(ours, theirs)}"
                break

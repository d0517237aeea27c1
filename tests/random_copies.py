"""Random actions on working copies, legal and illegal, and what Python and the page make of them, as JSON."""

import json
from collections.abc import Iterator, Sequence
from typing import Any

from carried_copies import MORNING, Carried, carried
from playwright.sync_api import Page
from random_actions import random_action

from tankside.quantities.decimal_text import decimal_text
from tankside.records.copy import Copy

#: actions that are tried on a working copy after its end
AFTER_THE_END = 6

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
      ...visit, hands: [...visit.hands], values: [...visit.values], sender: null,
      total: tankside.decimalText.decimalText(visit.total),
    }));
    const { people, inputs, checked, corrected, isPaused, givenBy, isThrough, isCutShort, ended } = copy;
    return [event.hash, {
      trail, people: [...people], inputs, checked: [...checked], corrected: [...corrected],
      isPaused, givenBy, isThrough, isCutShort, ended,
    }];
  }));
}"""


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
            "hands": list(each.hands),
            "answer": each.answer,
            "isLabelled": each.is_labelled,
            "values": list(each.values),
            "total": decimal_text(each.total),
            "isInside": each.is_inside,
            "begun": each.begun,
            "second": each.second,
            "done": each.done,
            "isAside": each.is_aside,
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


def tried_out(edition: Any, seed: int, count: int) -> Iterator[tuple[Carried, str]]:
    """Try so many random actions on a working copy, a few when it has ended; return why each was refused."""
    carrying, left = carried(edition, seed), AFTER_THE_END
    for _ in range(count):
        left -= 1 if carrying.copy.ended else 0
        if left < 0:
            return
        yield carrying, carrying.attempt(random_action(carrying))


def acted(edition: Any, seed: int, count: int) -> tuple[Carried, list[Any]]:
    """Return a working copy after so many random actions, and after each what came of it."""
    found: list[Any] = []
    for carrying, code in tried_out(edition, seed, count):
        found.append([code, ""] if code else [carrying.codes[-1], snapshot(carrying.copy)])
    return carrying, found


def differing(ours: list[Any], theirs: list[Any]) -> str:
    """Return in words where two outcomes differ."""
    if ours[0] != theirs[0] or not isinstance(ours[1], dict):
        return f"python {ours[0]}, page {theirs[0]}"
    return "; ".join(_unequal("", ours[1], theirs[1]))


def _unequal(name: str, ours: Any, theirs: Any) -> Iterator[str]:
    if ours == theirs:
        return
    if isinstance(ours, dict) and isinstance(theirs, dict) and ours.keys() == theirs.keys():
        pairs = [(f"{name} {key}", ours[key], theirs[key]) for key in ours]
    elif isinstance(ours, list) and isinstance(theirs, list) and len(ours) == len(theirs):
        pairs = [(f"{name} {place}", each, other) for place, (each, other) in enumerate(zip(ours, theirs, strict=True))]
    else:
        yield f"{name.strip()}: python {ours}, page {theirs}"
        return
    for pair in pairs:
        yield from _unequal(*pair)


def differences(page: Page, edition: Any, seeds: Sequence[int], count: int) -> Iterator[str]:
    """Return where the page answers otherwise than Python does."""
    for seed in seeds:
        carrying, expected = acted(edition, seed, count)
        answers = json.loads(page.evaluate(FOLD, json.dumps({"edition": edition, "events": carrying.tried})))
        for place, (ours, theirs) in enumerate(zip(expected, answers, strict=True)):
            if ours != theirs:
                yield f"seed {seed}, action {place} {carrying.tried[place]['kind']}: {differing(ours, theirs)}"
                break


__all__ = ["MORNING", "Carried", "acted", "carried", "differences", "random_action", "snapshot", "tried_out"]

"""Random actions that nothing is against at this moment, as a page is asked to do them."""

from datetime import UTC, datetime, timedelta
from typing import Any

from carried_copies import COMMON, MORNING, Carried, start_of
from random_actions import likely_action, random_action

from tankside.records.chain import chained
from tankside.records.refusing import refusal
from tankside.records.worth import limits, number_in, target

#: what a page gives to an event by itself
OF_THE_PAGE = (*COMMON, "edition", "at", "clock", "session", "kind")
#: instruments may be used long after this test was written
DUE = "2099-01-01"
#: so many are tried before there is one that nothing is against
TRIES = 2000
LOADED_BEFORE = 60_000

Action = tuple[str, dict[str, Any]]


def legal_action(carrying: Carried) -> Action:
    """Return something that may be done now: most often what the work asks for."""
    for _ in range(TRIES):
        _be_now(carrying)
        event = _proposed(carrying)
        _be_now(carrying)
        event.update({key: carrying.propose("note")[key] for key in ("at", "clock", "session")})
        before = carrying.copy.events
        if refusal(carrying.copy, chained(event, before[-1] if before else None)) == "":
            return event["kind"], {key: each for key, each in event.items() if key not in OF_THE_PAGE}
    raise AssertionError("nothing can be done")


def _be_now(carrying: Carried) -> None:
    """Let it be what the clock on the wall says: the page goes by it, too."""
    carrying.passed = (datetime.now(UTC) - MORNING) // timedelta(milliseconds=1)
    carrying.loaded = carrying.passed - LOADED_BEFORE


def _proposed(carrying: Carried) -> dict[str, Any]:
    copy, chance = carrying.copy, carrying.chance
    if not copy.is_started:
        return start_of(carrying)
    event = likely_action(carrying) if chance.random() < 0.75 else random_action(carrying)
    visit = copy.trail[event["visit"]] if 0 <= event.get("visit", -1) < len(copy.trail) else None
    if "due" in event:
        event["due"] = DUE
    if visit is not None and visit.kind == "wait" and chance.random() < 0.3:
        return {**carrying.propose("skip"), "visit": event["visit"], "reason": "it stood long enough"}
    return event if visit is None else {**event, **_limits(carrying, event)}


def _limits(carrying: Carried, event: dict[str, Any]) -> dict[str, Any]:
    """Return what a form enters beside a value."""
    copy, visit = carrying.copy, carrying.copy.trail[event["visit"]]
    if event["kind"] == "pour" and visit.kind == "add":
        wanted, low, high = (each for each in target(copy.part_of(visit), copy.step_of(visit), copy.inputs))
        written = {"target": wanted, "low": low, "high": high}
        return {key: number_in(each.value, wanted.unit) for key, each in written.items()} | {"total": event["value"]}
    if event["kind"] == "read" and visit.kind == "measure":
        low_end, high_end = limits(copy.part_of(visit), copy.step_of(visit))
        ends = {"low": low_end, "high": high_end}
        return {key: "" if each is None else number_in(each.value, each.unit) for key, each in ends.items()}
    return {}

"""What a working copy refuses, and why. The page refuses alike (``copy-refusal.js``), driven by the same cases.

A refusal is a code; its sentence, with the way out, stands in ``texts.json`` under ``refused-<code>``.
"""

import re
from collections.abc import Callable

from tankside.quantities.portable import Portable
from tankside.records.copy import Copy
from tankside.records.entries import FINE
from tankside.records.folding import KINDS
from tankside.records.step_refusals import STEP_REFUSALS
from tankside.records.worth import is_inside, like
from tankside.units import QuantityError, parse_quantity

#: what may be said at any time once it has begun, also afterwards
SAID = ("note", "redline")
#: what may be done while it is paused
RESTING = (*SAID, "resume", "give", "receive", "join", "leave", "correct", "unmark", "stop", "abandon")
#: what may be done while somebody waits for the work to be taken over
WAITING = (*SAID, "receive", "join", "correct", "stop", "abandon")
#: what may be done when it has ended
AFTER = (*SAID, "correct")
#: what is about a step
VISITING = (
    *("begin", "mark", "look", "pour", "read", "take", "count", "second"),
    *("alone", "release", "allow", "skip", "deviate", "decide"),
)
#: what needs a reason
REASONED = ("alone", "allow", "skip", "deviate", "decide", "correct", "unmark", "abandon")
#: what brings somebody in
ARRIVING = ("join", "receive")
#: what anybody may do, whether their initials are known or not: nothing stands between a person and the stop
ANYBODY = (*ARRIVING, *SAID, "stop")
#: blanks that a keyboard makes
_BLANKS = re.compile("[ \\t\\r\\n\\u00a0]")


def refusal(copy: Copy, event: Portable) -> str:
    """Return the code of what is against an event now; FINE when nothing is."""
    kind = event["kind"]
    if kind not in KINDS:
        return "kind-unknown"
    if (kind == "start") == copy.is_started:
        return "already-started" if copy.is_started else "not-started"
    if kind == "start":
        return _start(copy, event)
    checks = (_who, _time, _reason, _visit)
    found = (code for check in checks if (code := check(copy, event)))
    return next(found, FINE) or _REFUSALS.get(kind, _nothing)(copy, event)


def bare(text: str | None) -> str:
    """Return a text as two are compared: ab and A B are the same initials; blanks alone are nothing."""
    return _BLANKS.sub("", text or "").upper()


def _nothing(copy: Copy, event: Portable) -> str:
    return FINE


def _start(copy: Copy, event: Portable) -> str:
    people = [(each["who"], each["role"]) for each in event["people"]]
    initials = [bare(who) for who, _ in people]
    if (event["who"], event["role"]) not in people or not all(initials):
        return "people-missing"
    if len(set(initials)) < len(initials):
        return "person-twice"
    if copy.script.needs_second_person and len(initials) < 2:
        return "second-person-missing"
    if copy.script.needs_lot and not bare(event.get("lot")):
        return "lot-missing"
    if copy.script.sizes and event.get("bottle") not in copy.script.sizes:
        return "bottle-missing"
    return next((code for each in copy.script.inputs() if (code := _input(event, *each))), FINE)


def _input(event: Portable, procedure: str, name: str, asked: Portable) -> str:
    text = event["inputs"].get(procedure, {}).get(name)
    if text is None:
        return "input-missing"
    low, high = parse_quantity(asked["from"]), parse_quantity(asked["to"])
    try:
        chosen = parse_quantity(text)
    except QuantityError:
        return "input-missing"
    return FINE if like(chosen, low) and is_inside(chosen.value, low, high) else "input-outside"


def _who(copy: Copy, event: Portable) -> str:
    if event["kind"] in ANYBODY:
        return FINE
    if event["who"] not in copy.people:
        return "who-unknown"
    return FINE if event["role"] == copy.people[event["who"]] else "wrong-role"


def _time(copy: Copy, event: Portable) -> str:
    kind = event["kind"]
    if copy.ended:
        return FINE if kind in AFTER else "ended"
    if copy.given_by:
        return FINE if kind in WAITING else "given"
    return "paused" if copy.is_paused and kind not in RESTING else FINE


def _reason(copy: Copy, event: Portable) -> str:
    return "reason-missing" if event["kind"] in REASONED and not bare(event.get("reason")) else FINE


def _visit(copy: Copy, event: Portable) -> str:
    if event["kind"] not in VISITING:
        return FINE
    place = event["visit"]
    if not 0 <= place < len(copy.trail):
        return "no-such-step"
    visit = copy.trail[place]
    if not visit.is_open:
        return "done-already"
    if not copy.is_markable(visit):
        return "not-next"
    return "wrong-kind" if visit.node < 0 and event["kind"] != "decide" else FINE


def _resume(copy: Copy, event: Portable) -> str:
    return FINE if copy.is_paused else "not-paused"


def _receive(copy: Copy, event: Portable) -> str:
    if not copy.given_by:
        return "not-given"
    who = event["who"]
    if who == copy.given_by:
        return "same-person"
    if who not in copy.people:
        return _join(copy, event)
    return FINE if event["role"] == copy.people[who] else "wrong-role"


def _join(copy: Copy, event: Portable) -> str:
    who = bare(event["who"])
    if not who:
        return "people-missing"
    return "person-twice" if who in map(bare, copy.people) else FINE


def _leave(copy: Copy, event: Portable) -> str:
    return "people-missing" if len(copy.people) == 1 else FINE


def _checked(copy: Copy, event: Portable) -> str:
    return "out-of-calibration" if event["due"] and event["due"] < event["at"][:10] else FINE


def _finish(copy: Copy, event: Portable) -> str:
    return FINE if copy.is_through else "not-through"


_REFUSALS: dict[str, Callable[[Copy, Portable], str]] = {
    **STEP_REFUSALS,
    "resume": _resume,
    "receive": _receive,
    "join": _join,
    "leave": _leave,
    "checked": _checked,
    "finish": _finish,
}

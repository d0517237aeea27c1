"""How a competence stands, and what changed, in words."""

from collections.abc import Mapping, Sequence

from tankside.cli.records_words import clean
from tankside.problems import LONGEST, quoted
from tankside.training.changes import ADDED, MOVED, OBSERVE, REMOVED, SHOW, Change
from tankside.training.standing import LAPSED, NEEDS_MORE, SHOW_FIRST, VALID, Reason, Standing

#: words that are shown around what changed in a long sentence
AROUND = 3
#: how a competence stands that is neither valid nor lapsed
PLAIN = {
    "never": "never",
    "read": "read",
    "shown": "shown",
    "supervised": "under supervision",
    "alone": "alone",
    "needs-more": "needs more",
}
#: what follows from a change
FOLLOWS = {OBSERVE: "observe again", SHOW: "show before the next time", "": "nothing"}
#: sort of an element -> what it is called
NOUNS = {
    "step": "step",
    "stop": "stopping safely",
    "leave": "when to leave",
    "call": "the call",
    "scope": "scope",
    "second-person": "second person",
    "wear": "what is worn",
    "condition": "condition",
    "hazard": "hazard",
    "never": "what must never meet",
    "energy": "energy source",
    "amount": "amount",
    "caution": "caution",
    "remedy": "when it goes wrong",
    "waste": "waste",
}


def standing_in_words(found: Standing, steps: Mapping[str, str]) -> str:
    """Return how a competence stands; `steps` are the steps as they are now, by their keys."""
    if found.word not in (VALID, SHOW_FIRST, LAPSED):
        return PLAIN[found.word]
    if found.word == VALID:
        return f"valid, lapses on {found.lapses_on}" if found.lapses_on else "valid"
    why = "; ".join(_reason(each, found, steps) for each in found.reasons)
    if found.word == SHOW_FIRST:
        return f"to be shown before the next time: {why}"
    days = sorted(each.day for each in found.reasons if each.day)
    return f"lapsed since {days[0]}: {why}" if days else f"lapsed: {why}"


def _reason(reason: Reason, found: Standing, steps: Mapping[str, str]) -> str:
    if reason.code == "date":
        return f"last seen on {found.since}"
    if reason.code == "unused":
        return "not done for too long"
    if reason.code == NEEDS_MORE:
        return f"needs more, seen on {reason.day}"
    assert reason.change is not None, "what changed is known"
    return change_in_words(reason.change, steps)


def change_in_words(change: Change, steps: Mapping[str, str]) -> str:
    """Return what changed; `steps` are the steps as they are now, by their keys."""
    sort, _, name = change.key.partition(":")
    called = NOUNS.get(sort, sort)
    if sort == "step":
        called = f"step {steps.get(change.key) or quoted(name)}"
    if change.what in (ADDED, REMOVED):
        is_added = change.what == ADDED
        said = "" if change.key in steps else f": '{change.now if is_added else change.before}'"
        return clean(f"{called} {'added' if is_added else 'taken out'}{said}")
    if change.what == MOVED:
        where = "" if sort == "step" else f": '{change.now}'"
        return clean(f"{called} stands in another place{where}")
    (head, _, before), (now_head, _, now) = (each.partition(": ") for each in (change.before, change.now))
    if sort == "amount" and head == now_head:
        return clean(f"{called} {quoted(head)} changed{_from_to(before, now)}")
    before, now = _parted(clean(change.before), clean(change.now))
    return f"{clean(called)} changed{_from_to(before, now)}"


def _from_to(before: str, now: str) -> str:
    """Return from what to what; nothing where its words are the same, and only a fact behind them is another one."""
    return "" if before == now else f" from {before} to {now}"


def _parted(before: str, now: str) -> tuple[str, str]:
    """Return both in quotes; of long ones, where they part, with some words around."""
    if max(len(before), len(now)) <= LONGEST:
        return f"'{before}'", f"'{now}'"
    one, other = before.split(), now.split()
    alike = [_alike(one, other), _alike(one[::-1], other[::-1])]
    alike[1] = min(alike[1], min(len(one), len(other)) - alike[0])
    first, last = (max(each - AROUND, 0) for each in alike)
    return _cut(one, first, last), _cut(other, first, last)


def _alike(one: Sequence[str], other: Sequence[str]) -> int:
    """Return how many words are the same at the beginning."""
    pairs = zip(one, other, strict=False)
    return next((count for count, (own, theirs) in enumerate(pairs) if own != theirs), min(len(one), len(other)))


def _cut(words: Sequence[str], first: int, last: int) -> str:
    inside = " ".join(words[first : len(words) - last])
    return f"'{'… ' if first else ''}{inside}{' …' if last else ''}'"

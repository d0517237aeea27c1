"""How many things a text asks for."""

import re
from collections.abc import Iterator
from itertools import pairwise

from tankside.audit.reading.verbs import KINDS_OF_STEP, NOTHING, PRONOUNS, STAYING, SUBORDINATING, VERBS
from tankside.audit.reading.wording import begins_action, may_be_order, order_of, sentences, words

#: where another action may begin inside a sentence
JOINT = re.compile(r"([,;:]\s+(?:and\s+then\s+|and\s+|then\s+)?|\s+and\s+(?:then\s+)?|\s+then\s+)", re.IGNORECASE)


def actions(text: str) -> tuple[str, ...]:
    """Return the parts of a text that each ask for an action of its own.

    What is forbidden and what stays as it is are no actions. Neither is what goes on with the same thing in hand, such
    as 'and hang it in its clip' or 'rinse and dry the cup', unless its verb is a kind of step.
    """
    found: list[str] = []
    for sentence in sentences(text):
        found += (part for part in _in_sentence(order_of(sentence), is_first=not found))
    return tuple(found)


def _in_sentence(sentence: str, *, is_first: bool) -> Iterator[str]:
    head, *rest = JOINT.split(sentence)
    before = words(head)
    is_action = may_be_order(before) if is_first else begins_action(before) and not _goes_on((), before)
    if is_action and _changes_something(before):
        yield head
    is_subordinate = _has_clause(before)
    for joint, part in zip(rest[::2], rest[1::2], strict=True):
        said = words(part)
        is_free = not is_subordinate or "then" in joint.lower()
        if is_free and begins_action(said) and not _goes_on(before, said) and _changes_something(said):
            yield part
        is_subordinate, before = is_subordinate or _has_clause(said), said


def _has_clause(said: tuple[str, ...]) -> bool:
    lower = [word.lower() for word in said]
    begins = any(word in SUBORDINATING for word in lower)
    return begins or any(word == "to" and after in VERBS for word, after in pairwise(lower))


def _changes_something(said: tuple[str, ...]) -> bool:
    lower = [word.lower() for word in said]
    forbids = lower[0] in ("never", "don't") or lower[:2] == ["do", "not"] or bool(NOTHING & set(lower[1:3]))
    return not forbids and lower[0] not in STAYING


def _goes_on(before: tuple[str, ...], said: tuple[str, ...]) -> bool:
    has_object_before = len(said) > 1 and said[1].lower() in PRONOUNS
    shares_object = len(before) == 1 and before[0].lower() in VERBS
    is_kind = said[0].lower() in KINDS_OF_STEP or (shares_object and before[0].lower() in KINDS_OF_STEP)
    return (has_object_before or shares_object) and not is_kind

"""From a right answer and wrong ones to a question."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from hashlib import sha256
from typing import Final

from tankside.views.training.question import Choice, Question
from tankside.views.training.questions.likeness import folded

#: wrong answers beside the right one
MOST_WRONG: Final = 3
#: fewer wrong answers than this make no automatic question
LEAST_WRONG: Final = 2


@dataclass(frozen=True)
class Asked:
    """What is asked, without its answers; see `Question`."""

    id: str
    kind: str
    asks: str
    about: str
    place: str


@dataclass(frozen=True)
class Answer:
    """An answer, and why it is right or wrong."""

    says: str
    why: str


def posed(asked: Asked, right: Answer, wrong: Iterable[Answer], *, least: int = LEAST_WRONG) -> Iterator[Question]:
    """Return the question, nothing when there are fewer than `least` wrong answers that can be told apart.

    Wrong answers are taken in the order given. Where the right one stands follows from the id alone.
    """
    apart = {folded(right.says): right}
    for each in wrong:
        if len(apart) <= MOST_WRONG:
            apart.setdefault(folded(each.says), each)
    if len(apart) <= least:
        return
    choices = [Choice(each.says, each.why, is_right=each is right) for each in apart.values()]
    at = digest(f"{asked.id} {asked.asks}") % len(choices)
    placed = (*choices[1 : at + 1], choices[0], *choices[at + 1 :])
    yield Question(asked.id, asked.kind, asked.asks, placed, asked.about, asked.place)


def digest(text: str) -> int:
    """Return a number that looks like chance and is the same for the same text, on every machine."""
    return int.from_bytes(sha256(text.encode("utf-8")).digest()[:4], "big")

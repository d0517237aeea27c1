"""Whether two texts say the same, so that they cannot be offered as a right and a wrong answer."""

import re
from typing import Final

_APART: Final = re.compile(r"[^\w%<>]+")
_CLAUSES: Final = re.compile(r"[.,:;!?]\s+|[.,:;!?]$")
#: words with fewer letters say little of what a text is about; of longer ones this many tell, so that "meets" is "meet"
LEAST_LETTERS: Final = 4
#: words of the book that say as little
LITTLE: Final = frozenset({"that", "this", "what", "when", "with", "from", "into", "each", "they", "their", "them"})
#: share of the words of the shorter text that both may have
MOST_SHARED: Final = 0.4


def folded(text: str) -> str:
    """Return a text without case, blanks and punctuation."""
    return _APART.sub(" ", text.casefold()).strip()


def clauses(text: str) -> tuple[str, ...]:
    """Return what stands between the commas and full stops of a text, folded."""
    return tuple(filter(None, map(folded, _CLAUSES.split(text))))


def reads_the_same(one: str, other: str) -> bool:
    """Whether two texts are the same but for punctuation, or one contains the other."""
    first, second = f" {folded(one)} ", f" {folded(other)} "
    return first in second or second in first


def says_the_same(one: str, other: str) -> bool:
    """Whether two texts read the same, share a clause, or share so many words that both may be true at one place."""
    if reads_the_same(one, other) or not set(clauses(one)).isdisjoint(clauses(other)):
        return True
    first, second = stems(one), stems(other)
    return len(first & second) > MOST_SHARED * min(len(first), len(second))


def stems(text: str) -> frozenset[str]:
    """Return how the words begin that say what a text is about."""
    words = (word for word in folded(text).split(" ") if len(word) >= LEAST_LETTERS)
    return frozenset(word[:LEAST_LETTERS] for word in words if word not in LITTLE)

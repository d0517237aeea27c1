"""Reading the history of a procedure or checklist: whether a line of it says what changed."""

import re

WORD = re.compile(r"[^\W_]+")
#: words that say that something changed, and not what; every other word is taken to say what
EMPTY = re.compile(
    r"change[ds]?|edit(ed|s)?|revised?|revisions?|update[ds]?|(re)?issued?|versions?|new(er|est)?|amend(ed|ments?)"
    r"|adjust(ed|ments?)|corrections?|improved|improvements?|modified|modifications?"
    r"|first|second|third|general|minor|misc|miscellaneous|several|small|some|various|again"
    r"|checklist|document|file|it|page|procedure|things"
    r"|an?|and|are|as|been|has|have|is|made|of|per|see|that|the|this|to|was|were|[0-9]+"
)


def is_silent(change: str, title: str) -> bool:
    """Return whether a line of the history does not say what changed: only the title again, or that something did."""
    rest = _folded(change).replace(_folded(title), "")
    return all(map(EMPTY.fullmatch, rest.split()))


def _folded(text: str) -> str:
    return " ".join(WORD.findall(text.casefold()))

"""What a laid-out sheet must hold to: no step on two pages, no caution at the end of one."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

#: the ids that templates give begin with one of these
STEP = "step-"
CAUTION = "caution-"

#: id -> where it begins on its page
Places = Mapping[str, tuple[float, float]]


def misfits(pages: Sequence[Places]) -> Iterator[str]:
    """Say what does not fit; `pages` are the places of each page, in order."""
    for before, after in pairwise(pages):
        for each in before.keys() & after.keys():
            yield f"{_said(each)} is longer than a page"
        last = max(before, key=lambda each: before[each][1], default="")
        if last.startswith(CAUTION):
            yield f"{_said(last)} does not fit on a page with what it stands before"


def _said(place: str) -> str:
    kind, _, number = place.partition("-")
    return f"{kind} {number.rpartition('_')[2]}"

"""What a laid-out sheet holds to: no step on two pages, no caution at the end of one, no page too many."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

#: the ids that templates give begin with one of these
STEP = "step-"
CAUTION = "caution-"

#: id -> where it begins on its page
Places = Mapping[str, tuple[float, float]]


@dataclass(frozen=True)
class Misfit:
    """Something that does not fit.

    `split` is a step or caution longer than a page; `parted` a caution that cannot stay with what it stands before;
    `pages` a sheet with more pages than its class allows; `lines` one with more lines; `small` one whose drawing has
    lettering that is too small.
    """

    what: Literal["split", "parted", "pages", "lines", "small"]
    #: the id of the step or caution; "" for the whole sheet
    place: str = ""
    #: how many pages or lines it takes, and how many steps are too many for its class
    takes: int = 0
    too_many: int = 0

    @property
    def number(self) -> str:
        """The number of the step or caution, as it stands on the sheet."""
        return self.place.rpartition("_")[2]

    @property
    def thing(self) -> str:
        """Whether it is about a step or a caution."""
        return self.place.partition("-")[0]


def misfits(pages: Sequence[Places], most_pages: int | None) -> Iterator[Misfit]:
    """Return what does not fit; `pages` are the places of each page, in order."""
    split: set[str] = set()
    for before, after in pairwise(pages):
        # What is longer than two pages is said once.
        new = sorted((before.keys() & after.keys()) - split)
        split.update(new)
        yield from (Misfit("split", each) for each in new)
        last = max(before, key=lambda each: before[each][1], default="")
        if last.startswith(CAUTION):
            yield Misfit("parted", last)
    if most_pages is not None and len(pages) > most_pages:
        over = {each for page in pages[most_pages:] for each in page if each.startswith(STEP)}
        yield Misfit("pages", takes=len(pages), too_many=len(over))


def said(misfit: Misfit) -> str:
    """Return what does not fit as a clause."""
    if misfit.what == "split":
        return f"{misfit.thing} {misfit.number} is longer than a page"
    if misfit.what == "parted":
        return f"{misfit.thing} {misfit.number} does not fit on a page with what it stands before"
    if misfit.what == "small":
        return "the lettering of a drawing is too small to be read from where the sheet is read"
    takes = f"it takes {misfit.takes} {misfit.what}"
    if not misfit.too_many:
        return takes
    return f"{takes}, {misfit.too_many} {'step' if misfit.too_many == 1 else 'steps'} too many"

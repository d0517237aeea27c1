"""What changed between two editions, as far as it is taught, and what follows from it for who was trained before.

The page does the same (``training-standing.js``); ``tests/both/standings.json`` drives both.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from tankside.training.taught import Element, Taught

#: what follows, the heaviest first: somebody is seen at it again, or shown it before the next time
OBSERVE, SHOW = "observe", "show"
ADDED, REMOVED, CHANGED, MOVED = "added", "removed", "changed", "moved"


@dataclass(frozen=True)
class Change:
    """A difference."""

    key: str
    #: added, removed, changed or moved
    what: str
    follows: str
    #: "" where it was not there
    before: str
    #: "" where it is not there any more
    now: str


def changes(before: Taught, now: Taught) -> tuple[Change, ...]:
    """Return what differs, in the order of the newer one; what was taken out stands last. Spelling is no difference."""
    if before.content == now.content:
        return ()
    old, new = _by_key(before), _by_key(now)
    is_wording_alone = now.same_since <= before.revision < now.revision
    found = [*_changed(old, new, is_wording_alone)]
    gone = (_change(old[key], REMOVED, old[key].says, "") for key in old if key not in new)
    return (*found, *gone, *_moved(old, new))


def follows(found: tuple[Change, ...]) -> str:
    """Return what follows from changes: "observe", "show", or "" from none."""
    return min((each.follows for each in found), default="")


def _by_key(taught: Taught) -> Mapping[str, Element]:
    return {each.key: each for each in taught.elements}


def _changed(old: Mapping[str, Element], new: Mapping[str, Element], is_wording_alone: bool) -> Iterator[Change]:
    for key, element in new.items():
        was = old.get(key)
        if was is None:
            yield _change(element, ADDED, "", element.says)
        elif was.facts != element.facts or (was.words != element.words and not is_wording_alone):
            yield _change(element, CHANGED, was.says, element.says)


def _change(element: Element, what: str, before: str, now: str) -> Change:
    return Change(element.key, what, OBSERVE if element.is_critical else SHOW, before, now)


def _moved(old: Mapping[str, Element], new: Mapping[str, Element]) -> Iterator[Change]:
    """Return a change for the first element that stands in another order among those that are in both."""
    for is_critical, follow in ((True, OBSERVE), (False, SHOW)):
        was = [key for key in old if key in new and (new[key].is_critical or not is_critical)]
        became = [key for key in new if key in old and (new[key].is_critical or not is_critical)]
        for key, other in zip(became, was, strict=True):
            if key != other:
                yield Change(key, MOVED, follow, new[other].says, new[key].says)
                return

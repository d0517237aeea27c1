"""How somebody's competence in a procedure stands on a day, and why.

The page works it out alike (``training-standing.js``); ``tests/both/standings.json`` drives both.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from tankside.model.training import ALONE, METHODS, READ, SHOWN, SUPERVISED
from tankside.quantities.portable import Portable
from tankside.training.changes import OBSERVE, SHOW, Change, changes
from tankside.training.taught import Taught

#: results of an entry; nothing is seen of who is only shown something
COMPETENT, NEEDS_MORE, NOT_SEEN = "competent", "needs-more", "not-seen"
#: methods by which somebody is watched
WATCHED = (SUPERVISED, ALONE)
#: what an entry is about that is not about a single step
WHOLE = "whole"
#: words for how it stands, besides the methods: nothing yet; as it should be; to be shown something first; not any more
NEVER, VALID, SHOW_FIRST, LAPSED = "never", "valid", "show-first", "lapsed"


@dataclass(frozen=True)
class Rules:
    """After how many days it lapses."""

    after: int
    unused_for: int


@dataclass(frozen=True)
class Reason:
    """Why it does not stand as it should."""

    #: date, unused, needs-more, observe or show
    code: str
    #: the day of it; "" of a change
    day: str = ""
    #: what changed: the key of an element
    key: str = ""
    #: from what to what, in words
    change: Change | None = None


@dataclass(frozen=True)
class Standing:
    """How it stands."""

    #: never, read, shown, supervised (not there yet), needs-more, valid, show-first, lapsed
    word: str
    #: the day on which the method that is wanted was reached; "" when it was not
    since: str = ""
    #: the first day on which it does not stand any more; "" when it does not stand, or for what never lapses
    lapses_on: str = ""
    reasons: tuple[Reason, ...] = ()


@dataclass(frozen=True)
class Case:
    """What is asked: somebody, a procedure, a day."""

    #: entries of this person about this procedure, oldest first; those that were struck out are not among them
    entries: Sequence[Portable]
    #: days on which the person did it, in earnest or as a drill; what was done after it lapsed brings nothing back
    uses: Collection[str]
    #: hash -> what was taught
    taught: Mapping[str, Taught]
    now: Taught
    rules: Rules
    today: str
    #: the method that is wanted
    goal: str = ALONE


def day_of(entry: Portable) -> str:
    """Return the day of an entry, where it was made."""
    return str(entry["at"])[:10]


def standing(asked: Case) -> Standing:
    """Return how it stands.

    Nothing but entries of the kind `signed` count, up to that day; what was only to be read never lapses. An entry
    about a single step makes nobody competent in the whole, but it may find somebody wanting.
    """
    signed = [each for each in asked.entries if each["kind"] == "signed" and day_of(each) <= asked.today]
    reached = [number for number, each in enumerate(signed) if reaches(each, asked.goal)]
    if not reached:
        return Standing(_on_the_way(signed))
    since = signed[reached[-1] :]
    day = day_of(since[0])
    if asked.goal == READ:
        return Standing(VALID, day)
    ends = _ends(asked, day)
    over = (Reason(code, end) for code, end in ends.items() if asked.today >= end)
    reasons = (*_found_wanting(since), *over, *_changed(asked, since))
    if any(each.code != SHOW for each in reasons):
        return Standing(LAPSED, day, "", reasons)
    return Standing(SHOW_FIRST if reasons else VALID, day, min(ends.values()), reasons)


def reaches(entry: Portable, method: str) -> bool:
    """Return whether a signed entry shows that somebody came as far as a method: seen to do it, or shown it."""
    if entry["task"] != WHOLE or METHODS.index(entry["method"]) < METHODS.index(method):
        return False
    return bool(entry["result"] == COMPETENT) if entry["method"] in WATCHED else entry["result"] != NEEDS_MORE


def _on_the_way(signed: Sequence[Portable]) -> str:
    if signed and signed[-1]["result"] == NEEDS_MORE:
        return NEEDS_MORE
    done = (str(each["method"]) for each in signed if reaches(each, each["method"]))
    return max(done, key=METHODS.index, default=NEVER)


def _found_wanting(since: Sequence[Portable]) -> tuple[Reason, ...]:
    """Return the last finding that more is needed, unless that, or the whole, was seen to be done well after it."""
    wanting: dict[str, str] = {}
    for each in since:
        task = str(each["task"])
        if each["method"] not in WATCHED or each["result"] == NOT_SEEN:
            continue
        if each["result"] == NEEDS_MORE:
            wanting[task] = day_of(each)
        elif task == WHOLE:
            wanting.clear()
        else:
            wanting.pop(task, None)
    return (Reason(NEEDS_MORE, max(wanting.values())),) if wanting else ()


def _ends(asked: Case, day: str) -> Mapping[str, str]:
    """Return the first day on which it has lapsed, by reason; only what is done oneself lapses when it is not done."""
    found = {"date": later(day, asked.rules.after)}
    if asked.goal in WATCHED:
        found["unused"] = _unused(asked, day)
    return found


def _unused(asked: Case, day: str) -> str:
    """Return the first day on which it had not been done for too long."""
    end = later(day, asked.rules.unused_for)
    for used in sorted(each for each in asked.uses if day < each <= asked.today):
        if used >= end:
            break
        end = later(used, asked.rules.unused_for)
    return end


def later(day: str, days: int) -> str:
    """Return the day so many days after another; the last one of the calendar, where it would lie behind that."""
    try:
        return (date.fromisoformat(day) + timedelta(days=days)).isoformat()
    except OverflowError:
        return date.max.isoformat()


def _changed(asked: Case, since: Sequence[Portable]) -> Iterator[Reason]:
    """Return what changed and was not observed since; behind it, what changed and was not shown since.

    Who only has to be shown a procedure is shown whatever changed.
    """
    for each in _differing(asked, since, SUPERVISED, OBSERVE) if asked.goal in WATCHED else ():
        yield Reason(OBSERVE, key=each.key, change=each)
    for each in _differing(asked, since, SHOWN, SHOW, *(() if asked.goal in WATCHED else (OBSERVE,))):
        yield Reason(SHOW, key=each.key, change=each)


def _differing(asked: Case, since: Sequence[Portable], method: str, *follow: str) -> Iterator[Change]:
    last = next(each for each in reversed(since) if reaches(each, method))
    found = changes(asked.taught[last["taught"]], asked.now)
    return (each for each in found if each.follows in follow)

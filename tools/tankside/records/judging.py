"""The events of a record judged again, each as its edition would have judged it when it was entered."""

from dataclasses import dataclass, field
from datetime import datetime

from tankside.problems import Problem, quoted
from tankside.quantities.portable import Portable
from tankside.records.copy import Copy, Visit
from tankside.records.document import Document
from tankside.records.figures import figures
from tankside.records.folding import fold
from tankside.records.following import NotFollowedError, ask_amounts
from tankside.records.labelling import misnamed
from tankside.records.refused import problem_of
from tankside.records.refusing import refusal
from tankside.records.script import Script
from tankside.records.shape import name_of
from tankside.records.spans import time_in_words
from tankside.records.step_refusals import elapsed
from tankside.schema.records import EVENTS

#: refusals that leave it clear what the event has done
_CLEAR = ("too-early", "same-person", "over")
#: refusals behind which others may hide
_HIDING = ("wrong-role", "reason-missing")
_WAITED = "the time is counted by the clock of the page, or by the time of day after the page was loaded again"


@dataclass(frozen=True, eq=False)
class Entry:
    """An event that was folded."""

    #: its place in the file
    place: int
    event: Portable
    #: the step that it is about, None when about none
    visit: Visit | None


@dataclass(eq=False)
class Judged:
    """What came of the events of a record."""

    copy: Copy
    #: by the number of the event
    entries: list[Entry] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)


def judged(document: Document, script: Script, places: tuple[int, ...]) -> Judged:
    """Return the state of the working copy, and what its edition has against its events.

    Args:
        document: a record that has the shape of one.
        script: what its edition follows.
        places: the events that hang together, in their order.
    """
    judging = _Judging(document, Judged(Copy(script)))
    for count, place in enumerate(places, 1):
        judging.following = len(places) - count
        if not judging.take(place):
            break
    return judging.judged


@dataclass
class _Judging:
    document: Document
    judged: Judged
    #: how many events stand behind the one that is judged
    following: int = 0

    def take(self, place: int) -> bool:
        """Judge an event and fold it; return whether the next one can be judged."""
        event = self.document.value[EVENTS][place]
        if not self._has_times(place, event):
            return False
        code = refusal(self.judged.copy, event)
        goes_on = not code or _is_clear(self.judged.copy, event, code)
        if code == "too-early":
            self._waited_short(place, event)
        elif code:
            problem, message, hint = problem_of(code)
            self._say(problem, place, message, hint if goes_on else self._ends_with(hint))
        return goes_on and self._fold(place, event)

    def _fold(self, place: int, event: Portable) -> bool:
        copy, visit = self.judged.copy, self._visit(event)
        self.judged.problems += misnamed(self.document, copy, place, visit)
        fold(copy, event)
        self.judged.entries.append(Entry(place, event, visit))
        if visit is not None:
            self.judged.problems += figures(self.document, copy, place, visit)
        return bool(event["kind"] != "start") or self._has_amounts(place)

    def _visit(self, event: Portable) -> Visit | None:
        if "corrects" in event:
            return self.judged.entries[int(event["corrects"])].visit
        trail: list[Visit] = self.judged.copy.trail
        return trail[int(event["visit"])] if "visit" in event else None

    def _has_times(self, place: int, event: Portable) -> bool:
        for key in ("at", "entered_at"):
            if key in event and not _is_time(event[key]):
                named = name_of(event, place)
                message = f"{named}: {quoted(event[key])} under '{key}' is no time that a clock can show"
                hint = self._ends_with("this event was changed, or the clock of the device is broken")
                self.judged.problems.append(self.document.error("record-time", message, hint, EVENTS, place, key))
                return False
        return True

    def _has_amounts(self, place: int) -> bool:
        try:
            ask_amounts(self.judged.copy)
        except NotFollowedError as error:
            message = f"chooses numbers for which the edition cannot be worked out: {error}"
            self._say("record-not-followed", place, message, self._ends_with("this edition was changed by hand"))
            return False
        return True

    def _waited_short(self, place: int, event: Portable) -> None:
        copy = self.judged.copy
        visit = copy.trail[event["visit"]]
        assert visit.begun is not None, "a wait that was not begun is refused otherwise"
        waited, wanted = elapsed(copy.events[visit.begun], event), copy.step_of(visit)["time"]
        message = f"ends the wait '{visit.name}' after {time_in_words(waited)}, the step says {wanted}"
        self._say("record-wait-short", place, message, _WAITED)

    def _ends_with(self, hint: str) -> str:
        if not self.following:
            return hint
        behind = "the event behind it was" if self.following == 1 else f"the {self.following} events behind it were"
        return f"{hint}; {behind} not judged"

    def _say(self, code: str, place: int, message: str, hint: str) -> None:
        named = name_of(self.document.value[EVENTS][place], place)
        self.judged.problems.append(self.document.error(code, f"{named} {message}", hint, EVENTS, place))


def _is_time(text: str) -> bool:
    try:
        datetime.fromisoformat(text)
    except ValueError:
        return False
    return True


def _is_clear(copy: Copy, event: Portable, code: str) -> bool:
    """Return whether it is clear what a refused event has done, so that those behind it can be judged."""
    if code in _HIDING and event["role"] != copy.people.get(event["who"]):
        event = {**event, "role": copy.people.get(event["who"], "")}
        code = refusal(copy, event)
    if code == "reason-missing":
        event = {**event, "reason": "none"}
        code = refusal(copy, event)
    # What is left of a wrong role is about the step, and the last thing that it asks.
    return not code or code in (*_CLEAR, "wrong-role")

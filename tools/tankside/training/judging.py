"""The events of a competence file judged one by one: which of them count."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime

from tankside.problems import Problem, quoted
from tankside.quantities.portable import Portable
from tankside.records.document import Document
from tankside.records.shape import name_of
from tankside.records.spans import time_in_words
from tankside.schema.records import EVENTS
from tankside.training.holding import SHORT, Holding
from tankside.training.rules import against, key_in_words, unseen
from tankside.training.taught import Taught

BEGIN, STRUCK = "begin", "struck"
_NOT = "it does not count"


@dataclass
class Judging:
    """Judges the events of one chain in their order."""

    document: Document
    held: Holding
    #: number of an event -> its place in the file
    by_number: dict[int, int] = field(default_factory=dict)
    #: places of events that are as they should be
    counting: dict[int, Portable] = field(default_factory=dict)
    #: numbers of what was struck out, and of what nobody strikes out
    struck: set[int] = field(default_factory=set)
    stays: set[int] = field(default_factory=set)
    problems: list[Problem] = field(default_factory=list)
    before: Portable = None

    def through(self, places: Iterable[tuple[int, Portable]]) -> "Judging":
        """Judge events, each with its place in the file."""
        for place, event in places:
            self.by_number[event["seq"]] = place
            if self._has_time(place, event):
                self._clock(place, event)
                self._take(place, event)
        for number in self.struck:
            self.counting.pop(self.by_number[number], None)
        return self

    def _take(self, place: int, event: Portable) -> None:
        if event["kind"] == BEGIN:
            self._begin(place, event)
        elif event["kind"] == STRUCK:
            self._strike(place, event)
        elif self._is_sound(place, event):
            self.counting[place] = event

    def _begin(self, place: int, event: Portable) -> None:
        self.stays.add(event["seq"])
        if event["seq"] != 0:
            hint = f"{_NOT}; who is trained for another role begins another competence record"
            self._say("competence-begin", place, "begins what was begun already", hint)

    def _strike(self, place: int, event: Portable) -> None:
        self.stays.add(event["seq"])
        number = event["corrects"]
        named = f"event {number + 1}"
        if number not in self.by_number or number >= event["seq"]:
            does = f"strikes out {named}, which does not stand before it"
        elif number in self.stays:
            does = f"strikes out {named}, which nobody can"
        elif number in self.struck:
            does = f"strikes out {named}, which was struck out before"
        else:
            self.struck.add(number)
            return
        self._say("competence-struck", place, does, f"{_NOT}; strike out the entry itself, once")

    def _is_sound(self, place: int, event: Portable) -> bool:
        if not self._has_taught(place, event):
            return False
        found = list(against(event, self._taught(event)))
        for each in found:
            self._say(each.code, place, each.does, f"{_NOT}; {each.hint}")
        not_seen = unseen(event)
        if not_seen and not found:
            does = f"says competent; not seen: {', '.join(map(key_in_words, not_seen))}"
            self._remark("competence-not-seen", place, does, "it is not on the way every time; watch it when it comes")
        return not found

    def _taught(self, event: Portable) -> Taught | None:
        return self.held.sound.get(event.get("taught", ""))

    def _has_taught(self, place: int, event: Portable) -> bool:
        hash_ = event.get("taught")
        if hash_ is None or hash_ in self.held.sound:
            return True
        if hash_ not in self.held.broken:
            does = f"names what was taught, {hash_[:SHORT]}, which this file does not hold"
            self._say("competence-taught-missing", place, does, f"{_NOT}; look for another copy of the file")
        return False

    def _has_time(self, place: int, event: Portable) -> bool:
        try:
            datetime.fromisoformat(event["at"])
        except ValueError:
            does = f"was entered at {quoted(event['at'])}, which is no time that a clock can show"
            self._say("competence-time", place, does, f"{_NOT}; it was changed, or the clock of the device is broken")
            return False
        return True

    def _clock(self, place: int, event: Portable) -> None:
        if self.before is not None:
            ran = datetime.fromisoformat(event["at"]) - datetime.fromisoformat(self.before["at"])
            if ran.total_seconds() < 0:
                back = time_in_words(-round(ran.total_seconds() * 1000))
                does = f"was entered {back} before the event that it follows: the clock ran backwards"
                hint = "the order of the chain counts; somebody set the clock, or went on on another device"
                self._remark("competence-clock", place, does, hint)
        self.before = event

    def _say(self, code: str, place: int, does: str, hint: str) -> None:
        self.problems.append(self.document.error(code, f"{self._name(place)} {does}", hint, EVENTS, place))

    def _remark(self, code: str, place: int, does: str, hint: str) -> None:
        self.problems.append(self.document.remark(code, f"{self._name(place)} {does}", hint, EVENTS, place))

    def _name(self, place: int) -> str:
        return name_of(self.document.value[EVENTS][place], place)

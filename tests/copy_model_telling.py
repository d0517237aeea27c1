"""What can be told of a working copy from the list of what was done, each time anew."""

from dataclasses import dataclass, field
from datetime import datetime
from fractions import Fraction
from typing import Any

from copy_model_book import BookOfModel, PartOfBook, is_within, quantity

Event = dict[str, Any]
#: where there is nothing to do but to say that it is done
NO_ENTRY = ("open", "shut", "start", "stop", "move", "lock", "unlock", "do", "check", "record", "notify")
#: only marked; at an add, a measure, a labels or a hold there is more to do
MARKED = (*NO_ENTRY, "wait", "choose", "repeat", "question")
ENTERED = ("add", "measure", "labels")
#: kinds of events by which somebody has a hand in a step
BY_HAND = {"look", "pour", "read", "count", "mark", "release", "correct"}


@dataclass(eq=False)
class Turn:
    """One time that the way leads to a step, or to a decision: then it has no node."""

    part: int
    node: int | None
    kind: str
    name: str
    #: to which one comes back after a decision
    back: "Turn | None" = None
    #: numbers of the events about it; empty again when its mark is taken back
    log: list[int] = field(default_factory=list)
    #: "complete", "deviated" or "not applicable"; empty while it is not finished
    end: str = ""
    #: which way was taken
    way: int | None = None
    #: the event that finished it
    by: int | None = None
    #: begun on a way that was then not taken: nobody has to finish it
    is_left: bool = False

    @property
    def is_due(self) -> bool:
        return self.way is None and not self.is_left

    @property
    def state(self) -> str:
        return self.end or ("started" if self.log else "not started")


class Telling:
    """A working copy of an edition: what was done, and where the way has led so far."""

    def __init__(self, edition: Any) -> None:
        self.book = BookOfModel(edition)
        self.log: list[Event] = []
        self.way: list[Turn] = []
        self.last: Turn | None = None
        self.present: dict[str, str] = {}
        self.is_paused = self.is_through = self.is_cut_short = False
        self.handed_over_by = self.ended = ""

    def part(self, turn: Turn) -> PartOfBook:
        return self.book.parts[turn.part]

    def step(self, turn: Turn) -> Any:
        return self.part(turn).places[turn.name][0]

    def where(self, turn: Turn) -> tuple[int, str]:
        return turn.part, self.part(turn).places[turn.name][1]

    def exits(self, turn: Turn) -> Any:
        assert turn.node is not None
        return self.part(turn).node(turn.node)["exits"]

    def events(self, turn: Turn, *kinds: str) -> list[Event]:
        return [self.log[seq] for seq in turn.log if self.log[seq]["kind"] in kinds]

    def entries(self, turn: Turn) -> list[Event]:
        return self.events(turn, "pour", "read", "count", "mark")

    def wants_two(self, turn: Turn) -> bool:
        is_step = turn.node is not None and turn.kind != "question"
        return is_step and self.step(turn).get("second_person") == "yes"

    def hands(self, turn: Turn) -> set[str]:
        return {event["who"] for event in self.events(turn, *BY_HAND)}

    def last_word(self, event: Event) -> Event:
        """Return an entry as it was last corrected."""
        later = [each for each in self.log if each["kind"] == "correct" and each["corrects"] == event["seq"]]
        return self.last_word(later[0]) if later else event

    def is_corrected(self, event: Event) -> bool:
        return self.last_word(event) is not event

    def label(self, turn: Turn) -> str:
        return self.book.label(self.part(turn), self.step(turn), self.log[0].get("bottle", ""))

    def is_label_right(self, turn: Turn) -> bool:
        read = [event["says"] for event in self.events(turn, "look")]
        return self.label(turn) == "" or (bool(read) and read[-1] == self.label(turn))

    def bounds(self, turn: Turn) -> tuple[Fraction | None, Fraction | None]:
        return self.book.bounds(self.part(turn), self.step(turn), self.log[0]["inputs"])

    def value(self, turn: Turn) -> Fraction:
        """Return what was put in together, or read, in base units."""
        found = [quantity(self.last_word(each)) for each in self.entries(turn)]
        return sum((each.value for each in found if each is not None), Fraction(0))

    def is_too_much(self, turn: Turn) -> bool:
        high = self.bounds(turn)[1]
        return high is not None and self.value(turn) > high

    def missing_labels(self, turn: Turn) -> int:
        """Return how many labels of its product were given out and are in no count of this step."""
        count = self.last_word(self.entries(turn)[-1])
        if "issued" in count:
            return 0
        words = [self.last_word(each) for other in self.same_labels(turn) for each in self.entries(other)]
        given_out = sum(each.get("issued", 0) for each in words)
        return int(given_out - count["used"] - count["spoiled"] - count["left"])

    def same_labels(self, turn: Turn) -> list[Turn]:
        """Return the steps with counts that are compared with those of a step."""
        product = self.step(turn)["product"]
        labels = [each for each in self.way if each.kind == "labels" and self.entries(each)]
        return [each for each in labels if self.step(each)["product"] == product]

    def has_stopped(self, turn: Turn) -> bool:
        """Return whether a value is wrong and nothing can be entered to make it right; to too little, more is put."""
        return not self.is_right(turn) and (turn.kind != "add" or self.is_too_much(turn))

    def is_right(self, turn: Turn) -> bool:
        """Return whether what was entered is what it must be."""
        if turn.kind not in ENTERED:
            return bool(self.events(turn, "mark", "release"))
        if not self.entries(turn):
            return False
        if turn.kind == "labels":
            return self.missing_labels(turn) == 0
        return is_within(self.value(turn), self.bounds(turn))

    def first_word(self, event: Event) -> Event:
        """Return the entry that an event corrects, or itself."""
        return self.first_word(self.log[event["corrects"]]) if event["kind"] == "correct" else event

    def marked_by(self, seq: int) -> Turn | None:
        """Return the step that an event finished, or marked, so that a second person has still to look."""
        for turn in self.way:
            if turn.by == seq or (turn.way is None and [each["seq"] for each in self.entries(turn)][-1:] == [seq]):
                return turn
        return None

    def is_next(self, turn: Turn) -> bool:
        """Return whether nothing has to be done first.

        Where the work is known by heart, steps of one section may be marked in any order, if they are only marked.
        """
        first = [each for each in self.way[: self.way.index(turn)] if each.is_due]
        is_free = self.book.is_by_heart and all(self._is_known(each) for each in (turn, *first))
        return not first or (is_free and len({self.where(each) for each in (turn, *first)}) == 1)

    def _is_known(self, turn: Turn) -> bool:
        return turn.node is not None and turn.kind in NO_ENTRY


def initials(who: str) -> str:
    """Return initials as they are told apart, however they are written."""
    return "".join(who.split()).upper()


def seconds(before: Event, after: Event) -> Fraction:
    """Return the time between two events, by the clock of the page where it was one page, else by the time of day."""
    if before["session"] == after["session"]:
        return Fraction(after["clock"] - before["clock"], 1000)
    between = datetime.fromisoformat(after["at"]) - datetime.fromisoformat(before["at"])
    return Fraction(between.days * 86_400 + between.seconds) + Fraction(between.microseconds, 1_000_000)

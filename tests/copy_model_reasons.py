"""All that is against an action on a working copy, from the words that say what it refuses."""

from collections.abc import Iterator
from typing import Any

from copy_model_book import quantity
from copy_model_telling import ENTERED, MARKED, NO_ENTRY, Event, Telling, Turn, initials, seconds

from tankside.units import parse_quantity

CAN_BE_LEFT_OUT = ("open", "shut", "start", "stop", "move", "do", "record", "notify", "wait")
CAN_BE_CHANGED = (*CAN_BE_LEFT_OUT, "lock", "unlock", "labels")

ON_A_STEP = {
    *("begin", "mark", "look", "pour", "read", "take", "count", "second"),
    *("alone", "release", "allow", "skip", "deviate", "decide"),
}
KINDS = {
    *ON_A_STEP,
    *("start", "checked", "correct", "unmark", "pause", "resume", "stop", "give", "receive", "join", "leave"),
    *("note", "redline", "finish", "abandon"),
}
NEEDS_A_REASON = {"alone", "allow", "skip", "deviate", "decide", "correct", "unmark", "abandon"}
#: what can be said about the work, also when it has ended
SAYING = {"note", "redline"}
ANYBODY_MAY = {"join", "receive", "stop", *SAYING}
WHILE_HANDED_OVER = {*SAYING, "receive", "join", "correct", "stop", "abandon"}
WHILE_PAUSED = {*WHILE_HANDED_OVER, "resume", "give", "leave", "unmark"}
AT_THE_END = {*SAYING, "correct"}


class Reasons(Telling):
    """A working copy that can say what is against an action; the core names one of the reasons."""

    def reasons(self, event: Event) -> set[str]:
        """Return all that is against an event, nothing when it may be."""
        kind = event["kind"]
        if kind not in KINDS:
            return {"kind-unknown"}
        if not self.log:
            return set(self._against_start(event)) if kind == "start" else {"not-started"}
        if kind == "start":
            return {"already-started"}
        found = set(self._against_this_person_and_time(event))
        if kind in ON_A_STEP:
            found |= self._against_on_a_step(event)
        else:
            found |= set(getattr(self, f"_against_{kind}", lambda event: ())(event))
        return found

    def _against_this_person_and_time(self, event: Event) -> Iterator[str]:
        kind = event["kind"]
        if kind not in ANYBODY_MAY and event["who"] not in self.present:
            yield "who-unknown"
        if kind not in ANYBODY_MAY and event["role"] != self.present.get(event["who"]):
            yield "wrong-role"
        if self.ended and kind not in AT_THE_END:
            yield "ended"
        if not self.ended and self.handed_over_by and kind not in WHILE_HANDED_OVER:
            yield "given"
        if not self.ended and self.is_paused and kind not in WHILE_PAUSED:
            yield "paused"
        if kind in NEEDS_A_REASON and not event.get("reason", "").strip():
            yield "reason-missing"

    def _against_start(self, event: Event) -> Iterator[str]:
        people = [initials(each["who"]) for each in event["people"]]
        if "" in people or {"who": event["who"], "role": event["role"]} not in event["people"]:
            yield "people-missing"
        if len(people) != len(set(people)):
            yield "person-twice"
        if self.book.is_for_two and len(people) < 2:
            yield "second-person-missing"
        if self.book.kinds & {"add", "labels"} and not event.get("lot", "").strip():
            yield "lot-missing"
        if self.book.bottles and event.get("bottle") not in self.book.bottles:
            yield "bottle-missing"
        for procedure, name, asked in self.book.questions():
            yield from _against_input(event["inputs"].get(procedure, {}).get(name, ""), asked)

    def _against_on_a_step(self, event: Event) -> set[str]:
        if not 0 <= event["visit"] < len(self.way):
            return {"no-such-step"}
        turn = self.way[event["visit"]]
        if not turn.is_due:
            return {"done-already"}
        if not self.is_next(turn):
            return {"not-next"}
        if (turn.node is None) != (event["kind"] == "decide"):
            return {"wrong-kind"}
        return set(getattr(self, f"_against_{event['kind']}", lambda turn, event: ())(turn, event))

    def _against_begin(self, turn: Turn, event: Event) -> Iterator[str]:
        if turn.kind in ("hold", "question"):
            yield "wrong-kind"
        if turn.log:
            yield "begun-already"

    def _against_mark(self, turn: Turn, event: Event) -> Iterator[str]:
        if turn.kind not in MARKED:
            yield "wrong-kind"
            return
        if self.entries(turn):
            yield "marked-already"
        if event.get("answer", "") not in [each.get("answer", "") for each in self.exits(turn)]:
            yield "answer-unknown"
        if turn.kind == "wait":
            begun = self.events(turn, "begin")
            if not begun:
                yield "not-begun"
            elif seconds(begun[-1], event) < parse_quantity(self.step(turn)["time"]).value:
                yield "too-early"

    def _against_look(self, turn: Turn, event: Event) -> Iterator[str]:
        if not self.label(turn):
            yield "wrong-kind"

    def _against_pour(self, turn: Turn, event: Event) -> Iterator[str]:
        if turn.kind != "add":
            yield "wrong-kind"
            return
        if not self.is_label_right(turn):
            yield "label-not-read"
        if self._is_no_number(turn, event) or quantity(event).value == 0:  # type: ignore[union-attr]
            yield "no-number"
        if self.is_too_much(turn):
            yield "over"

    def _is_no_number(self, turn: Turn, event: Event) -> bool:
        found = quantity(event)
        is_sort = found is not None and found.unit.kind == self.book.sort(self.part(turn), self.step(turn))
        return not is_sort or (turn.kind == "add" and found is not None and found.value < 0)

    def _against_read(self, turn: Turn, event: Event) -> Iterator[str]:
        if turn.kind != "measure":
            yield "wrong-kind"
            return
        today = event["at"][:10]
        looks = [each for each in self.log if each["kind"] == "checked" and each["instrument"] == event["instrument"]]
        if self.entries(turn):
            yield "read-already"
        if event["instrument"] != self.step(turn)["instrument"]:
            yield "wrong-instrument"
        if event["due"] and event["due"] < today:
            yield "out-of-calibration"
        if not looks or looks[-1]["at"][:10] != today:
            yield "not-checked"
        if self._is_no_number(turn, event):
            yield "no-number"

    def _against_take(self, turn: Turn, event: Event) -> Iterator[str]:
        if turn.kind != "measure" or not self.entries(turn) or self.is_right(turn):
            yield "not-outside"

    def _against_count(self, turn: Turn, event: Event) -> Iterator[str]:
        if turn.kind != "labels":
            yield "wrong-kind"
            return
        if not self.is_label_right(turn):
            yield "label-not-read"
        if self.entries(turn):
            yield "counted-already"
        if self._is_no_count(turn, event):
            yield "no-number"

    def _is_no_count(self, turn: Turn, event: Event) -> bool:
        names = ["issued"] if self.step(turn)["counted"] == "out" else ["used", "spoiled", "left"]
        is_odd = any(type(event.get(name)) is not int or event[name] < 0 for name in names)
        return is_odd or any(name in event for name in {"issued", "used", "spoiled", "left"} - {*names})

    def _against_second(self, turn: Turn, event: Event) -> Iterator[str]:
        yield from self._against_alone(turn, event)
        if event["who"] in self.hands(turn):
            yield "same-person"

    def _against_alone(self, turn: Turn, event: Event) -> Iterator[str]:
        if not self.wants_two(turn) or not self.is_right(turn):
            yield "nothing-to-check"

    def _against_release(self, turn: Turn, event: Event) -> Iterator[str]:
        if turn.kind != "hold":
            yield "wrong-kind"
            return
        if self.events(turn, "release"):
            yield "marked-already"
        if event["role"] != self.step(turn)["released_by"]:
            yield "wrong-role"

    def _against_allow(self, turn: Turn, event: Event) -> Iterator[str]:
        is_entered = turn.kind in ("add", "labels") and bool(self.entries(turn))
        if not is_entered or self.is_right(turn) or (turn.kind == "add" and not self.is_too_much(turn)):
            yield "nothing-to-allow"
        if event["role"] != self.part(turn).edition["written"]["approved"]:
            yield "wrong-role"

    def _against_skip(self, turn: Turn, event: Event) -> Iterator[str]:
        if turn.kind not in CAN_BE_LEFT_OUT:
            yield "cannot-be-skipped"
        if self.entries(turn):
            yield "marked-already"

    def _against_deviate(self, turn: Turn, event: Event) -> Iterator[str]:
        if turn.kind not in CAN_BE_CHANGED or (turn.kind == "labels" and self.entries(turn)):
            yield "cannot-be-changed"

    def _against_decide(self, turn: Turn, event: Event) -> Iterator[str]:
        if event["then"] not in ("again", "end"):
            yield "answer-unknown"

    def _against_correct(self, event: Event) -> Iterator[str]:
        if not 0 <= event["corrects"] < len(self.log):
            yield "nothing-to-correct"
            return
        wrong = self.log[event["corrects"]]
        if any(each["corrects"] == wrong["seq"] for each in self.log if each["kind"] in ("correct", "unmark")):
            yield "corrected-already"
        first = self.first_word(wrong)
        turn = next((each for each in self.way if first in self.entries(each)), None)
        if turn is None:
            if first["kind"] != "look" or not event.get("lot"):
                yield "nothing-to-correct"
        elif turn.kind not in ENTERED:
            if not event.get("text"):
                yield "nothing-to-correct"
        else:
            is_none = self._is_no_count if turn.kind == "labels" else self._is_no_number
            if is_none(turn, event):
                yield "no-number"
            yield from self._against_going_on(turn, event)

    def _against_going_on(self, turn: Turn, event: Event) -> Iterator[str]:
        """Where the work has stopped at a value, somebody else must confirm the other one."""
        together = self.same_labels(turn) if turn.kind == "labels" else [turn]
        stopped = [each for each in together if each.is_due and self.has_stopped(each)]
        if not stopped:
            return
        other = event.get("second", "")
        if other not in self.present:
            yield "second-person-missing"
        if other == event["who"] or any(other in self.hands(each) for each in (turn, *stopped)):
            yield "same-person"

    def _against_unmark(self, event: Event) -> Iterator[str]:
        turn = self.marked_by(event["corrects"])
        if turn is None or turn.kind not in MARKED or (turn.way is not None and not self._can_be_taken_back(turn)):
            yield "nothing-to-correct"
            return
        if any(each.kind == "hold" and self.events(each, "release") for each in self.way[self.way.index(turn) :]):
            yield "past-a-hold"

    def _can_be_taken_back(self, turn: Turn) -> bool:
        return turn.way == 0 and turn.kind in (*NO_ENTRY, "wait")

    def _against_resume(self, event: Event) -> Iterator[str]:
        if not self.is_paused:
            yield "not-paused"

    def _against_receive(self, event: Event) -> Iterator[str]:
        if not self.handed_over_by:
            yield "not-given"
        if event["who"] == self.handed_over_by:
            yield "same-person"
        if event["who"] not in self.present:
            yield from self._against_join(event)
        elif event["role"] != self.present[event["who"]]:
            yield "wrong-role"

    def _against_join(self, event: Event) -> Iterator[str]:
        if not initials(event["who"]):
            yield "people-missing"
        if initials(event["who"]) in map(initials, self.present):
            yield "person-twice"

    def _against_leave(self, event: Event) -> Iterator[str]:
        if len(self.present) < 2:
            yield "people-missing"

    def _against_checked(self, event: Event) -> Iterator[str]:
        if event["due"] and event["due"] < event["at"][:10]:
            yield "out-of-calibration"

    def _against_finish(self, event: Event) -> Iterator[str]:
        if not self.is_through:
            yield "not-through"


def _against_input(text: str, asked: Any) -> Iterator[str]:
    chosen = quantity({"value": text.partition(" ")[0], "unit": text.partition(" ")[2]})
    low, high = parse_quantity(asked["from"]), parse_quantity(asked["to"])
    if chosen is None:
        yield "input-missing"
    elif chosen.unit.kind != low.unit.kind or not low.value <= chosen.value <= high.value:
        yield "input-outside"

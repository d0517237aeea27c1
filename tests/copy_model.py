"""A reference model of a working copy, as plain as it can be: a list of what was done, and a place in the program.

It is written from the words that say what a working copy is, and shares no code with `tankside.records`. Nothing is
kept that can be told from the list, so that everything is told anew whenever it is asked.
"""

from typing import Any

from copy_model_reasons import ON_A_STEP, Reasons
from copy_model_telling import ENTERED, Event, Turn


class CopyModel(Reasons):
    """A working copy that is carried out. Ask `reasons` first: `do` takes an event against which nothing is."""

    def do(self, event: Event) -> None:
        """Take an event against which nothing is."""
        self.log.append(event)
        if event["kind"] in ON_A_STEP:
            turn = self.way[event["visit"]]
            turn.log.append(event["seq"])
            end = self._end_of(turn, event)
            if end:
                self._finish(turn, event, end)
        else:
            getattr(self, f"_do_{event['kind']}", lambda event: None)(event)
        self._lead_on()

    def _end_of(self, turn: Turn, event: Event) -> str:
        """Return as what an event finishes a step; empty when it does not."""
        kind = event["kind"]
        if kind in ("alone", "take", "allow", "deviate"):
            return "deviated"
        if kind == "skip":
            return "not applicable"
        is_denied = turn.kind == "check" and event.get("answer") == "no"
        is_whole = self.is_right(turn) and (is_denied or not self.wants_two(turn))
        if kind in ("second", "decide") or (is_whole and kind in ("mark", "pour", "read", "count", "release")):
            return "deviated" if any(map(self.is_corrected, self.entries(turn))) else "complete"
        return ""

    def _finish(self, turn: Turn, event: Event, end: str) -> None:
        turn.end, turn.by, turn.way = end, event["seq"], 0
        if turn.node is None:
            return
        answers = [each.get("answer", "") for each in self.exits(turn)]
        said = (
            "outside"
            if event["kind"] == "take"
            else ([""] + [each.get("answer", "") for each in self.entries(turn)])[-1]
        )
        turn.way = answers.index(said) if said in answers else 0
        if turn.way > 0:
            # The way leads elsewhere: what lies ahead is not due, and what was begun there is left as it is.
            ahead = self.way.index(turn) + 1
            self.way[ahead:] = [each for each in self.way[ahead:] if each.state != "not started"]
            for each in self.way[ahead:]:
                each.is_left = True
            self.last = turn

    def _lead_on(self) -> None:
        while not self.is_through and not self.ended:
            if not self.way:
                self._enter_part(0)
            elif not any(turn.is_due for turn in self.way):
                self._go_behind()
            elif not self._go_ahead():
                return

    def _enter_part(self, number: int) -> None:
        if number == len(self.book.parts):
            self.is_through = True
        else:
            self._go(number, {"to": self.book.parts[number].program["start"]})

    def _go_behind(self) -> None:
        turn = self.last
        assert turn is not None and turn.way is not None
        if turn.node is not None:
            self._go(turn.part, self.exits(turn)[turn.way])
        elif self.log[turn.log[-1]]["then"] == "end":
            self.is_through = self.is_cut_short = True
        else:
            assert turn.back is not None
            self._put(Turn(turn.back.part, turn.back.node, turn.back.kind, turn.back.name))

    def _go(self, part: int, way: Any) -> None:
        if "away" in way:
            self._put(Turn(part, None, "away", way["away"], back=self.last))
        elif way["to"] == "decides":
            self._put(Turn(part, None, "decide", "", back=self._sent_from(part)))
        elif way["to"] == "ends":
            self._enter_part(part + 1)
        else:
            node, book = int(way["to"]), self.book.parts[part]
            self._put(Turn(part, node, book.kind(node), book.node(node)["step"]))

    def _put(self, turn: Turn) -> None:
        self.way.append(turn)
        self.last = turn

    def _sent_from(self, part: int) -> Turn | None:
        """Return the last step on the way that stands where going on leads; that is where one was sent from."""
        steps = [each for each in self.way if each.part == part and each.node is not None and not each.is_left]
        ordinary = [each for each in steps if self.where(each)[1] not in self.book.parts[part].sent_only]
        return ordinary[-1] if ordinary else self.last

    def _go_ahead(self) -> bool:
        """Show the next step, too, where it may be done before this one; return whether there is one."""
        turn = self.way[-1]
        if not (self.book.is_by_heart and turn.is_due and self._is_known(turn)):
            return False
        way = self.exits(turn)[0]
        if "away" in way or way["to"] in ("ends", "decides"):
            return False
        name = self.part(turn).node(int(way["to"]))["step"]
        if self.part(turn).places[name][1] != self.where(turn)[1]:
            return False
        self._go(turn.part, way)
        return True

    def _do_correct(self, event: Event) -> None:
        first = self.first_word(event)
        turn = next((each for each in self.way if first in self.entries(each)), None)
        if turn is None:
            return
        turn.log.append(event["seq"])
        for each in self.same_labels(turn) if turn.kind == "labels" else [turn]:
            self._look_again(each, event)

    def _look_again(self, turn: Turn, event: Event) -> None:
        """Go on, stop, or mark a step whose value is another one than was thought."""
        is_wrong = turn.kind in ENTERED and not self.is_right(turn)
        is_newest = all(each.state == "not started" for each in self.way[self.way.index(turn) + 1 :])
        if turn.way is None:
            if turn.is_due and turn.kind in ENTERED and not is_wrong and not self.wants_two(turn) and not self.ended:
                self._finish(turn, event, "deviated")
        elif is_wrong and turn.way == 0 and is_newest and not turn.is_left and not self.ended:
            turn.end, turn.way, turn.by, self.is_through = "", None, None, False
        elif is_wrong or self.wants_two(turn):
            turn.end = "deviated"

    def _do_unmark(self, event: Event) -> None:
        turn = self.marked_by(event["corrects"])
        assert turn is not None
        if turn.is_left:
            self.way.remove(turn)
        else:
            turn.log, turn.end, turn.way, turn.by, self.is_through = [], "", None, None, False

    def _do_start(self, event: Event) -> None:
        self.present = {each["who"]: each["role"] for each in event["people"]}

    def _do_pause(self, event: Event) -> None:
        self.is_paused = True

    _do_stop = _do_pause

    def _do_resume(self, event: Event) -> None:
        self.is_paused = False

    def _do_give(self, event: Event) -> None:
        self.handed_over_by = event["who"]

    def _do_receive(self, event: Event) -> None:
        self.handed_over_by, self.is_paused = "", False
        self._do_join(event)

    def _do_join(self, event: Event) -> None:
        self.present[event["who"]] = event["role"]

    def _do_leave(self, event: Event) -> None:
        del self.present[event["who"]]

    def _do_finish(self, event: Event) -> None:
        self.ended = event["kind"]

    _do_abandon = _do_finish

"""Working copies that are carried out as they are written, one event after the other, none of which is refused."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any

from tankside.records.chain import chained, content_hash
from tankside.records.copy import Copy, Visit, label_of, needs_second
from tankside.records.folding import fold
from tankside.records.refusing import refusal
from tankside.records.script import Script
from tankside.records.worth import limits, number_in, target

#: who does the work, who looks; everybody else comes in when a role is needed
DOER, SECOND = ("AB", "line-operator"), ("CD", "second-person")
MORNING = datetime(2026, 12, 1, 8, 0, tzinfo=UTC)
#: step -> the answer that is given to it; the first one to all others
Answers = Mapping[str, str]


@dataclass
class Straight:
    """A working copy at which people work; each event is a minute after the one before."""

    edition: Any
    name: str = "0000000000000001"
    begun: datetime = MORNING
    answers: Answers = field(default_factory=dict)
    inputs: Mapping[str, Mapping[str, str]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Stand before the start."""
        self.copy = Copy(Script(self.edition))
        self.now = self.begun

    @property
    def shown(self) -> dict[str, str]:
        """What little of what a page shows is looked at where no page shows it."""
        script = self.copy.script
        title = self.edition["written"]["title"]
        return {"layout": "tankside-shown-1", "hash": script.hash, "id": script.id, "title": title}

    @property
    def events(self) -> list[Any]:
        """What was entered so far."""
        return self.copy.events

    def enter(self, kind: str, by: tuple[str, str] = DOER, minutes: int = 1, **own: Any) -> Any:
        """Enter an event; it must not be refused."""
        self.now += timedelta(minutes=minutes)
        clock = (self.now - self.begun) // timedelta(milliseconds=1)
        common = {"copy": self.name, "edition": self.copy.script.hash, "session": "s1", "device": "d1", "build": "b1"}
        at = self.now.isoformat(timespec="milliseconds")
        event = {**common, "kind": kind, "at": at, "clock": clock, "who": by[0], "role": by[1], **own}
        linked = chained(event, self.copy.events[-1] if self.copy.events else None)
        code = refusal(self.copy, linked)
        assert code == "", f"{self.copy.script.id}: {kind} {own} is refused: {code}"
        fold(self.copy, linked)
        return linked

    def start(self, **own: Any) -> "Straight":
        """Begin with what is usual."""
        script = self.copy.script
        inputs: dict[str, dict[str, str]] = {name: dict(given) for name, given in self.inputs.items()}
        for procedure, name, asked in script.inputs():
            inputs.setdefault(procedure, {}).setdefault(name, asked["usual"])
        people = [{"who": who, "role": role} for who, role in (DOER, SECOND)]
        given = {"lot": "L-7", "product": "", "bottle": (*script.sizes, "")[0], "inputs": inputs, "people": people}
        self.enter("start", **{**given, "confirmed": [], "shown": content_hash(self.shown), **own})
        return self

    def until(self, is_there: Callable[[Visit], bool]) -> "Straight":
        """Do step after step, up to one."""
        while self.copy.now is not None and not is_there(self.copy.now):
            self.step()
        assert self.copy.now is not None, "it never comes there"
        return self

    def before(self, step: str) -> "Straight":
        """Do step after step, up to the one of this name."""
        return self.until(lambda visit: visit.name == step)

    def through(self) -> "Straight":
        """Do everything to the end."""
        while self.copy.now is not None:
            self.step()
        self.enter("finish")
        return self

    def step(self) -> None:
        """Do what is to be done next, as it is written."""
        visit = self.copy.now
        assert visit is not None, "there is something to do"
        at = {"visit": self.copy.trail.index(visit)}
        assert visit.node >= 0, f"sent away from {self.copy.script.id} to {visit.name}"
        step = self.copy.step_of(visit)
        if label_of(self.copy, visit):
            self.enter("look", says=label_of(self.copy, visit), lot="B-1", **at)
        if visit.kind == "wait":
            self.enter("begin", **at)
        self._do(visit, step, at)
        if visit.is_open and needs_second(self.copy, visit):
            self.enter("second", by=SECOND, **at)

    def _do(self, visit: Visit, step: Any, at: Any) -> None:
        part = self.copy.part_of(visit)
        match visit.kind:
            case "hold":
                self.enter("release", by=self._role(step["released_by"]), **at)
            case "add":
                wanted = target(part, step, self.copy.inputs)[0]
                self.enter("pour", value=number_in(wanted.value, wanted.unit), unit=wanted.unit.symbol, **at)
            case "measure":
                end = next(each for each in limits(part, step) if each is not None)
                self.enter("checked", instrument=step["instrument"], due="")
                reading = {"value": number_in(end.value, end.unit), "unit": end.unit.symbol}
                self.enter("read", instrument=step["instrument"], due="", **reading, **at)
            case "labels":
                out = {"issued": 100} if step["counted"] == "out" else {"used": 100, "spoiled": 0, "left": 0}
                self.enter("count", **out, **at)
            case _:
                self.enter("mark", minutes=240, answer=self._answer(visit), **at)

    def _answer(self, visit: Visit) -> str:
        """Return the first answer; to a choice that comes again the next one, so that no work goes round for ever."""
        if visit.name in self.answers:
            return self.answers[visit.name]
        answers = [each.answer for each in self.copy.node_of(visit).exits]
        times = sum(each.name == visit.name for each in self.copy.trail) if visit.kind == "choose" else 1
        return answers[min(times, len(answers)) - 1]

    def _role(self, role: str) -> tuple[str, str]:
        for who, has in self.copy.people.items():
            if has == role:
                return who, role
        self.enter("join", by=("EF", role))
        return "EF", role

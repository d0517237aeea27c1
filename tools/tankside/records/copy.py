"""The state of a working copy: what its events have made of it so far."""

from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction

from tankside.quantities.portable import Portable
from tankside.records.script import Node, Part, Script


class State(StrEnum):
    """The state of a step, as place-keeping on paper has it."""

    NOT_STARTED = "not started"
    STARTED = "started"
    COMPLETE = "complete"
    NOT_APPLICABLE = "not applicable"
    DEVIATED = "deviated"


@dataclass(eq=False)
class Visit:
    """One time that the way leads to a step."""

    #: place of its part, and of its node there; -1 where one was sent away or a decision is due
    part: int
    node: int
    #: the kind of its node, AWAY or DECIDE
    kind: str
    #: name of the step, or id of the procedure to which one was sent
    name: str
    state: State = State.NOT_STARTED
    #: the visit to which one may come back, where one was sent away or a decision is due
    sender: "Visit | None" = None
    #: where it leads: the place of an exit, None while it is open
    exit: int | None = None
    #: who did it, the last one when there were several
    doer: str = ""
    #: who had a hand in it, with corrections: none of them can be its second person
    hands: list[str] = field(default_factory=list)
    #: what was answered, taken or decided
    answer: str = ""
    #: the label that was read was the right one
    is_labelled: bool = False
    #: events that put something in, that read a value, or that counted: their numbers
    values: list[int] = field(default_factory=list)
    #: in base units: what was put in so far, or read
    total: Fraction = Fraction(0)
    is_inside: bool = False
    #: number of the event that began it, that the second person looked, that finished it
    begun: int | None = None
    second: int | None = None
    done: int | None = None
    #: it was begun on a way that was then not taken, and stays as it was left
    is_aside: bool = False

    @property
    def is_open(self) -> bool:
        """Whether it is still to be done."""
        return self.exit is None and not self.is_aside


@dataclass(eq=False)
class Copy:
    """A working copy; `fold` changes it in place."""

    script: Script
    events: list[Portable] = field(default_factory=list)
    trail: list[Visit] = field(default_factory=list)
    #: from which visit the way leads on
    tip: Visit | None = None
    #: who -> role
    people: dict[str, str] = field(default_factory=dict)
    #: procedure -> input -> value
    inputs: dict[str, dict[str, str]] = field(default_factory=dict)
    #: instrument -> the day on which it was last looked at and found right
    checked: dict[str, str] = field(default_factory=dict)
    #: number of a corrected event -> number of the event that corrects it
    corrected: dict[int, int] = field(default_factory=dict)
    is_paused: bool = False
    #: who gives the work to somebody else, empty when nobody does
    given_by: str = ""
    #: the way has come to its end
    is_through: bool = False
    #: somebody decided that it ends before its last step
    is_cut_short: bool = False
    #: "finish" or "abandon"; empty while it is at work
    ended: str = ""

    @property
    def is_started(self) -> bool:
        """Whether it has begun."""
        return bool(self.events)

    @property
    def open_visits(self) -> list[Visit]:
        """What is to be done, as far as the way is known."""
        return [visit for visit in self.trail if visit.is_open]

    @property
    def now(self) -> Visit | None:
        """What is to be done next, None when nothing is."""
        return next((visit for visit in self.trail if visit.is_open), None)

    def part_of(self, visit: Visit) -> Part:
        """Return the part in which a visit is."""
        return self.script.parts[visit.part]

    def node_of(self, visit: Visit) -> Node:
        """Return the node of a visit that has one."""
        return self.part_of(visit).nodes[visit.node]

    def step_of(self, visit: Visit) -> Portable:
        """Return the step of a visit that has one."""
        return self.part_of(visit).steps[visit.name]

    def section_of(self, visit: Visit) -> str:
        """Return the section in which the step of a visit stands."""
        return self.part_of(visit).sections[visit.name]

    def is_markable(self, visit: Visit) -> bool:
        """Whether it may be done now: everything before it is, or is work of the same section known by heart."""
        before = self.trail[: self.trail.index(visit)]
        waiting = [each for each in before if each.is_open]
        if not visit.is_open:
            return False
        return not waiting or (self.script.is_loose and all(self._is_beside(each, visit) for each in (*waiting, visit)))

    def _is_beside(self, visit: Visit, other: Visit) -> bool:
        """Whether a step may wait behind another one: both stand in one section, and both may be in any order."""
        if visit.part != other.part or not (self.is_loose(visit) and self.is_loose(other)):
            return False
        return self.section_of(visit) == self.section_of(other)

    def is_loose(self, visit: Visit) -> bool:
        """Whether marks behind a visit may be set before its own."""
        return visit.node >= 0 and self.node_of(visit).is_loose


def needs_second(copy: Copy, visit: Visit) -> bool:
    """Return whether a second person has to look at a step."""
    return visit.node >= 0 and visit.kind != "question" and copy.step_of(visit).get("second_person") == "yes"


def label_of(copy: Copy, visit: Visit) -> str:
    """Return what the label must say: a material, or the code for the bottles that were chosen; empty where none is."""
    step = copy.step_of(visit)
    if visit.kind == "labels":
        labels = copy.part_of(visit).edition["labels"][step["product"]]["codes"]
        return str(labels.get(copy.events[0].get("bottle", ""), "")) if step["counted"] == "out" else ""
    if visit.kind != "add":
        return ""
    source = copy.part_of(visit).edition["equipment"].get(step.get("from", ""))
    return "" if source is not None and source["kind"] == "supply" else str(step["material"])


def difference(copy: Copy, visit: Visit) -> int:
    """Return how many labels are not accounted for; none where they are only taken out."""
    product, event = copy.step_of(visit)["product"], latest(copy, visit.values[-1])
    if "issued" in event:
        return 0
    counts = (latest(copy, seq) for each in copy.trail if _is_of(copy, each, product) for seq in each.values)
    issued = sum(int(each["issued"]) for each in counts if "issued" in each)
    return issued - int(event["used"]) - int(event["spoiled"]) - int(event["left"])


def _is_of(copy: Copy, visit: Visit, product: str) -> bool:
    return visit.kind == "labels" and bool(copy.step_of(visit)["product"] == product)


def counted_with(copy: Copy, visit: Visit) -> list[Visit]:
    """Return the visits that a value of one is counted in: its own, and those with labels of the same product."""
    if visit.kind != "labels":
        return [visit]
    product = copy.step_of(visit)["product"]
    return [each for each in copy.trail if each.values and _is_of(copy, each, product)]


def valued(copy: Copy, seq: int) -> Visit | None:
    """Return the visit to which a value belongs, or what corrects it."""
    first = entry_of(copy, seq)
    return next((visit for visit in copy.trail if first in visit.values), None)


def entry_of(copy: Copy, seq: int) -> int:
    """Return the number of the event that an event corrects, the first of them; its own when it corrects none."""
    while copy.events[seq]["kind"] == "correct":
        seq = copy.events[seq]["corrects"]
    return seq


def latest(copy: Copy, seq: int) -> Portable:
    """Return an event, or the last one that corrects it."""
    while seq in copy.corrected:
        seq = copy.corrected[seq]
    return copy.events[seq]


def marked_by(copy: Copy, seq: int) -> Visit | None:
    """Return the visit that an event finished, or that it marked and a second person has still to look at."""
    marked = (each for each in copy.trail if each.done == seq or (each.exit is None and each.values[-1:] == [seq]))
    return next(marked, None)

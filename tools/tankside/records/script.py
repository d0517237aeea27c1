"""What a working copy follows: the parts of an edition that was read from a file, and where each step leads.

Everything is taken from the edition itself, so that a record can be judged again when the book has long changed.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from tankside.edition.programs import DECIDES, ENDS
from tankside.quantities.portable import Portable
from tankside.records.chain import content_hash

#: steps whose marks may be set in any order within a section where the work is known by heart
LOOSE = ("open", "shut", "start", "stop", "move", "lock", "unlock", "do", "check", "record", "notify")
#: what is marked and nothing else
MARKED = (*LOOSE, "wait", "choose", "repeat", "question")
#: steps that somebody may leave out, with a reason
SKIPPED = ("open", "shut", "start", "stop", "move", "do", "record", "notify", "wait")
#: steps that somebody may do in another way than it is written, with a reason
CHANGED = (*SKIPPED, "lock", "unlock", "labels")
#: kinds of an edition's items that are no steps
NO_STEPS = ("section", "danger", "warning", "caution", "notice", "note")
#: what stands in place of a node where one was sent to another procedure, or a section ended into which one was sent
AWAY, DECIDE = "away", "decide"
DO_THEN_CHECK = "do then check"


@dataclass(frozen=True)
class Exit:
    """A way on: to a node, out of this part, to a decision, or away to another procedure."""

    #: place of a node in its part, ENDS or DECIDES; empty when `away` is given
    to: str
    away: str
    answer: str
    seen: tuple[Portable, ...]


@dataclass(frozen=True)
class Node:
    """A step on its way, or the question at the end of a pass."""

    #: name of the step
    step: str
    #: its kind, "question" at the end of a pass
    kind: str
    exits: tuple[Exit, ...]

    @property
    def is_loose(self) -> bool:
        """Whether marks behind it may be set before its own, where the work is known by heart."""
        return self.kind in LOOSE

    def exit(self, answer: str) -> int:
        """Return the place of the exit for an answer, -1 when there is none."""
        answers = [each.answer for each in self.exits]
        return answers.index(answer) if answer in answers else -1


@dataclass(frozen=True)
class Part:
    """A procedure of a working copy, or a section of one."""

    edition: Portable
    program: Portable
    #: the only section of it that is followed, empty when the whole is
    section: str = ""

    @property
    def procedure(self) -> str:
        """Its id."""
        return str(self.edition["written"]["procedure"])

    @property
    def revision(self) -> str:
        """The revision of the procedure."""
        return str(self.edition["written"]["revision"])

    @property
    def approver(self) -> str:
        """The role that approved the procedure, and may allow what it does not foresee."""
        return str(self.edition["written"]["approved"])

    @cached_property
    def steps(self) -> Mapping[str, Portable]:
        """Every step by its name."""
        return {item["name"]: item for item in every(self.edition["written"]["steps"]) if item["kind"] not in NO_STEPS}

    @cached_property
    def sections(self) -> Mapping[str, str]:
        """The section in which each step stands, those inside others included; empty before the first heading."""
        found, section = {}, ""
        for item in self.edition["written"]["steps"]:
            if item["kind"] == "section":
                section = item["section"]
            for inner in every([item]):
                if inner["kind"] not in NO_STEPS:
                    found[inner["name"]] = section
        return found

    @cached_property
    def nodes(self) -> tuple[Node, ...]:
        """The nodes of its program."""
        return tuple(self._node(each) for each in self.program["nodes"])

    @cached_property
    def apart(self) -> frozenset[str]:
        """The sections that are entered only when sent there; what is followed itself is none."""
        headings = (item for item in self.edition["written"]["steps"] if item["kind"] == "section")
        return frozenset(each["section"] for each in headings if "entered" in each) - {self.section}

    def _node(self, written: Portable) -> Node:
        kind = "question" if written.get("asks") else self.steps[written["step"]]["kind"]
        exits = tuple(
            Exit(each.get("to", ""), each.get("away", ""), each.get("answer", ""), tuple(each.get("seen", ())))
            for each in written["exits"]
        )
        return Node(written["step"], kind, exits)


@dataclass(frozen=True)
class Script:
    """All that a working copy follows."""

    edition: Portable

    @cached_property
    def hash(self) -> str:
        """The hash of the edition."""
        return content_hash(self.edition)

    @property
    def id(self) -> str:
        """The id of the procedure or checklist."""
        written = self.edition["written"]
        return str(written["procedure"] if "procedure" in written else written["checklist"])

    @property
    def is_loose(self) -> bool:
        """Whether the work is known by heart, and each section is checked when it is done."""
        return bool(self.edition["written"].get("followed") == DO_THEN_CHECK)

    @cached_property
    def parts(self) -> tuple[Part, ...]:
        """Its parts in order: the procedure alone, or each procedure or section of a checklist."""
        if "procedure" in self.edition["written"]:
            return (Part(self.edition, self.edition["program"]),)
        return tuple(Part(each["edition"], each["program"], each.get("section", "")) for each in self.edition["parts"])

    @property
    def needs_second_person(self) -> bool:
        """Whether somebody else must be in the room before it is begun."""
        return any(part.edition["written"]["second_person"] == "in the room" for part in self.parts)

    def inputs(self) -> Iterator[tuple[str, str, Portable]]:
        """Return what is chosen before the start: procedure, name and range of each, every one once."""
        for procedure, part in {part.procedure: part for part in self.parts}.items():
            for name, asked in part.edition["written"]["inputs"].items():
                yield procedure, name, asked

    @property
    def sizes(self) -> tuple[str, ...]:
        """The bottles to choose from, where labels are changed to."""
        found = (size for part in self.parts for each in part.edition["labels"].values() for size in each["codes"])
        return tuple(dict.fromkeys(found))

    @property
    def needs_lot(self) -> bool:
        """Whether something is added or labelled, so that it is about a lot."""
        return any(node.kind in ("add", "labels") for part in self.parts for node in part.nodes)


def every(items: list[Portable]) -> Iterator[Portable]:
    """Return all items of an edition, those inside others included, in reading order."""
    for item in items:
        yield item
        yield from every(item.get("steps", []))
        for branch in item.get("branches", []):
            yield from every(branch["steps"])


__all__ = ["AWAY", "DECIDE", "DECIDES", "ENDS", "Exit", "Node", "Part", "Script"]

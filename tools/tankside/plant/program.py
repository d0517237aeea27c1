"""A procedure as a graph of steps: where each may lead on to."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from tankside.loading.values import Text
from tankside.memory import remembered
from tankside.model.procedures import Procedure
from tankside.model.steps import Check, Choose, Item, Measure, Repeat, Section, Step

#: where the last step of the procedure leads
END = -1
#: where a section that is entered only when sent there leads: somebody has decided what follows
DECIDED = -2
#: a node, or the name of a section or of another procedure
Target = int | str


@dataclass(frozen=True)
class Exit:
    """One way on from a node."""

    target: Target
    #: in words, when it is not simply the next step
    label: str = ""
    #: what is looked at and is so on this way
    finds: tuple[Text, ...] = ()
    #: this way is taken when what is looked at is not so
    is_denied: bool = False
    #: what was answered: to a choice in its words, to a check yes or no, to a measurement inside or outside
    answer: str = ""


@dataclass(frozen=True)
class Node:
    """A step, or the question at the end of a pass whether it is enough."""

    item: Step
    exits: tuple[Exit, ...]
    is_question: bool = False


#: whether a way on from a step of a procedure is followed
Follows = Callable[[Procedure, Step, Exit], bool]


def every_way(procedure: Procedure, step: Step, exit_: Exit) -> bool:
    """Return True."""
    return True


@dataclass(frozen=True)
class Program:
    """The nodes of a procedure."""

    procedure: Procedure
    nodes: tuple[Node, ...]
    start: int
    #: section -> its first node
    entries: dict[str, Target]

    def part(self, section: str) -> "Program":
        """Return the program of one section alone, as a checklist uses it."""
        return program_of(self.procedure, section)

    @property
    def others(self) -> tuple[str, ...]:
        """The procedures that it may send to."""
        targets = (exit_.target for node in self.nodes for exit_ in node.exits)
        return tuple(dict.fromkeys(each for each in targets if isinstance(each, str) and each not in self.entries))

    def along(self, follows: Follows) -> "Program":
        """Return the program without the ways that are not followed."""
        if follows is every_way:
            return self
        nodes = tuple(
            replace(node, exits=tuple(each for each in node.exits if follows(self.procedure, node.item, each)))
            for node in self.nodes
        )
        return replace(self, nodes=nodes)


@remembered
def program_of(procedure: Procedure, only: str | None = None) -> Program:
    """Return the graph of a procedure; with `only` it begins with that section and ends with it."""
    builder = _Builder([], {})
    after: Target = END
    start: Target = END
    for heading, items in reversed(_sections(procedure.steps)):
        is_apart = heading is not None and heading.entered is not None
        is_last = only is not None and heading is not None and heading.section == only
        entry = builder.steps(items, DECIDED if is_apart else END if is_last else after)
        if heading is not None:
            builder.entries[str(heading.section)] = entry
        if not is_apart:
            after = entry
        start = entry if is_last else start
    begin = after if only is None else start
    return Program(procedure, tuple(builder.nodes), begin if isinstance(begin, int) else END, builder.entries)


@dataclass
class _Builder:
    nodes: list[Node]
    entries: dict[str, Target]

    def steps(self, items: tuple[Item, ...], after: Target) -> Target:
        """Add the steps, the last one first; return where they begin."""
        for item in reversed(items):
            if isinstance(item, Step):
                after = self._step(item, after)
        return after

    def _add(self, item: Step, *exits: Exit, is_question: bool = False) -> int:
        self.nodes.append(Node(item, exits, is_question))
        return len(self.nodes) - 1

    def _step(self, step: Step, after: Target) -> int:
        match step:
            case Choose():
                return self._add(step, *self._answers(step, after))
            case Repeat():
                return self._passes(step, after)
            case Check(if_not=str() as place):
                denied = Exit(str(place), f"'{step.name}' is not so", step.finds, is_denied=True, answer="no")
                return self._add(step, Exit(after, finds=step.finds, answer="yes"), denied)
            case Measure():
                label = f"the reading of '{step.name}' is out of limits"
                denied = Exit(str(step.if_outside), label, step.finds, is_denied=True, answer="outside")
                return self._add(step, Exit(after, finds=step.finds, answer="inside"), denied)
        return self._add(step, Exit(after, finds=step.finds))

    def _answers(self, step: Choose, after: Target) -> Iterator[Exit]:
        for branch in step.branches:
            to = after if branch.go_to is None else str(branch.go_to)
            label = f"'{branch.if_}' at '{step.name}'"
            yield Exit(self.steps(branch.steps, to), label, branch.finds, answer=str(branch.if_))

    def _passes(self, step: Repeat, after: Target) -> int:
        most = int(step.at_most)
        label = f"it is not enough after pass {most} of '{step.name}'"
        exits = [Exit(after)] if step.if_not is None else [Exit(after), Exit(str(step.if_not), label)]
        for count in range(most, 0, -1):
            question = self._add(step, *exits, is_question=True)
            entry = self.steps(step.steps, question)
            exits = [Exit(after), Exit(entry, f"pass {count} of '{step.name}'")]
        return self._add(step, Exit(entry))


def _sections(items: tuple[Item, ...]) -> list[tuple[Section | None, tuple[Item, ...]]]:
    found: list[tuple[Section | None, list[Item]]] = [(None, [])]
    for item in items:
        if isinstance(item, Section):
            found.append((item, []))
        else:
            found[-1][1].append(item)
    return [(heading, tuple(inside)) for heading, inside in found]

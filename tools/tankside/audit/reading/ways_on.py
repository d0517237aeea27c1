"""Which steps a procedure can come to from which, along every way that its program has."""

from collections.abc import Callable, Iterator

from tankside.model.steps import Measure, Step
from tankside.plant.program import Node, Program

#: whether a reading that is in its limits keeps from going on unproved
Proves = Callable[[Measure], bool]


def nodes_of(program: Program, step: Step) -> tuple[int, ...]:
    """Return where a step stands in the program; more than once inside passes."""
    return tuple(number for number, node in enumerate(program.nodes) if node.item is step and not node.is_question)


def come_to(program: Program, step: Step, proves: Proves | None = None) -> Iterator[Step]:
    """Return the steps that may come after a step, each once.

    With `proves`, only those that may come without one of these readings having been found in its limits.
    """
    todo = list(nodes_of(program, step))
    seen = set(todo)
    for number in todo:
        node = program.nodes[number]
        for target in _onward(program, node, proves if number not in nodes_of(program, step) else None):
            if target not in seen:
                seen.add(target)
                todo.append(target)
                if not program.nodes[target].is_question:
                    yield program.nodes[target].item


def _onward(program: Program, node: Node, proves: Proves | None) -> Iterator[int]:
    is_proof = proves is not None and isinstance(node.item, Measure) and proves(node.item)
    for exit_ in node.exits:
        target = exit_.target
        while isinstance(target, str) and target in program.entries:
            target = program.entries[target]
        if isinstance(target, int) and target >= 0 and (exit_.is_denied or not is_proof):
            yield target

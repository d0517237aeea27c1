"""The way through a procedure as plain JSON: which step leads on to which, and what is seen on the way."""

from tankside.memory import remembered
from tankside.plant.claiming import claim_of
from tankside.plant.portable import portable_effect
from tankside.plant.program import DECIDED, END, Exit, Node, Program, Target, program_of
from tankside.plant.stepping import Stepping
from tankside.quantities.portable import Portable

#: where an exit leads that ends the procedure, or a section into which one was sent: somebody decides what follows
ENDS, DECIDES = "ends", "decides"
#: the answers of the question at the end of a pass: it is enough, once more, or not enough after the last pass
ENOUGH, AGAIN, NOT_ENOUGH = "enough", "again", "not enough"


@remembered
def program_shown(stepping: Stepping, section: str | None) -> Portable:
    """Return the program of a procedure, or of one section of it, as an edition carries it.

    ``{"start": number, "nodes": [{"step": name, "asks": true, "exits": [exit, ...]}, ...]}``; an exit is
    ``{"to": number | "ends" | "decides", "away": procedure, "answer": text, "seen": [effect, ...]}`` with `away` in
    place of `to` where it sends to another procedure. A number is the text of a node's place in the list, from "0".
    What there is none of is left out.
    """
    program = program_of(stepping.procedure, section)
    return {
        "start": _place(program, program.start)["to"],
        "nodes": [_node(stepping, program, node) for node in program.nodes],
    }


def _node(stepping: Stepping, program: Program, node: Node) -> Portable:
    asks = {"asks": True} if node.is_question else {}
    exits = [_exit(stepping, program, each, _answer(node, each)) for each in node.exits]
    return {"step": str(node.item.name), **asks, "exits": exits}


def _answer(node: Node, exit_: Exit) -> str:
    if not node.is_question:
        return exit_.answer
    if exit_ is node.exits[0]:
        return ENOUGH
    return AGAIN if isinstance(exit_.target, int) else NOT_ENOUGH


def _exit(stepping: Stepping, program: Program, exit_: Exit, answer: str) -> Portable:
    found = () if exit_.is_denied else exit_.finds
    seen = [portable_effect(effect) for text in found for effect in stepping.claiming.seen(claim_of(text))]
    said = {"answer": answer} if answer else {}
    return {**_place(program, exit_.target), **said, **({"seen": seen} if seen else {})}


def _place(program: Program, target: Target) -> Portable:
    while isinstance(target, str) and target in program.entries:
        target = program.entries[target]
    if isinstance(target, str):
        return {"away": target}
    return {"to": {END: ENDS, DECIDED: DECIDES}.get(target, str(target))}

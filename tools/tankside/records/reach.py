"""What a working copy may come to do: the ways through the programs of its parts, one part after the other."""

from collections.abc import Callable, Iterator

from tankside.plant.effects import Effect
from tankside.records.board import touched
from tankside.records.part_effects import effects_in, effects_of, rules_in
from tankside.records.script import DECIDES, ENDS, Node, Part, Script

#: whether an effect is of a certain sort
Asks = Callable[[Effect], bool]


def comes_to(script: Script, uses: Asks, ends: Asks) -> bool:
    """Return whether some way of a script leads to an effect that `uses` before one that `ends`, done or seen."""
    todo, walked = [_entry(script, 0)], set[tuple[int, int]]()
    while todo:
        place = todo.pop()
        if place is None or place in walked:
            continue
        walked.add(place)
        part = script.parts[place[0]]
        node = part.nodes[place[1]]
        first = next((each for each in effects_of(part, node.step) if uses(each) or ends(each)), None)
        if first is not None and not ends(first):
            return True
        if first is None:
            todo += _onward(script, place[0], node, ends)
    return False


def _onward(script: Script, number: int, node: Node, ends: Asks) -> Iterator[tuple[int, int] | None]:
    for way in node.exits:
        if way.away or way.to == DECIDES or any(map(ends, effects_in(way.seen))):
            continue
        yield _entry(script, number + 1) if way.to == ENDS else (number, int(way.to))


def _entry(script: Script, number: int) -> tuple[int, int] | None:
    """Return where a part begins, or the next one that has a step; None behind the last."""
    for at, part in enumerate(script.parts[number:], number):
        if part.program["start"] != ENDS:
            return at, int(part.program["start"])
    return None


def all_done(part: Part) -> Iterator[Effect]:
    """Return all that a part may do."""
    for node in part.nodes:
        yield from effects_of(part, node.step)


def pieces_of(script: Script) -> set[str]:
    """Return the pieces that a script may change."""
    found = set[str]()
    for part in script.parts:
        rules = rules_in(part)
        found |= {tag for effect in all_done(part) for tag in touched(rules, effect)}
    return found

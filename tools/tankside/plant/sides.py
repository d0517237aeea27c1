"""The sides of a plant: what is joined, or can be joined by hand, among the pieces that are drawn."""

from tankside.plant.parts import Plant


def sides(plant: Plant) -> tuple[frozenset[str], ...]:
    """Return the tags of each side, of two pieces or more, in the order of the book."""
    todo = [str(tag) for tag, piece in plant.equipment.equipment.items() if piece.at]
    drawn, found = set(todo), []
    while todo:
        side = _joined(plant, todo[0], drawn)
        todo = [tag for tag in todo if tag not in side]
        if len(side) > 1:
            found.append(side)
    return tuple(found)


def _joined(plant: Plant, first: str, drawn: set[str]) -> frozenset[str]:
    side, todo = {first}, [first]
    while todo:
        tag = todo.pop()
        for other in drawn.intersection((*plant.fixed[tag], *plant.loose[tag])) - side:
            side.add(other)
            todo.append(other)
    return frozenset(side)

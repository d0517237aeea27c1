"""Ways through the plant as it stands: what is open from where to where."""

from collections import deque
from collections.abc import Iterator

from tankside.plant.parts import Part, Plant
from tankside.plant.state import State

#: what liquid can be led through
THROUGH = ("valve", "pump", "line", "hose", "nozzle")


def neighbours(plant: Plant, state: State, tag: str) -> Iterator[str]:
    """Return what a piece is joined to now, for good or by hand."""
    yield from sorted(plant.fixed[tag])
    joined = state[tag].joined_to
    if joined is not None:
        yield joined
    for other in plant.loose_ends:
        if state[other].joined_to == tag:
            yield other


def are_joined(plant: Plant, state: State, first: str, second: str) -> bool:
    """Return whether two pieces are joined now."""
    return second in plant.fixed[first] or state[first].joined_to == second or state[second].joined_to == first


def may_lead_through(part: Part) -> bool:
    """Return whether liquid can ever go through a piece."""
    return part.kind in THROUGH or part.is_meter


def leads_through(plant: Plant, state: State, tag: str) -> bool:
    """Return whether liquid can go through a piece now."""
    part = plant.parts[tag]
    return may_lead_through(part) and (part.kind != "valve" or state[tag].is_open)


def reached(plant: Plant, state: State, first: str, entered_from: str) -> tuple[frozenset[str], frozenset[str]]:
    """Return what liquid that enters `first` reaches: what it goes through, and the ends where it comes to rest.

    An end is a vessel, a drain, a supply, or a nozzle that is joined to nothing. A pump is not gone back through.
    """
    passed: set[str] = set()
    ends: set[str] = set()
    todo = deque([first])
    seen = {entered_from, first}
    while todo:
        tag = todo.popleft()
        part = plant.parts[tag]
        if not leads_through(plant, state, tag):
            if part.kind not in ("valve", "port", "isolation-point", "scale", "instrument", "mixer"):
                ends.add(tag)
            continue
        passed.add(tag)
        if part.kind == "nozzle" and not _goes_on(plant, state, tag):
            ends.add(tag)
        if part.kind == "pump" and tag != first:
            onward = [each for each in neighbours(plant, state, tag) if each != plant.suction(tag)]
        else:
            onward = list(neighbours(plant, state, tag))
        for other in onward:
            if other not in seen:
                seen.add(other)
                todo.append(other)
    return frozenset(passed), frozenset(ends)


def drawn_from(plant: Plant, state: State, pump: str) -> frozenset[str]:
    """Return the ends that a pump may draw from as everything stands."""
    suction = plant.suction(pump)
    return frozenset() if suction is None else reached(plant, state, suction, pump)[1]


def pressed_into(plant: Plant, state: State, pump: str) -> frozenset[str]:
    """Return the ends that a pump may press into as everything stands."""
    onward = (tag for tag in neighbours(plant, state, pump) if tag != plant.suction(pump))
    return frozenset(end for tag in onward for end in reached(plant, state, tag, pump)[1])


def _goes_on(plant: Plant, state: State, nozzle: str) -> bool:
    """Return whether what leaves a nozzle runs into something."""
    around = (plant.parts[other] for other in neighbours(plant, state, nozzle))
    return any(part.is_vessel or part.kind == "drain" for part in around)


def shortest_possible(plant: Plant, source: str, target: str) -> tuple[str, ...] | None:
    """Return the tags from one piece to another along what is or can be joined, open or shut; None without a way."""
    before: dict[str, str] = {source: source}
    todo = deque([source])
    while todo:
        tag = todo.popleft()
        if tag == target:
            return _back(before, tag)
        if tag == source or may_lead_through(plant.parts[tag]):
            for other in (*sorted(plant.fixed[tag]), *plant.loose[tag]):
                if other not in before:
                    before[other] = tag
                    todo.append(other)
    return None


def _back(before: dict[str, str], tag: str) -> tuple[str, ...]:
    found = [tag]
    while before[tag] != tag:
        tag = before[tag]
        found.append(tag)
    return tuple(reversed(found))

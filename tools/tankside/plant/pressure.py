"""Which lines are under pressure: rules worked out once from the graph; whoever folds effects needs no graph."""

from collections.abc import Iterator
from dataclasses import dataclass

from tankside.plant.parts import Plant
from tankside.plant.state import State

#: more ways than this from one line are not looked for; such a line counts as fed when any pump runs
MOST_WAYS = 200


@dataclass(frozen=True)
class Way:
    """A way from a line to what feeds or relieves it, and what must be so for it to be open."""

    #: the pump that must run, None for a supply that always presses or an open end
    driver: str | None
    open: tuple[str, ...]
    #: pairs that must be joined by hand: whose loose end, to what
    joined: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class PressureRule:
    """When a line is under pressure: while one of `fed` is open; afterwards until one of `relieved` is."""

    line: str
    fed: tuple[Way, ...]
    relieved: tuple[Way, ...]


def pressure_rules(plant: Plant) -> tuple[PressureRule, ...]:
    """Return the rule of each line and hose."""
    return tuple(_rule(plant, tag) for tag, part in plant.parts.items() if part.kind in ("line", "hose"))


def settled(rules: tuple[PressureRule, ...], state: State) -> State:
    """Return the state with the pressure that its lines come to."""
    for rule in rules:
        was = state[rule.line].is_under_pressure
        fed = any(_is_open(way, state) for way in rule.fed)
        kept = was and not any(_is_open(way, state) for way in rule.relieved)
        if (fed or kept) != was:
            state = state.with_piece(rule.line, is_under_pressure=not was)
    return state


def _is_open(way: Way, state: State) -> bool:
    return (
        (way.driver is None or state[way.driver].is_running)
        and all(state[valve].is_open for valve in way.open)
        and all(state[loose].joined_to == other for loose, other in way.joined)
    )


def _rule(plant: Plant, line: str) -> PressureRule:
    fed: list[Way] = []
    relieved: list[Way] = []
    for count, (kind, way) in enumerate(_ways(plant, line, (line,), (), ())):
        if count >= MOST_WAYS:
            fed += (Way(other, (), ()) for other, part in plant.parts.items() if part.kind == "pump")
            break
        (fed if kind == "fed" else relieved).append(way)
    return PressureRule(line, tuple(dict.fromkeys(fed)), tuple(dict.fromkeys(relieved)))


def _ways(
    plant: Plant,
    tag: str,
    walked: tuple[str, ...],
    valves: tuple[str, ...],
    joints: tuple[tuple[str, str], ...],
) -> Iterator[tuple[str, Way]]:
    for other, joint in _possible(plant, tag):
        if other in walked:
            continue
        joined = joints if joint is None else (*joints, joint)
        part = plant.parts[other]
        here = Way(None, tuple(sorted(valves)), tuple(sorted(joined)))
        if part.kind == "pump":
            if plant.suction(other) != tag:
                yield "fed", Way(other, here.open, here.joined)
                # What else the pump presses into is one room with this line, whether it runs or not.
                beyond = (*walked, other, *filter(None, (plant.suction(other),)))
                yield from _ways(plant, other, beyond, valves, joined)
        elif part.kind == "supply":
            yield "fed", here
        elif part.kind in ("nozzle", "drain") or part.is_vessel:
            yield "relieved", here
        elif part.kind in ("valve", "line", "hose") or part.is_meter:
            open_too = (*valves, other) if part.kind == "valve" else valves
            yield from _ways(plant, other, (*walked, other), open_too, joined)


def _possible(plant: Plant, tag: str) -> Iterator[tuple[str, tuple[str, str] | None]]:
    for other in sorted(plant.fixed[tag]):
        yield other, None
    for other in plant.parts[tag].joins:
        yield other, (tag, other)
    for loose, part in plant.parts.items():
        if tag in part.joins:
            yield loose, (loose, tag)

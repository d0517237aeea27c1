"""Effects, what a fold must know, and states as plain JSON and back: what editions carry and ``fold.js`` reads.

A volume is exact text, ``"3/2"`` or ``"5"`` [L], an interval the list of its two ends. What is as it is of every new
piece, and what there is none of, is left out.
"""

from collections.abc import Iterable
from dataclasses import fields
from fractions import Fraction

from tankside.plant.effects import Effect, Energy, Flows, Joins, Names, Sees, Sets, Wears
from tankside.plant.fold import PRESSING, Held, Rules
from tankside.plant.pressure import PressureRule, Way
from tankside.plant.state import Piece, State
from tankside.plant.volumes import Contents, Interval
from tankside.quantities.portable import Portable

_KINDS = {"sets": Sets, "joins": Joins, "energy": Energy, "wears": Wears, "flows": Flows, "names": Names, "sees": Sees}
_NEW = Piece()


def needed(rules: Rules, effects: Iterable[Effect]) -> Rules:
    """Return what a fold of these effects must know, and nothing else of the plant.

    Folded by it, a state whose pressures are settled becomes what it becomes by all the rules. Whatever rinses may have
    been put into a vessel before, so that all of these materials are needed where something flows.
    """
    led, turned, unlocked = set[str | None](), set[str](), set[str]()
    for effect in effects:
        match effect:
            case Flows():
                led |= {effect.source, *effect.through, effect.target}
            case Sets(field="is_locked"):
                unlocked.add(effect.tag)
            case Sets(field=field) if field in PRESSING:
                turned.add(effect.tag)
            case Joins():
                turned.add(effect.tag)
    return Rules(
        held={tag: held for tag, held in rules.held.items() if tag in led},
        lines=rules.lines & led,
        supplies=rules.supplies & led,
        waters=rules.waters if led else frozenset(),
        isolated_at={point: sources for point, sources in rules.isolated_at.items() if point in unlocked and sources},
        pressure=tuple(rule for rule in rules.pressure if not turned.isdisjoint(_named(rule))),
    )


def _named(rule: PressureRule) -> Iterable[str]:
    yield rule.line
    for way in (*rule.fed, *rule.relieved):
        yield from way.open
        yield from (loose for loose, _ in way.joined)
        if way.driver is not None:
            yield way.driver


def portable_effect(effect: Effect) -> Portable:
    """Return an effect as JSON."""
    found = {each.name: getattr(effect, each.name) for each in fields(effect)}
    return {name: _portable_field(value) for name, value in found.items() if value is not None}


def _portable_field(value: Portable) -> Portable:
    if isinstance(value, Interval):
        return _portable_interval(value)
    return list(value) if isinstance(value, tuple) else value


def read_effect(written: Portable) -> Effect:
    """Return the effect that `portable_effect` wrote."""
    made = _KINDS[written["kind"]]
    given = {each.name: written.get(each.name) for each in fields(made)}
    for name in ("what", "through"):
        if name in given:
            given[name] = tuple(given[name])
    for name in ("amount", "volume"):
        if given.get(name) is not None:
            given[name] = _read_interval(given[name])
    effect: Effect = made(**given)
    return effect


def portable_rules(rules: Rules) -> Portable:
    """Return the rules of a plant as JSON."""
    return {
        "held": {tag: _portable_held(held) for tag, held in rules.held.items()},
        "lines": sorted(rules.lines),
        "supplies": sorted(rules.supplies),
        "waters": sorted(rules.waters),
        "isolated_at": {point: list(map(list, sources)) for point, sources in rules.isolated_at.items()},
        "pressure": [_portable_pressure(rule) for rule in rules.pressure],
    }


def read_rules(written: Portable) -> Rules:
    """Return the rules that `portable_rules` wrote."""
    return Rules(
        held={tag: _read_held(each) for tag, each in written["held"].items()},
        lines=frozenset(written["lines"]),
        supplies=frozenset(written["supplies"]),
        waters=frozenset(written["waters"]),
        isolated_at={point: _read_pairs(sources) for point, sources in written["isolated_at"].items()},
        pressure=tuple(map(_read_pressure, written["pressure"])),
    )


def _portable_held(held: Held) -> Portable:
    capacity = {} if held.capacity is None else {"capacity": str(held.capacity)}
    return {**capacity, "heel": str(held.heel)}


def _read_held(written: Portable) -> Held:
    capacity = written.get("capacity")
    return Held(None if capacity is None else Fraction(capacity), Fraction(written["heel"]))


def _portable_pressure(rule: PressureRule) -> Portable:
    return {
        "line": rule.line,
        "fed": list(map(_portable_way, rule.fed)),
        "relieved": list(map(_portable_way, rule.relieved)),
    }


def _portable_way(way: Way) -> Portable:
    driver = {} if way.driver is None else {"driver": way.driver}
    return {**driver, "open": list(way.open), "joined": list(map(list, way.joined))}


def _read_pressure(written: Portable) -> PressureRule:
    return PressureRule(written["line"], _read_ways(written["fed"]), _read_ways(written["relieved"]))


def _read_ways(written: Portable) -> tuple[Way, ...]:
    return tuple(Way(each.get("driver"), tuple(each["open"]), _read_pairs(each["joined"])) for each in written)


def _read_pairs(written: Portable) -> tuple[tuple[str, str], ...]:
    return tuple((first, second) for first, second in written)


def portable_state(state: State) -> Portable:
    """Return a state as JSON."""
    return {
        "pieces": {tag: _portable_piece(piece) for tag, piece in state.pieces.items()},
        "worn": sorted(state.worn),
    }


def read_state(written: Portable) -> State:
    """Return the state that `portable_state` wrote."""
    return State({tag: _read_piece(each) for tag, each in written["pieces"].items()}, frozenset(written["worn"]))


def _portable_piece(piece: Piece) -> Portable:
    found = {each.name: getattr(piece, each.name) for each in fields(piece)}
    return {name: _portable_value(value) for name, value in found.items() if value != getattr(_NEW, name)}


def _portable_value(value: object) -> Portable:
    if isinstance(value, Contents):
        parts = {name: _portable_interval(part) for name, part in value.parts}
        return {"volume": _portable_interval(value.volume), "parts": parts}
    return sorted(value) if isinstance(value, frozenset) else value


def _read_piece(written: Portable) -> Piece:
    given: Portable = {name: frozenset(each) if isinstance(each, list) else each for name, each in written.items()}
    if "contents" in given:
        given["contents"] = _read_contents(given["contents"])
    return Piece(**given)


def _read_contents(written: Portable) -> Contents:
    parts = sorted((name, _read_interval(part)) for name, part in written["parts"].items())
    return Contents(_read_interval(written["volume"]), tuple(parts))


def _portable_interval(interval: Interval) -> Portable:
    return [str(interval.low), str(interval.high)]


def _read_interval(written: Portable) -> Interval:
    low, high = written
    return Interval(Fraction(low), Fraction(high))

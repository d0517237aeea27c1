"""Effects folded into a state: what the plant is after each. The page folds alike, driven by the same cases."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from tankside.plant.effects import Effect, Energy, Flows, Joins, Names, Sees, Sets, Wears
from tankside.plant.parts import Plant
from tankside.plant.pressure import PressureRule, pressure_rules, settled
from tankside.plant.state import State
from tankside.plant.volumes import EMPTY, NOTHING, ZERO, Contents, Interval, contents, divided, flushed, poured

#: fields that change what presses on the lines
PRESSING = ("is_open", "is_running", "is_under_pressure")
#: of what has just been started
_FRESH: dict[str, object] = {"dissipated": frozenset(), "verified": frozenset()}
#: a label no longer says what is there once something has been put in
OUTDATED = ("released", "unlabelled")


@dataclass(frozen=True)
class Held:
    """How much a piece holds."""

    #: [L]; None without end
    capacity: Fraction | None
    heel: Fraction


@dataclass(frozen=True)
class Rules:
    """What a fold must know of the plant beside the state."""

    #: pieces in which liquid stands
    held: dict[str, Held]
    #: lines and hoses in which liquid stands and is led on
    lines: frozenset[str]
    supplies: frozenset[str]
    waters: frozenset[str]
    #: isolation point -> sources of energy (machine, name) that are isolated there
    isolated_at: dict[str, tuple[tuple[str, str], ...]]
    pressure: tuple[PressureRule, ...]


def rules_of(plant: Plant, waters: frozenset[str]) -> Rules:
    """Return the rules of a plant; `waters` are the materials that rinse."""
    points = {str(source.isolate_at) for piece in plant.equipment.equipment.values() for source in piece.energy_sources}
    return Rules(
        held={
            tag: Held(each.capacity, each.heel) for tag, each in plant.parts.items() if each.is_vessel or each.is_line
        },
        lines=frozenset(tag for tag, each in plant.parts.items() if each.is_line),
        supplies=frozenset(tag for tag, each in plant.parts.items() if each.kind == "supply"),
        waters=waters,
        isolated_at={point: plant.sources_at(point) for point in sorted(points)},
        pressure=pressure_rules(plant),
    )


def folded(rules: Rules, state: State, effect: Effect) -> State:
    """Return the state after an effect."""
    match effect:
        case Sets():
            return _set(rules, state, effect)
        case Joins():
            return settled(rules.pressure, state.with_piece(effect.tag, joined_to=effect.to))
        case Energy():
            before = getattr(state[effect.tag], effect.stage)
            return state.with_piece(effect.tag, **{effect.stage: before | {effect.source}})
        case Wears():
            worn = state.worn | set(effect.what) if effect.is_on else state.worn - set(effect.what)
            return state.with_worn(worn)
        case Names():
            held = state[effect.tag].contents
            return state if held is None else state.with_piece(effect.tag, contents=held.renamed(effect.material))
        case Flows():
            return _flow(rules, state, effect)
        case Sees():
            return _seen(state, effect)


def _seen(state: State, effect: Sees) -> State:
    """Believe the eyes: what was worked out and does not agree with them is dropped."""
    held = state[effect.tag].contents
    if held is None:
        return state
    volume = held.volume.within(effect.volume) or effect.volume
    return state.with_piece(effect.tag, contents=contents(volume, dict(held.parts)))


def _set(rules: Rules, state: State, effect: Sets) -> State:
    changes: dict[str, object] = {effect.field: effect.to}
    if effect.field == "is_running":
        # What starts has energy again, and what air a stopped exhaust moved is no longer shown.
        changes |= _FRESH if effect.to else {"is_proved": False}
    if effect.field == "wash" and effect.to == "clean":
        changes["traces"] = frozenset()
    state = state.with_piece(effect.tag, **changes)
    if effect.field == "is_locked" and not effect.to:
        for machine, source in rules.isolated_at.get(effect.tag, ()):
            piece = state[machine]
            state = state.with_piece(machine, verified=piece.verified - {source})
    return settled(rules.pressure, state) if effect.field in PRESSING else state


def _flow(rules: Rules, state: State, effect: Flows) -> State:
    """Take from the source, lead through each line, put into the target."""
    if effect.source == effect.target:
        return _wetted(state, effect.through, _contents(state, effect.target).materials)
    running, state = _taken(rules, state, effect)
    touched = set(running.materials)
    for tag in effect.through:
        if tag in rules.lines:
            state, running = _led_on(rules, state, tag, running, effect)
            touched |= set(running.materials)
        else:
            state = _wetted(state, (tag,), tuple(touched))
    return _put(rules, state, effect.target, running)


def _taken(rules: Rules, state: State, effect: Flows) -> tuple[Contents, State]:
    wanted = None if effect.amount is None else with_filling(rules, state, effect.through, effect.amount)
    if effect.source is None or effect.source in rules.supplies:
        return poured(effect.material, wanted or NOTHING), state
    held, heel = _contents(state, effect.source), rules.held[effect.source].heel
    taken, left = divided(held, wanted, heel)
    changes: dict[str, object] = {"contents": left, "traces": state[effect.source].traces | set(held.materials)}
    if wanted is None and state[effect.source].wash == "dirty" and rules.waters & set(held.materials):
        changes["wash"] = "rinsed"
    return taken, state.with_piece(effect.source, **changes)


def with_filling(rules: Rules, state: State, tags: Iterable[str], amount: Interval) -> Interval:
    """Return what must run so that so much arrives behind these tags: lines that are not full are filled first.

    Where it is not known whether anything arrives, it may be that nothing has run.
    """
    wanted = amount
    for tag in tags:
        if tag in rules.lines:
            wanted = wanted.plus(_room(rules, state, tag))
    return Interval(ZERO, wanted.high) if amount.low == 0 < amount.high else wanted


def _room(rules: Rules, state: State, line: str) -> Interval:
    capacity = rules.held[line].capacity
    assert capacity is not None, "a line has an end"
    volume = _contents(state, line).volume
    return Interval(capacity - volume.high, capacity - volume.low)


def _led_on(rules: Rules, state: State, line: str, incoming: Contents, effect: Flows) -> tuple[State, Contents]:
    capacity = rules.held[line].capacity
    assert capacity is not None, "a line has an end"
    before = _contents(state, line)
    room = _room(rules, state, line)
    passed = incoming.volume.less(room)
    if effect.amount is not None:
        # What arrives is measured, so what passes each line is known from the end.
        later = effect.through[effect.through.index(line) + 1 :]
        passed = passed.within(with_filling(rules, state, later, effect.amount)) or passed
    inside, out = flushed(before, capacity, incoming, passed)
    traces = state[line].traces | set(before.materials) | set(incoming.materials)
    wash = "dirty" if not rules.waters.issuperset(incoming.materials) else state[line].wash
    return state.with_piece(line, contents=inside, traces=traces, wash=wash), out


def _put(rules: Rules, state: State, target: str, incoming: Contents) -> State:
    piece = state[target]
    if target not in rules.held:
        return _wetted(state, (target,), incoming.materials)
    held = piece.contents or EMPTY
    is_changed = incoming.volume.high > 0
    wash = "dirty" if is_changed and not rules.waters.issuperset(incoming.materials) else piece.wash
    label = "unlabelled" if is_changed and piece.label in OUTDATED else piece.label
    if rules.held[target].capacity is None:
        return state.with_piece(target, traces=piece.traces | set(incoming.materials), wash=wash)
    return state.with_piece(
        target,
        contents=held.plus(incoming),
        traces=piece.traces | set(incoming.materials),
        wash=wash,
        label=label,
    )


def _wetted(state: State, tags: tuple[str, ...], materials: tuple[str, ...]) -> State:
    for tag in tags:
        state = state.with_piece(tag, traces=state[tag].traces | set(materials))
    return state


def _contents(state: State, tag: str) -> Contents:
    return state[tag].contents or EMPTY

"""One step taken in one state: what the plant is like afterwards, who was exposed to what, and every fault."""

from collections.abc import Iterator
from dataclasses import dataclass

from tankside.model.steps import Step
from tankside.plant.effects import Effect, Flows, Joins, Names, Sets, Wears
from tankside.plant.fold import folded
from tankside.plant.judging.driving import driving_faults
from tankside.plant.judging.exposure import Exposure, exposure, exposure_faults
from tankside.plant.judging.faults import Fault, listed
from tankside.plant.judging.flows import flow_faults, path_of
from tankside.plant.judging.isolating import isolating_faults
from tankside.plant.judging.meeting import meeting_faults
from tankside.plant.setting import Setting
from tankside.plant.state import State
from tankside.plant.volumes import EMPTY, Interval, contents


@dataclass(frozen=True)
class Taken:
    """What came of a step."""

    after: State
    exposed: Exposure
    #: what has come where: tag and material
    touched: frozenset[tuple[str, str]]
    faults: tuple[Fault, ...]


def take(setting: Setting, state: State, step: Step, effects: tuple[Effect, ...]) -> Taken:
    """Take a step."""
    exposed = exposure(setting, state, step, effects)
    faults = list(isolating_faults(setting, state, step, effects))
    start = dressed = state
    touched: set[tuple[str, str]] = set()
    for effect in effects:
        before, state = state, folded(setting.rules, state, effect)
        if isinstance(effect, Flows):
            faults += flow_faults(setting, before, state, effect)
            faults += meeting_faults(setting, before, state, effect)
            state = _not_over(setting, state, effect.target)
            touched |= set(_touched(before, state, effect))
        elif isinstance(effect, Names):
            faults += _named(setting, before, effect)
        elif isinstance(effect, Joins):
            faults += _joined(setting, effect)
        elif isinstance(effect, Sets) and effect.to == "in process":
            faults += _begun(setting, before, effect.tag)
        elif isinstance(effect, Wears):
            dressed = state
    if not any(isinstance(effect, Flows) and effect.is_watched for effect in effects):
        # Somebody who pumps until nothing comes, or until it is enough, stands at the stop; the next step must use it.
        faults += driving_faults(setting, start, state)
    faults += exposure_faults(setting, dressed, exposed)
    return Taken(state, exposed, frozenset(touched), tuple(dict.fromkeys(faults)))


def _touched(before: State, after: State, flow: Flows) -> Iterator[tuple[str, str]]:
    """Return what a flow has brought where; what was only thought possible there before is not counted."""
    held = EMPTY if flow.source is None else before[flow.source].contents or EMPTY
    sent = {flow.material, *held.materials}
    for tag in path_of(flow):
        yield from ((tag, material) for material in sorted(sent & after[tag].traces))


def _not_over(setting: Setting, state: State, tag: str) -> State:
    """Return the state with what has run over gone, so that the rehearsal can go on."""
    held, capacity = state[tag].contents, setting.plant.parts[tag].capacity
    if held is None or capacity is None or held.volume.high <= capacity:
        return state
    volume = Interval(min(held.volume.low, capacity), capacity)
    return state.with_piece(tag, contents=contents(volume, dict(held.parts)))


def _named(setting: Setting, before: State, effect: Names) -> list[Fault]:
    held = before[effect.tag].contents or EMPTY
    if setting.naming.is_called(held, effect.material, setting.plant.parts[effect.tag].heel):
        return []
    message = f"'{effect.tag}' is called '{effect.material}' and holds {listed(held.materials)}"
    return [Fault("not-what-it-says", message, "name what is really there, or bring it about in steps before")]


def _joined(setting: Setting, effect: Joins) -> list[Fault]:
    if effect.to is None or effect.to in setting.plant.loose[effect.tag]:
        return []
    message = f"'{effect.tag}' cannot be joined to '{effect.to}'"
    can = setting.plant.loose[effect.tag]
    hint = f"it can be joined to {listed(can)}" if can else "name the piece with the loose end"
    return [Fault("path-not-joined", message, hint)]


def _begun(setting: Setting, before: State, tag: str) -> list[Fault]:
    piece, heel = before[tag], setting.plant.parts[tag].heel
    held = piece.contents or EMPTY
    found = [] if piece.wash == "clean" else [f"{piece.wash if piece.wash != 'unknown' else 'not known to be clean'}"]
    found += [] if held.volume.high <= heel else ["not empty"]
    if not found:
        return []
    message = f"a batch begins in '{tag}', which is {listed(found)}"
    return [Fault("vessel-dirty", message, "ask for the condition that it is clean and empty, or check it before")]

"""What may reach the person at a step, what must be worn for it, and whether the air is drawn off."""

from collections.abc import Iterator
from dataclasses import dataclass

from tankside.model.steps import Do, Measure, Step, TurnValve
from tankside.plant.effects import Effect, Flows, Joins
from tankside.plant.judging.faults import Fault, listed
from tankside.plant.judging.flows import is_by_hand
from tankside.plant.setting import Setting
from tankside.plant.state import State
from tankside.plant.ways import may_lead_through

#: where what arrives is open to the air
OPEN_KINDS = ("pail", "bottles", "drum")


@dataclass(frozen=True)
class Exposure:
    """What may reach the person, and where."""

    materials: frozenset[str]
    tags: frozenset[str]


def exposure(setting: Setting, state: State, step: Step, effects: tuple[Effect, ...]) -> Exposure:
    """Return what may reach the person who does a step."""
    materials = set(map(str, step.exposes))
    tags: set[str] = set()
    if isinstance(step, TurnValve) and setting.plant.parts[str(step.target)].kind == "port" and step.kind == "open":
        for vessel in setting.plant.fixed[str(step.target)]:
            tags.add(vessel)
            materials |= state[vessel].present
    if isinstance(step, Do):
        for tag in map(str, step.works_on):
            tags.add(tag)
            materials |= near(setting, state, tag)
    for effect in effects:
        if isinstance(effect, Joins):
            tags.add(effect.tag)
            materials |= near(setting, state, effect.tag)
        elif isinstance(effect, Flows):
            _flow(setting, state, effect, materials, tags)
    if isinstance(step, Measure) and step.exposes:
        tags.add(str(step.instrument))
    return Exposure(frozenset(materials), frozenset(tags))


def _flow(setting: Setting, state: State, flow: Flows, materials: set[str], tags: set[str]) -> None:
    target = setting.plant.parts[flow.target]
    tags.add(flow.target)
    if is_by_hand(setting, flow):
        materials |= {flow.material} | state[flow.target].present
        if flow.source is not None:
            materials |= state[flow.source].present
    elif target.kind in OPEN_KINDS:
        materials |= {flow.material}
        for tag in flow.through:
            if tag in setting.rules.held:
                materials |= state[tag].present
    else:
        # What is moved in closed pipes still sprays from a joint that gives way.
        materials |= {flow.material}


def near(setting: Setting, state: State, tag: str) -> frozenset[str]:
    """Return what may be in a piece and in the nearest pieces that hold liquid, open or shut."""
    found = set(state[tag].present)
    todo, seen = [tag], {tag}
    while todo:
        for other in sorted(setting.plant.fixed[todo.pop()]):
            if other in seen:
                continue
            seen.add(other)
            if other in setting.rules.held:
                found |= state[other].present
            elif may_lead_through(setting.plant.parts[other]):
                todo.append(other)
    return frozenset(found)


def exposure_faults(setting: Setting, state: State, exposed: Exposure) -> Iterator[Fault]:
    """Return what is not worn, and air that nobody has proved, at a step that exposes a person."""
    wanted: dict[str, list[str]] = {}
    for material in sorted(exposed.materials):
        for name in sorted(setting.wear_for[material] - state.worn):
            wanted.setdefault(name, []).append(material)
    if wanted:
        because = listed(material for materials in wanted.values() for material in materials)
        message = f"{listed(sorted(wanted))} not on, and {because} may reach the person"
        yield Fault(
            "not-dressed",
            message,
            "ask for it under 'wear' and for the condition that it is on, or put it on in a step before",
        )
    if exposed.materials & setting.hazardous:
        yield from _air(setting, state, exposed)


def _air(setting: Setting, state: State, exposed: Exposure) -> Iterator[Fault]:
    exhausts = {exhaust for tag in exposed.tags for exhaust in setting.plant.exhausts[tag]}
    for exhaust in sorted(exhausts):
        if not (state[exhaust].is_running and state[exhaust].is_proved):
            met = sorted(exposed.materials & setting.hazardous)
            verb = "is" if len(met) == 1 else "are"
            message = f"{listed(met)} {verb} handled, and '{exhaust}' is not proved to draw air"
            yield Fault("air-not-proved", message, "ask for the condition that proves it, or prove it in steps before")

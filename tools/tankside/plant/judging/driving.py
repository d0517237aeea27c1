"""What runs: whether liquid reaches each pump, whether it can go on from there, and what runs out by itself."""

from collections.abc import Iterator

from tankside.plant.judging.faults import Fault, listed
from tankside.plant.setting import Setting
from tankside.plant.state import State
from tankside.plant.volumes import FAR, NOTHING, Interval, exactly
from tankside.plant.ways import drawn_from, leads_through, pressed_into, reached


def driving_faults(setting: Setting, before: State, after: State) -> Iterator[Fault]:
    """Return what has gone wrong with the pumps that run: what was wrong before is not this step's fault.

    A pump that runs dry is the fault of every step that does not stop it: nobody has said so of the step that emptied
    its source.
    """
    if before is after:
        return _dry(setting, after)
    found = tuple(_faults(setting, after))
    earlier = tuple(_faults(setting, before)) if found else ()
    return (fault for fault in found if fault.code == "runs-dry" or fault not in earlier)


def _dry(setting: Setting, state: State) -> Iterator[Fault]:
    for tag in setting.plant.pumps:
        if state[tag].is_running:
            yield from _suction(setting, state, tag)


def _faults(setting: Setting, state: State) -> Iterator[Fault]:
    for tag in setting.plant.pumps:
        if state[tag].is_running:
            yield from _suction(setting, state, tag)
            yield from _discharge(setting, state, tag)
    for tag in setting.plant.falling:
        yield from _fall(setting, state, tag)


def _suction(setting: Setting, state: State, pump: str) -> Iterator[Fault]:
    is_fed = any(_to_give(setting, state, end).low > 0 for end in drawn_from(setting.plant, state, pump))
    if setting.plant.suction(pump) is not None and not is_fed:
        hint = f"open the way from a vessel with liquid before {pump} starts, and stop it before that is shut or empty"
        yield Fault("runs-dry", f"'{pump}' runs, and no liquid reaches it", hint)


def _to_give(setting: Setting, state: State, end: str) -> Interval:
    """Return how much an end has to give [L]."""
    if setting.plant.parts[end].kind == "supply":
        return exactly(FAR)
    held = state[end].contents
    return NOTHING if held is None else held.volume.less(exactly(setting.rules.held[end].heel))


def _discharge(setting: Setting, state: State, pump: str) -> Iterator[Fault]:
    ends = pressed_into(setting.plant, state, pump)
    if not ends:
        hint = f"open the way on before {pump} starts, and stop {pump} before it is shut"
        yield Fault("pump-shut", f"'{pump}' runs against a shut way", hint)
    for end in sorted(ends):
        ports = [port for port in setting.plant.ports[end] if state[port].is_open]
        if ports:
            message = f"'{pump}' runs and leads into '{end}' while {listed(ports)} is open"
            yield Fault("sprays-open", message, f"shut {ports[0]} before {pump} starts, and open it after {pump} stops")
    yield from _open_ends(setting, ends, f"'{pump}' runs")


def _fall(setting: Setting, state: State, source: str) -> Iterator[Fault]:
    """Return the open ends that a tank or a supply runs out of without a pump."""
    outlets = [tag for tag in sorted(setting.plant.fixed[source]) if leads_through(setting.plant, state, tag)]
    if outlets and _to_give(setting, state, source).high > 0:
        for first in outlets:
            ends = reached(setting.plant, state, first, source)[1]
            yield from _open_ends(setting, ends, f"'{source}' is open")


def _open_ends(setting: Setting, ends: frozenset[str], why: str) -> Iterator[Fault]:
    """Return the nozzles among the ends: one that leads into something is no end itself."""
    for end in sorted(ends):
        if setting.plant.parts[end].kind == "nozzle":
            hint = f"put something under it in a step before: 'leaves: {end} joined to ...'"
            yield Fault("open-end", f"{why}, and nothing stands under '{end}'", hint)

"""A flow: whether its way is open, driven and whole, whether there is enough, and whether there is room."""

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from tankside.plant.effects import Flows
from tankside.plant.fold import with_filling
from tankside.plant.judging.faults import Fault, listed, volume
from tankside.plant.parts import FULLEST
from tankside.plant.setting import Setting
from tankside.plant.state import UNKNOWN, State
from tankside.plant.volumes import EMPTY, FAR, ZERO, Contents
from tankside.plant.ways import are_joined, drawn_from, pressed_into, reached


def path_of(flow: Flows) -> tuple[str, ...]:
    """Return every tag of a flow, from where it is taken."""
    start = () if flow.source is None else (flow.source,)
    return (*start, *flow.through, flow.target)


def is_by_hand(setting: Setting, flow: Flows) -> bool:
    """Return whether it is poured: from outside, or with a pail or jug straight into a vessel."""
    parts = setting.plant.parts
    return flow.source is None or (parts[flow.source].is_poured and not flow.through)


def flow_faults(setting: Setting, before: State, after: State, flow: Flows) -> Iterator[Fault]:
    """Return what speaks against a flow."""
    yield from _kept(setting, before, flow)
    if is_by_hand(setting, flow):
        yield from _way_in(setting, before, flow)
    else:
        broken = tuple(_broken(setting, before, flow))
        yield from broken
        if not broken:
            yield from _elsewhere(setting, before, flow)
            yield from _sprayed(setting, before, flow)
    yield from _names(setting, before, flow)
    yield from _enough(setting, before, flow)
    yield from _not_meant(setting, flow)
    yield from _room(setting, before, after, flow)


def _kept(setting: Setting, before: State, flow: Flows) -> Iterator[Fault]:
    for tag in path_of(flow):
        if not before[tag].is_in_order:
            yield Fault("locked-piece", f"'{tag}' is out of order", "put it right first, or go another way")
        elif setting.plant.parts[tag].kind in ("valve", "pump", "tank"):
            for point in setting.plant.locks_of(tag):
                if before[point].is_locked:
                    yield Fault(
                        "locked-piece",
                        f"'{tag}' is locked at '{point}'",
                        "take the locks off first, in their procedure",
                    )


def _way_in(setting: Setting, before: State, flow: Flows) -> Iterator[Fault]:
    ports = setting.plant.ports[flow.target]
    if ports and not any(before[port].is_open for port in ports):
        verb = "is" if len(ports) == 1 else "are"
        message = f"'{flow.material}' is poured into '{flow.target}', and {listed(ports)} {verb} shut"
        yield Fault("no-way-in", message, f"open {ports[0]} before it, and shut it after")


def _broken(setting: Setting, before: State, flow: Flows) -> Iterator[Fault]:
    path = path_of(flow)
    for first, second in pairwise(path):
        if not are_joined(setting.plant, before, first, second):
            yield Fault(
                "path-not-joined",
                f"'{first}' is not joined to '{second}'",
                "name every tag that it passes, in order, or join them in a step before",
            )
    for tag in flow.through:
        kind = setting.plant.parts[tag].kind
        if kind == "valve" and not before[tag].is_open:
            yield Fault("path-shut", f"'{tag}' is shut, and the path goes through it", f"open {tag} in a step before")
        elif kind == "pump" and not before[tag].is_running:
            yield Fault(
                "not-driven", f"'{tag}' is stopped, and the path goes through it", f"start {tag} in a step before"
            )


def _elsewhere(setting: Setting, before: State, flow: Flows) -> Iterator[Fault]:
    """Return another open way that some of it would take, or that something else would come by."""
    path = path_of(flow)
    pump = next((tag for tag in flow.through if setting.plant.parts[tag].kind == "pump"), None)
    if pump is None:
        into, out_of = reached(setting.plant, before, path[1], path[0])[1], frozenset[str]()
    else:
        into, out_of = pressed_into(setting.plant, before, pump), drawn_from(setting.plant, before, pump)
    for what, ends, meant in (("it runs into", into, flow.target), (f"'{pump}' draws from", out_of, flow.source)):
        others = sorted(ends - {meant})
        if others:
            message = f"{what} {listed(map(repr, others))} too, because the way there is open"
            yield Fault("path-branches", message, "shut that way in a step before")


def _sprayed(setting: Setting, before: State, flow: Flows) -> Iterator[Fault]:
    """Return a port that stands open while the supply sprays; of what a pump leads in, `driving` speaks."""
    ports = [port for port in setting.plant.ports[flow.target] if before[port].is_open]
    kinds = {setting.plant.parts[tag].kind for tag in flow.through}
    if ports and "nozzle" in kinds and "pump" not in kinds:
        message = f"it is sprayed into '{flow.target}' while {listed(ports)} is open"
        yield Fault("sprays-open", message, f"shut {ports[0]} in a step before")


def _names(setting: Setting, before: State, flow: Flows) -> Iterator[Fault]:
    if flow.source is None:
        return
    source = setting.plant.parts[flow.source]
    if source.kind == "supply":
        if flow.material not in source.holds:
            yield _wrong(flow, listed(sorted(source.holds)))
        return
    held = before[flow.source].contents or EMPTY
    if not setting.naming.is_called(held, flow.material, source.heel):
        yield _wrong(flow, listed(name for name, part in held.parts))
    if setting.naming.kind(flow.material) == "product" and source.kind == "tank":
        label = before[flow.source].label
        if label != "released":
            known = "not known to be released" if label == UNKNOWN else label
            message = f"'{flow.material}' leaves '{flow.source}', which is {known}"
            yield Fault("not-released", message, "release the lot first, or call it waste")


def _wrong(flow: Flows, there: str) -> Fault:
    message = f"the step says '{flow.material}', in '{flow.source}' is {there}"
    return Fault("not-what-it-says", message, "name what is really there, or bring it about in steps before")


def _enough(setting: Setting, before: State, flow: Flows) -> Iterator[Fault]:
    if flow.source is None or flow.amount is None or flow.amount.high == FAR or flow.source == flow.target:
        return
    held = before[flow.source].contents
    if held is None:
        return
    there = held.volume.low - setting.rules.held[flow.source].heel
    wanted = with_filling(setting.rules, before, flow.through, flow.amount).high
    if wanted > there:
        is_pumped = any(setting.plant.parts[tag].kind == "pump" for tag in flow.through)
        what = "the pump runs dry: " if is_pumped else ""
        least = volume(max(there, ZERO))
        message = f"{what}up to {volume(wanted)} is taken, '{flow.source}' may have {least} to give"
        yield Fault(
            "runs-dry", message, f"check before that it has enough: '{flow.source} at least ... L' under 'finds'"
        )


def _not_meant(setting: Setting, flow: Flows) -> Iterator[Fault]:
    for tag in (*flow.through, flow.target):
        holds = setting.plant.parts[tag].holds
        if holds and flow.material not in holds:
            message = f"'{flow.material}' goes into '{tag}', which is meant for {listed(sorted(holds))}"
            yield Fault(
                "not-held",
                message,
                "go another way, or list it under 'holds' in equipment.yaml when it is meant for it",
            )


def _room(setting: Setting, before: State, after: State, flow: Flows) -> Iterator[Fault]:
    part = setting.plant.parts[flow.target]
    held: Contents | None = after[flow.target].contents
    if held is None or part.capacity is None or flow.source == flow.target:
        return
    most = held.volume.high
    if most > part.capacity:
        message = f"'{flow.target}' may come to {_far(most)}, it holds {volume(part.capacity)}"
        yield Fault("overflow", message, "take less, look at the level before, or use a larger vessel")
    elif part.is_receiver and most > part.capacity * FULLEST:
        message = (
            f"'{flow.target}' may come to {_far(most)}, three quarters of it are {volume(part.capacity * FULLEST)}"
        )
        yield Fault("receiver-too-full", message, "empty it before, check that it has room, or run less")


def _far(most: Fraction) -> str:
    return "any volume" if most >= FAR else volume(most)

"""Lockout: energy isolated, dissipated and verified before a hand goes in (29 CFR 1910.147(d))."""

from collections.abc import Iterator

from tankside.loading.values import Text
from tankside.model.steps import Do, Step
from tankside.plant.effects import Effect, Energy, Sets
from tankside.plant.judging.faults import Fault, listed
from tankside.plant.setting import Setting
from tankside.plant.state import State
from tankside.problems import Span

_NOWHERE = Span("")


def isolating_faults(setting: Setting, before: State, step: Step, effects: tuple[Effect, ...]) -> Iterator[Fault]:
    """Return hands that go into what may move or spray, proofs that come too early, and what turns while locked."""
    if isinstance(step, Do):
        for tag in step.works_on:
            yield from _hands_in(setting, before, tag)
    for effect in effects:
        if isinstance(effect, Energy) and effect.stage == "verified":
            yield from _too_early(setting, before, effect)
        elif isinstance(effect, Sets) and effect.field in ("is_open", "is_running") and effect.to:
            yield from _turned(setting, before, effect.tag)


def _hands_in(setting: Setting, state: State, tag: Text) -> Iterator[Fault]:
    for source in setting.facts.equipment.equipment[tag].energy_sources:
        name, piece = str(source.name), state[str(tag)]
        point = str(source.isolate_at)
        lacks = [f"shut at '{valve}'" for valve in setting.plant.valves_at(point) if state[valve].is_open]
        lacks += [] if state[point].is_locked else [f"locked at '{point}'"]
        lacks += [] if name in piece.dissipated else ["dissipated"]
        lacks += [] if name in piece.verified else ["verified"]
        if lacks:
            message = f"hands go into '{tag}', and '{tag}.{name}' is not {listed(lacks)}"
            yield Fault("not-isolated", message, "lock it, let what is stored go, and prove it, each in a step before")


def _too_early(setting: Setting, state: State, effect: Energy) -> Iterator[Fault]:
    for source in setting.facts.equipment.equipment[Text(effect.tag, _NOWHERE)].energy_sources:
        if source.name == effect.source and not state[str(source.isolate_at)].is_locked:
            message = f"'{effect.tag}.{effect.source}' is verified while '{source.isolate_at}' is not locked"
            yield Fault("verified-early", message, "lock first, then try")


def _turned(setting: Setting, state: State, tag: str) -> Iterator[Fault]:
    for point in setting.plant.locks_of(tag):
        if state[point].is_locked:
            message = f"'{tag}' is turned or started while '{point}' is locked"
            yield Fault("locked-piece", message, "take the lock off first, in its own order")
    if not state[tag].is_in_order:
        yield Fault(
            "locked-piece",
            f"'{tag}' is turned or started, and it is out of order",
            "use another, or put it right first",
        )

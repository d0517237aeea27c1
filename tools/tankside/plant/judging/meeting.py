"""Materials that meet: in what flows, in what it flows into, and with what was left on the walls."""

from collections.abc import Iterator

from tankside.plant.effects import Flows
from tankside.plant.judging.faults import Fault, in_short
from tankside.plant.reactivity import Never, Unknown
from tankside.plant.setting import Setting
from tankside.plant.state import State


def meeting_faults(setting: Setting, before: State, after: State, flow: Flows) -> Iterator[Fault]:
    """Return a fault for each two materials that a flow brings together and that may not be."""
    said: set[frozenset[str]] = set()
    for tag in dict.fromkeys((*flow.through, flow.target)):
        here = before[tag].present
        came = after[tag].present if tag in setting.rules.held else after[tag].traces
        new = (came - here) | ({flow.material} if tag == flow.target else set())
        for first in sorted(new):
            for second in sorted(came | here):
                pair = frozenset((first, second))
                if pair not in said:
                    found = tuple(_fault(setting, before, tag, first, second))
                    said.update([pair] if found else [])
                    yield from found


def _fault(setting: Setting, before: State, tag: str, first: str, second: str) -> Iterator[Fault]:
    verdict = setting.reactivity.judge(first, second)
    if isinstance(verdict, Never):
        held = before[tag].contents
        is_left_over = held is None or second not in held.materials
        met = f"what is left of '{second}'" if is_left_over else f"'{second}'"
        message = f"'{first}' meets {met} in '{tag}': {in_short(verdict.consequence)}"
        yield Fault("never-meet", message, "keep them apart, each with equipment of its own; no rinse makes it safe")
    elif isinstance(verdict, Unknown):
        message = f"'{first}' meets '{second}' in '{tag}', and the book does not say what happens then"
        hint = "ask the data sheets; list the pair of groups under 'may_meet' or 'never_meet' in materials.yaml"
        yield Fault("pair-unknown", message, hint)

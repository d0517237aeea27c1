"""What one piece may hold according to the book: materials that would meet in it, and may not."""

from collections.abc import Iterator
from itertools import combinations

from tankside.plant.judging.faults import Fault, in_short
from tankside.plant.reactivity import Never, Unknown
from tankside.plant.setting import Setting
from tankside.problems import Problem


def held_together(setting: Setting) -> Iterator[Problem]:
    """Return each material that is listed under `holds` after one that it may not meet, once for each piece.

    Pairs that need equipment of their own are left to `everywhere.shared_parts`, which looks at what comes there, too.
    """
    for tag, piece in setting.facts.equipment.equipment.items():
        said = set[str]()
        for first, second in combinations(piece.holds, 2):
            fault = _fault(setting, str(tag), str(first), str(second))
            if fault is not None and second not in said:
                said.add(str(second))
                yield Problem(second.span, fault.code, fault.message, fault.hint)


def _fault(setting: Setting, tag: str, first: str, second: str) -> Fault | None:
    match setting.reactivity.judge(first, second):
        case Never(is_separate=False) as verdict:
            message = f"'{tag}' may hold '{first}' and '{second}': {in_short(verdict.consequence)}"
            return Fault("never-meet", message, "take one of the two out of 'holds', and give it a piece of its own")
        case Unknown(why=why):
            message = f"'{tag}' may hold '{first}' and '{second}', and {why}"
            hint = "ask the data sheets; list the pair of groups under 'may_meet' or 'never_meet' in materials.yaml"
            return Fault("pair-unknown", message, hint)
        case _:
            return None

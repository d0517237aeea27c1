"""What comes where in a whole book, and what is shared by two materials that need equipment of their own."""

from collections.abc import Iterable, Iterator, Mapping
from itertools import combinations, product

from tankside.loading.values import Text
from tankside.plant.judging.faults import in_short
from tankside.plant.reactivity import Never, Verdict
from tankside.plant.running import Run
from tankside.plant.setting import Setting
from tankside.problems import Problem

#: (tag, material) -> the procedure and step that first brings it there
Arrivals = Mapping[tuple[str, str], tuple[str, str]]


def arrivals(runs: Iterable[Run]) -> Arrivals:
    """Return what comes where in any of the runs."""
    found: dict[tuple[str, str], tuple[str, str]] = {}
    for run in runs:
        found = {**run.reached, **found}
    return found


def shared_parts(setting: Setting, come: Arrivals) -> Iterator[Problem]:
    """Return each part that two materials are meant for or come into, and that no rinse makes safe for both."""
    for tag, piece in setting.facts.equipment.equipment.items():
        meant = {str(name): name for name in piece.holds}
        found = (*meant, *sorted(name for at, name in come if at == tag and name not in meant))
        for first, second in combinations(found, 2):
            verdict = setting.reactivity.judge(first, second)
            if isinstance(verdict, Never) and verdict.is_separate:
                place = meant.get(second) or meant.get(first) or tag
                yield _shared(place, tag, (_why(tag, first, meant, come), _why(tag, second, meant, come)), verdict)


def lent_ends(setting: Setting) -> Iterator[Problem]:
    """Return each loose end that fits two places whose materials no rinse makes safe for one piece of equipment."""
    equipment = setting.facts.equipment.equipment
    for tag, piece in equipment.items():
        for one, other in combinations(piece.joins, 2):
            pairs = product(equipment[one].holds, equipment[other].holds)
            found = next(((a, b, v) for a, b in pairs for v in [setting.reactivity.judge(a, b)] if _apart(v)), None)
            if found is not None:
                first, second, verdict = found
                assert isinstance(verdict, Never), "only such a pair is apart"
                whys = (f"it fits '{one}' with '{first}'", f"it fits '{other}' with '{second}'")
                yield _shared(other, tag, whys, verdict)


def _apart(verdict: Verdict) -> bool:
    return isinstance(verdict, Never) and verdict.is_separate


def _shared(place: Text, tag: str, whys: tuple[str, str], verdict: Never) -> Problem:
    message = f"'{tag}' is shared: {whys[0]}, {whys[1]}: {in_short(verdict.consequence)}"
    hint = "give each of the two equipment of its own; no rinse makes it safe"
    return Problem(place.span, "shared-part", message, hint)


def _why(tag: str, material: str, meant: Mapping[str, Text], come: Arrivals) -> str:
    if material in meant:
        return f"it is meant for '{material}'"
    procedure, step = come[tag, material]
    return f"'{procedure}' brings '{material}' into it at '{step}'"

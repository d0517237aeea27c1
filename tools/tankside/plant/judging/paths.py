"""Paths that begin or end where no liquid can stand: nothing of them can be rehearsed."""

from collections.abc import Iterable, Iterator

from tankside.model.procedures import Procedure
from tankside.model.steps import Move, every
from tankside.plant.parts import ENDLESS
from tankside.plant.setting import Setting
from tankside.problems import Problem


def unfit_ends(setting: Setting, procedures: Iterable[Procedure]) -> Iterator[Problem]:
    """Return a problem for each end of a path that is no vessel, line, supply or drain."""
    for procedure in procedures:
        for item in every(procedure.steps):
            if isinstance(item, Move):
                yield from _unfit(setting, item)


def _unfit(setting: Setting, step: Move) -> Iterator[Problem]:
    first, last = step.path[0], step.path[-1]
    if str(first) not in setting.rules.held and str(first) not in setting.rules.supplies:
        message = f"nothing stands in '{first}' ({setting.plant.parts[first].kind}) that could be taken from it"
        yield Problem(first.span, "path-end", message, "begin the path with a vessel, a line or a supply")
    if str(last) not in setting.rules.held and setting.plant.parts[last].kind not in ENDLESS:
        message = f"nothing can stand in '{last}' ({setting.plant.parts[last].kind}) that arrives there"
        yield Problem(last.span, "path-end", message, "end the path with a vessel, a line or a drain")

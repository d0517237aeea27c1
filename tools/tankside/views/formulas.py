"""The formulas that amounts are worked out with, for whoever wants to check them."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from itertools import groupby

from tankside.quantities.registry import NAMED
from tankside.texts import Words


@dataclass(frozen=True)
class FormulaView:
    """What is said of a helper."""

    name: str
    gist: str
    formula: str
    #: heading and text, as its documentation has them
    sections: tuple[tuple[str, str], ...]
    #: what it was checked against
    vectors: str
    libraries: str


@cache
def _evidence() -> Mapping[str, Mapping[str, list[str]]]:
    text = files("tankside").joinpath("assets", "evidence.json").read_text(encoding="utf-8")
    found: Mapping[str, Mapping[str, list[str]]] = json.loads(text)
    return found


def formulas_by_task(say: Words) -> tuple[tuple[str, tuple[FormulaView, ...]], ...]:
    """Return every helper under the task that it is for."""
    in_order = sorted(NAMED.values(), key=lambda each: (each.task, each.name))
    tasks = groupby(in_order, lambda each: each.task)
    return tuple((task, tuple(_view(each.name, say) for each in helpers)) for task, helpers in tasks)


def _view(name: str, say: Words) -> FormulaView:
    text, checked = NAMED[name].documentation, _evidence()[name]
    shown = (("arguments", "Args"), ("results", "Returns"), ("formula-limits", "Limits"), ("source", "Source"))
    return FormulaView(
        name=name,
        gist=_as_sentence(text.summary.removeprefix("Return ")),
        formula=" ".join(text.formula.split()),
        sections=tuple((say(key), text.sections[heading]) for key, heading in shown),
        vectors=", ".join(checked["vectors"]) or say("checked-none"),
        libraries=", ".join(checked["libraries"]) or say("checked-none"),
    )


def _as_sentence(words: str) -> str:
    return words[:1].upper() + words[1:]

"""Mistakes made at random in a procedure: something left out, too much of it, opened or stopped at the wrong time."""

from collections.abc import Iterator
from copy import deepcopy
from fractions import Fraction
from random import Random

from naive_plant import litres
from random_plants import QUARTER, Case, Item, said


def with_mistakes(chance: Random, case: Case, *, is_sure: bool = False) -> Case:
    """Return the case with one or two mistakes made in its procedure.

    Unless all must be sure, it may also be that somebody has forgotten what must be so before it.
    """
    case = deepcopy(case)
    mistakes = [_left_out, _exchanged, _too_much, _too_much, _too_much, _turned, _opened, _late, _path_broken, _no_stop]
    for _ in range(chance.choice((1, 1, 2))):
        chance.choice(mistakes if is_sure else [*mistakes, _unsure])(chance, case)
    return case


def _places(case: Case, *keys: str) -> list[tuple[list[Item], int]]:
    """Return where steps stand that have one of these keys; every step when none is given."""
    lists = list(_lists(case.procedure["steps"]))
    every = [(steps, at) for steps in lists for at, item in enumerate(steps) if "step" in item]
    return [(steps, at) for steps, at in every if not keys or set(keys) & set(steps[at])]


def _lists(steps: list[Item]) -> Iterator[list[Item]]:
    yield steps
    for item in steps:
        for inner in [item] if "repeat" in item else item.get("branches", ()):
            yield from _lists(inner.get("steps", []))


def _place(chance: Random, case: Case, *keys: str) -> tuple[list[Item], int]:
    return chance.choice(_places(case, *keys) or _places(case))


def _left_out(chance: Random, case: Case) -> None:
    """Leave a step out, often one that puts something back."""
    steps, at = _place(chance, case, *chance.choice((("shut", "stop"), ("leaves",), ())))
    steps[at] = {"record": "Nothing", "step": steps[at]["step"]}


def _exchanged(chance: Random, case: Case) -> None:
    steps, at = _place(chance, case)
    if at + 1 < len(steps) and "step" in steps[at + 1]:
        steps[at : at + 2] = [steps[at + 1], steps[at]]


def _too_much(chance: Random, case: Case) -> None:
    steps, at = _place(chance, case, "amount")
    said_before = steps[at].get("amount", "<")
    if not said_before.startswith("<"):
        more = chance.choice((QUARTER, 2 * QUARTER, Fraction(1), Fraction(1), Fraction(chance.randint(2, 120))))
        steps[at]["amount"] = said(litres(said_before) + more)


def _turned(chance: Random, case: Case) -> None:
    """Turn something anywhere that is turned somewhere."""
    turned, others = _places(case, "open", "shut", "start", "stop"), {"open": "shut", "start": "stop"}
    if turned:
        steps, at = chance.choice(turned)
        key, tag = next(iter(steps[at].items()))
        _insert(chance, *_place(chance, case), {chance.choice((key, others.get(key, key))): tag})


def _opened(chance: Random, case: Case) -> None:
    """Open something while something else is done."""
    pieces = case.facts["equipment"]["equipment"]
    shut = [tag for tag, piece in pieces.items() if piece["kind"] in ("valve", "port")]
    if shut:
        _insert(chance, *_place(chance, case, "move", "start"), {"open": chance.choice(shut)})


def _late(chance: Random, case: Case) -> None:
    """Do something else before something is stopped or shut, if possible after something has been emptied."""
    places = _places(case, "stop", "shut")
    emptied = [(steps, at) for steps, at in places if at and {"path", "leaves"} <= set(steps[at - 1])]
    _insert(chance, *chance.choice(emptied or places or _places(case)), {"record": "Late"})


def _insert(chance: Random, steps: list[Item], at: int, step: Item) -> None:
    steps.insert(at, step | {"step": f"more-{chance.getrandbits(32)}"})


def _path_broken(chance: Random, case: Case) -> None:
    steps, at = _place(chance, case, "path")
    path = steps[at].get("path", ())
    if len(path) > 3:
        del path[chance.randrange(1, len(path) - 1)]


def _no_stop(chance: Random, case: Case) -> None:
    _taken_out(chance, case.procedure.get("stop_leaves", []), "")


def _unsure(chance: Random, case: Case) -> None:
    _taken_out(chance, case.facts["equipment"]["conditions"]["ready"].get("means", []), "at least")


def _taken_out(chance: Random, claims: list[str], word: str) -> None:
    found = [claim for claim in claims if word in claim]
    # A list without any claim is no list.
    if found and len(claims) > 1:
        claims.remove(chance.choice(found))

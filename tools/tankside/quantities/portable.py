"""A calculation as JSON, for the evaluator in the page (``calculation.js``): what it checks, what it works out."""

from collections.abc import Collection, Iterator
from fractions import Fraction
from itertools import product
from typing import Any

from tankside.quantities.calculation import result_of, result_unit, trees_of
from tankside.quantities.domain import kinds_of, variant_for
from tankside.quantities.expression import Name, Number, names_in, to_json
from tankside.quantities.given import Given, Listed, facts_of
from tankside.quantities.helper import AtMost, Below, Bound, Helper, Variant
from tankside.units import Quantity

#: JSON; its shape is the one that the types of calculation.js name.
Portable = Any


def portable(helper: Helper, given: Given, open_names: Collection[str]) -> Portable:
    """Return ``helper`` as it is worked out with ``given``.

    Args:
        helper: the helper.
        given: all values; those of ``open_names`` say the kind and the unit that will be given.
        open_names: the arguments whose values may change; only what such a value can break is to be checked.
    """
    variant = variant_for(helper, kinds_of(helper, given))
    values = {name: quantity for key, worth in given.items() for name, quantity in facts_of(key, worth).items()}
    return {
        "ranges": [_range(helper, name, values[name]) for name in given if name in open_names],
        "conditions": [
            found
            for condition in helper.conditions
            if isinstance(condition, AtMost) and condition.unless not in values
            for found in _conditions(condition, variant, given, open_names)
        ],
        "results": [
            [name, to_json(tree), result_unit(result_of(helper, name), variant, values).symbol]
            for name, tree in trees_of(helper, variant, given).items()
        ],
    }


def portable_quantity(quantity: Quantity) -> Portable:
    """Return a value in base units and the unit it is shown in."""
    return [_number(quantity.value), quantity.unit.symbol]


def _number(value: Fraction) -> Portable:
    return to_json(Number(value))


def _range(helper: Helper, name: str, quantity: Quantity) -> Portable:
    argument, kind = helper.argument(name), quantity.unit.kind
    high = argument.high if kind.most is None else Bound(kind.most, inclusive=True)
    return {
        "name": name,
        "low": _bound(argument.low_of(name, kind.name)),
        "high": _bound(high),
        "isWhole": argument.is_whole,
    }


def _bound(bound: Bound | None) -> Portable:
    return None if bound is None else {"value": _number(bound.value), "isInclusive": bound.inclusive}


def _conditions(condition: AtMost, variant: Variant, given: Given, open_names: Collection[str]) -> Iterator[Portable]:
    sides = [_sides(variant, name, given) for name in (condition.name, condition.other)]
    for left, right in product(*sides):
        if {name for name, _ in (*left["values"], *right["values"])} & set(open_names):
            yield {
                "left": left,
                "right": right,
                "isStrict": isinstance(condition, Below),
                "broken": condition.broken,
                "hint": condition.hint,
            }


def _sides(variant: Variant, name: str, given: Given) -> tuple[Portable, ...]:
    """Return what an argument stands for, with the values in it and what each is called; none when it is not given."""
    worth = given.get(name)
    if isinstance(worth, Listed):
        entries = (f"{name}.{number}" for number, _ in enumerate(worth.entries, 1))
        return tuple({"tree": to_json(Name(entry)), "values": [[entry, name]]} for entry in entries)
    side = variant.operand(name)
    named = names_in(side)
    if not all(isinstance(given.get(each), Quantity) for each in named):
        return ()
    return ({"tree": to_json(side), "values": [[each, each] for each in named]},)

"""The working of a result in the author's order, so that a pocket calculator can follow it.

The formula, the values as they were given, the values converted where their units do not work together, the result.
"""

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Final

from tankside.quantities.decimal_text import decimal_text, quantity_text, short_quantity
from tankside.quantities.evaluate import evaluate, settled
from tankside.quantities.expression import Call, Constant, Expression, as_typed, names_in
from tankside.quantities.infix import infix
from tankside.units import KINDS, UNITS, Kind, Quantity, Unit

#: Significant digits of a value that does not end or is too long to write.
SIGNIFICANT: Final = 6
_LONGEST: Final = 14

Values = Mapping[str, Quantity]
_Units = Mapping[Kind, Unit]


def _system(*symbols: str) -> dict[Kind, Unit]:
    return {UNITS[symbol].kind: UNITS[symbol] for symbol in symbols}


#: Shares as plain numbers; the units of a coherent system belong together, so its numbers can be typed as they are.
_PLAIN: Final = {kind: Unit("", kind, Fraction(1), Fraction(0)) for kind in KINDS.values() if kind.most is not None}
_METRE: Final = (
    _PLAIN
    | _system("", "pH", "m", "m2", "m3", "kg", "s", "K", "kg/m3", "m3/s", "1/s")
    | _system("Pa", "S/m", "A", "V", "W", "m/s2", "mmol/L", "kg/mol", "m3/mol")
)
_CENTIMETRE: Final = _METRE | _system("cm", "cm2", "mL", "g", "g/mL")


def working(name: str, tree: Expression, values: Values, result: Quantity) -> tuple[str, ...]:
    """Return the lines of working for ``name = tree``; ``values`` holds at least the names in the tree."""
    formula = f"{name} = {infix(tree, str)}"
    tree = settled(tree, {each: values[each].value for each in names_in(tree)})
    given = {each: values[each] for each in names_in(tree)}
    lines = [formula, _filled(tree, given)]
    if not _can_be_typed(tree, given, result):
        lines += _converted_lines(tree, given, result)
    lines.append(_result_line(result))
    return tuple(dict.fromkeys(lines))


def value_text(quantity: Quantity) -> tuple[str, bool]:
    """Return a value as working shows it, in full unless that is too long, and whether it is in full."""
    text = quantity_text(quantity)
    if len(text) - len(quantity.unit.symbol) <= _LONGEST:
        # A decimal that does not end fills 30 places, so a short text is the whole value.
        return text, True
    return short_quantity(quantity, SIGNIFICANT)


def _filled(tree: Expression, values: Values) -> str:
    texts = {name: value_text(quantity) for name, quantity in values.items()}
    sign = "=" if all(exact for _, exact in texts.values()) else "≈"
    return f"{sign} {infix(tree, lambda name: texts[name][0])}"


def _result_line(result: Quantity) -> str:
    text, exact = value_text(result)
    return f"{'=' if exact else '≈'} {text}"


def _converted_lines(tree: Expression, given: Values, result: Quantity) -> Iterator[str]:
    for units in _candidates(given, result):
        converted = {name: Quantity(quantity.value, units[quantity.unit.kind]) for name, quantity in given.items()}
        outcome = Quantity(result.value, units[result.unit.kind])
        in_units = _with_constants_in(tree, units)
        if _can_be_typed(in_units, converted, outcome):
            yield _filled(in_units, converted)
            yield _result_line(outcome)
            return


def _with_constants_in(tree: Expression, units: _Units) -> Expression:
    """Return the tree with its constants in these units too, where that is no long number."""
    match tree:
        case Constant():
            quantity = Quantity(tree.quantity.value, units.get(tree.quantity.unit.kind, tree.quantity.unit))
            number = decimal_text(quantity.number)
            return Constant(number, quantity.unit.symbol) if len(number) <= _LONGEST else tree
        case Call(op, args):
            return Call(op, tuple(_with_constants_in(arg, units) for arg in args))
    return tree


def _candidates(given: Values, result: Quantity) -> Iterator[_Units]:
    """Yield sets of units to convert to, the least conversion first."""
    first = {quantity.unit.kind: quantity.unit for quantity in reversed(tuple(given.values()))}
    common = first | {result.unit.kind: result.unit}
    yield common
    yield common | {kind: _METRE[kind] for kind in common if kind in _PLAIN or kind == UNITS["%"].kind}
    yield _CENTIMETRE
    yield _METRE


def _can_be_typed(tree: Expression, values: Values, result: Quantity) -> bool:
    """Whether the bare numbers give the number of the result, as a person at a calculator would type them."""
    try:
        typed = evaluate(as_typed(tree), {name: quantity.number for name, quantity in values.items()})
    except (ValueError, ZeroDivisionError):
        return False
    # Values with pi or a logarithm are rounded at the 30th digit, and units move where that is.
    return abs(typed - result.number) <= abs(result.number) / 10**25

"""The exact value of an expression tree."""

from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from tankside.quantities import functions
from tankside.quantities.decimal_text import nearest_whole, rounded
from tankside.quantities.expression import Call, Constant, Expression, Name, Number, is_irrational
from tankside.units import DIGITS

#: where ``fewest`` gives up: an exact power of a base near 1 grows longer with each step
_LARGEST_POWER: Final = 1000


def evaluate(tree: Expression, names: Mapping[str, Fraction]) -> Fraction:
    """Return the value of ``tree`` with ``names`` in base units.

    A tree of rational operations has an exact value. One with a logarithm or pi in it has not: its value is
    rounded once, at the end, to 30 significant digits, so that no string of false digits is ever shown.
    """
    value = _exact(tree, names)
    return rounded(value, DIGITS) if is_irrational(tree) else value


def settled(tree: Expression, names: Mapping[str, Fraction]) -> Expression:
    """Return the tree with each choice and look-up put in place of the operation that makes it."""
    match tree:
        case Call("choose", (left, right, then, otherwise)):
            return settled(then if _exact(left, names) <= _exact(right, names) else otherwise, names)
        case Call("table", (value, *rows, beyond)):
            return settled(_row(_exact(value, names), rows, beyond, names), names)
        case Call(op, args):
            return Call(op, tuple(settled(arg, names) for arg in args))
    return tree


def _exact(tree: Expression, names: Mapping[str, Fraction]) -> Fraction:
    match tree:
        case Number(value):
            return value
        case Constant():
            return tree.quantity.value
        case Name(name):
            return names[name]
        case Call("choose" | "table"):
            return _exact(settled(tree, names), names)
        case Call(op, args):
            return OPERATIONS[op](*(_exact(arg, names) for arg in args))
    raise TypeError(f"{tree!r} is no expression")


def _row(value: Fraction, rows: Sequence[Expression], beyond: Expression, names: Mapping[str, Fraction]) -> Expression:
    """Return what stands in the first row whose limit the value does not pass."""
    pairs = zip(rows[::2], rows[1::2], strict=True)
    return next((found for limit, found in pairs if value <= _exact(limit, names)), beyond)


def _fewest(base: Fraction, limit: Fraction) -> Fraction:
    if not (0 <= base < 1 and limit > 0):
        raise ValueError(f"no power of {base} is sure to come down to {limit}")
    count, power = 0, Fraction(1)
    while power > limit:
        if count == _LARGEST_POWER:
            raise ValueError(f"power {_LARGEST_POWER} of {base} has not come down to {limit}")
        count, power = count + 1, power * base
    return Fraction(count)


def _round_up(value: Fraction, step: Fraction) -> Fraction:
    return -_round_down(-value, step)


def _round_down(value: Fraction, step: Fraction) -> Fraction:
    # Floor of a negative number too: BigInt's truncation has to be taken one down there.
    return (value / step).__floor__() * step


def _round_nearest(value: Fraction, step: Fraction) -> Fraction:
    return nearest_whole(value / step) * step


def _power(base: Fraction, exponent: Fraction) -> Fraction:
    return Fraction(base ** int(exponent))


#: those that work out all their arguments; ``choose`` and ``table`` leave out what is not chosen
OPERATIONS: Final[Mapping[str, Callable[..., Fraction]]] = MappingProxyType(
    {
        "add": Fraction.__add__,
        "sub": Fraction.__sub__,
        "mul": Fraction.__mul__,
        "div": Fraction.__truediv__,
        "power": _power,
        "round-up": _round_up,
        "round-down": _round_down,
        "round-nearest": _round_nearest,
        "min": lambda *values: min(values),
        "max": lambda *values: max(values),
        "fewest": _fewest,
        "ln": functions.ln,
        "root": functions.root,
        "cube-root": functions.cube_root,
        "arccos": functions.arccos,
        "segment-depth": functions.segment_depth,
        "pi": functions.pi,
    }
)

"""The exact value of an expression tree."""

from collections.abc import Callable, Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from tankside.quantities import functions
from tankside.quantities.decimal_text import nearest_whole, rounded
from tankside.quantities.expression import Call, Expression, Name, Number, is_irrational
from tankside.units import DIGITS


def evaluate(tree: Expression, names: Mapping[str, Fraction]) -> Fraction:
    """Return the value of ``tree`` with ``names`` in base units.

    A tree of rational operations has an exact value. One with a logarithm or pi in it has not: its value is
    rounded once, at the end, to 30 significant digits, so that no string of false digits is ever shown.
    """
    value = _exact(tree, names)
    return rounded(value, DIGITS) if is_irrational(tree) else value


def _exact(tree: Expression, names: Mapping[str, Fraction]) -> Fraction:
    match tree:
        case Number(value):
            return value
        case Name(name):
            return names[name]
        case Call(op, args):
            return OPERATIONS[op](*(_exact(arg, names) for arg in args))
    raise TypeError(f"{tree!r} is no expression")


def _round_up(value: Fraction, step: Fraction) -> Fraction:
    return -_round_down(-value, step)


def _round_down(value: Fraction, step: Fraction) -> Fraction:
    # Floor of a negative number too: BigInt's truncation has to be taken one down there.
    return (value / step).__floor__() * step


def _round_nearest(value: Fraction, step: Fraction) -> Fraction:
    return nearest_whole(value / step) * step


def _power(base: Fraction, exponent: Fraction) -> Fraction:
    return Fraction(base ** int(exponent))


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
        "ln": functions.ln,
        "pi": functions.pi,
    }
)

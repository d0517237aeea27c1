"""The dimension of an expression tree; a tree that adds litres to grams has none and is refused."""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final

from tankside.quantities.expression import Call, Expression, Name, Number
from tankside.units import KINDS, RATIO, Dimension

NONE: Final = KINDS[RATIO].dimension


class DimensionError(ValueError):
    """A formula whose dimensions do not fit; a mistake of the helper's author."""


def dimension_of(tree: Expression, names: Mapping[str, Dimension]) -> Dimension:
    """Return the dimension of ``tree`` with ``names`` of the given dimensions."""
    match tree:
        case Number():
            return NONE
        case Name(name):
            return names[name]
        case Call("power", (base, Number(exponent))):
            return tuple(power * int(exponent) for power in dimension_of(base, names))
        case Call(op, args):
            return _RULES[op](op, *(dimension_of(arg, names) for arg in args))
    raise DimensionError(f"{tree!r} has no dimension")


def _same(op: str, left: Dimension, right: Dimension) -> Dimension:
    if left != right:
        raise DimensionError(f"{op} of dimensions {left} and {right}")
    return left


def _product(op: str, left: Dimension, right: Dimension) -> Dimension:
    return tuple(a + b for a, b in zip(left, right, strict=True))


def _quotient(op: str, left: Dimension, right: Dimension) -> Dimension:
    return tuple(a - b for a, b in zip(left, right, strict=True))


def _plain(op: str, *args: Dimension) -> Dimension:
    return _same(op, args[0], NONE) if args else NONE


_RULES: Final[Mapping[str, Callable[..., Dimension]]] = MappingProxyType(
    {
        "add": _same,
        "sub": _same,
        "mul": _product,
        "div": _quotient,
        "round-up": _same,
        "round-down": _same,
        "round-nearest": _same,
        "ln": _plain,
        "pi": _plain,
    }
)

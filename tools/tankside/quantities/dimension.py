"""The dimension of an expression tree; a tree that adds litres to grams has none and is refused."""

from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import Final

from tankside.quantities.expression import Call, Constant, Expression, Name, Number
from tankside.units import KINDS, RATIO, Dimension

NONE: Final = KINDS[RATIO].dimension


class DimensionError(ValueError):
    """A formula whose dimensions do not fit; a mistake of the helper's author."""


def dimension_of(tree: Expression, names: Mapping[str, Dimension]) -> Dimension:
    """Return the dimension of ``tree`` with ``names`` of the given dimensions."""
    match tree:
        case Number():
            return NONE
        case Constant():
            return tree.quantity.unit.kind.dimension
        case Name(name):
            return names[name]
        case Call("power", (base, Number(exponent))):
            return tuple(power * int(exponent) for power in dimension_of(base, names))
        case Call("table", (value, *rows, beyond)):
            _alike("table", [dimension_of(each, names) for each in (value, *rows[::2])])
            return _alike("table", [dimension_of(each, names) for each in (*rows[1::2], beyond)])
        case Call(op, args):
            return _RULES[op](op, *(dimension_of(arg, names) for arg in args))
    raise DimensionError(f"{tree!r} has no dimension")


def _alike(op: str, dimensions: Sequence[Dimension]) -> Dimension:
    for each in dimensions:
        _same(op, dimensions[0], each)
    return dimensions[0]


def _all_same(op: str, *dimensions: Dimension) -> Dimension:
    return _alike(op, dimensions)


def _all_plain(op: str, *dimensions: Dimension) -> Dimension:
    return _alike(op, (NONE, *dimensions))


def _rooted(degree: int) -> Callable[[str, Dimension], Dimension]:
    def rooted(op: str, dimension: Dimension) -> Dimension:
        if any(power % degree for power in dimension):
            raise DimensionError(f"{op} of dimension {dimension}")
        return tuple(power // degree for power in dimension)

    return rooted


def _chosen(op: str, left: Dimension, right: Dimension, then: Dimension, otherwise: Dimension) -> Dimension:
    _same(op, left, right)
    return _same(op, then, otherwise)


def _same(op: str, left: Dimension, right: Dimension) -> Dimension:
    if left != right:
        raise DimensionError(f"{op} of dimensions {left} and {right}")
    return left


def _product(op: str, left: Dimension, right: Dimension) -> Dimension:
    return tuple(a + b for a, b in zip(left, right, strict=True))


def _quotient(op: str, left: Dimension, right: Dimension) -> Dimension:
    return tuple(a - b for a, b in zip(left, right, strict=True))


_RULES: Final[Mapping[str, Callable[..., Dimension]]] = MappingProxyType(
    {
        "add": _same,
        "sub": _same,
        "mul": _product,
        "div": _quotient,
        "round-up": _same,
        "round-down": _same,
        "round-nearest": _same,
        "power": _all_plain,
        "min": _all_same,
        "max": _all_same,
        "choose": _chosen,
        "fewest": _all_plain,
        "root": _rooted(2),
        "cube-root": _rooted(3),
        "arccos": _all_plain,
        "segment-depth": _all_plain,
        "ln": _all_plain,
        "pi": _all_plain,
    }
)

"""The closed expression tree a helper is made of. Operators build it, so a helper reads as its formula."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from tankside.quantities.decimal_text import decimal_text
from tankside.units import UNITS, Quantity

#: A tree as nested lists: ``"0.25"``, ``["name", "make"]``, ``["mul", ..., ...]``.
Json = str | list["Json"]


class Expression:
    """A number, a name or an operation on expressions."""

    def __add__(self, other: Operand) -> Call:
        return Call("add", (self, expression(other)))

    def __sub__(self, other: Operand) -> Call:
        return Call("sub", (self, expression(other)))

    def __mul__(self, other: Operand) -> Call:
        return Call("mul", (self, expression(other)))

    def __truediv__(self, other: Operand) -> Call:
        return Call("div", (self, expression(other)))

    def __radd__(self, other: Operand) -> Call:
        return expression(other) + self

    def __rsub__(self, other: Operand) -> Call:
        return expression(other) - self

    def __rmul__(self, other: Operand) -> Call:
        return expression(other) * self

    def __rtruediv__(self, other: Operand) -> Call:
        return expression(other) / self

    def __pow__(self, exponent: int | Name) -> Call:
        if isinstance(exponent, int) and exponent < 0:
            raise ValueError(f"power {exponent} is not a whole number from 0 up")
        return Call("power", (self, expression(exponent)))


@dataclass(frozen=True)
class Number(Expression):
    """A constant, without dimension."""

    value: Fraction


@dataclass(frozen=True)
class Constant(Expression):
    """A constant with its unit, as published."""

    text: str
    symbol: str

    @property
    def quantity(self) -> Quantity:
        unit = UNITS[self.symbol]
        return Quantity(unit.to_base(Fraction(self.text)), unit)


@dataclass(frozen=True)
class Name(Expression):
    """An argument, or a result worked out before this one; its value is in base units."""

    name: str


@dataclass(frozen=True)
class Call(Expression):
    """An operation of the closed list in ``evaluate``."""

    op: str
    args: tuple[Expression, ...]


Operand = Expression | Fraction | int

PI: Final = Call("pi", ())
#: Operations whose value is not rational.
IRRATIONAL: Final = frozenset({"pi", "ln", "root", "cube-root", "arccos", "segment-depth"})


def expression(operand: Operand) -> Expression:
    return operand if isinstance(operand, Expression) else Number(Fraction(operand))


def ln(operand: Operand) -> Call:
    return Call("ln", (expression(operand),))


def root(operand: Operand) -> Call:
    """Return the square root."""
    return Call("root", (expression(operand),))


def cube_root(operand: Operand) -> Call:
    return Call("cube-root", (expression(operand),))


def arccos(operand: Operand) -> Call:
    """Return the angle from 0 to pi with this cosine."""
    return Call("arccos", (expression(operand),))


def segment_depth(share: Operand) -> Call:
    """Return the depth of the segment that has this share of a circle's area, as a share of the diameter."""
    return Call("segment-depth", (expression(share),))


def least(*operands: Operand) -> Call:
    """Return the smallest."""
    return Call("min", tuple(map(expression, operands)))


def most(*operands: Operand) -> Call:
    """Return the largest."""
    return Call("max", tuple(map(expression, operands)))


def total(operands: Sequence[Expression]) -> Expression:
    """Return the sum of one or more, halved again and again so that a long one does not nest deep."""
    if len(operands) == 1:
        return operands[0]
    middle = (len(operands) + 1) // 2
    return total(operands[:middle]) + total(operands[middle:])


def choose(left: Operand, right: Operand, then: Operand, otherwise: Operand) -> Call:
    """Return ``then`` where ``left`` is at most ``right``, else ``otherwise``; the other one is not worked out."""
    return Call("choose", tuple(map(expression, (left, right, then, otherwise))))


def table(value: Operand, rows: Sequence[tuple[Operand, Operand]], beyond: Operand) -> Call:
    """Return what stands in the first row whose limit is at least ``value``, ``beyond`` after the last limit."""
    flat = [part for row in rows for part in row]
    return Call("table", tuple(map(expression, (value, *flat, beyond))))


def fewest(base: Operand, limit: Operand) -> Call:
    """Return the smallest whole number n from 0 up with ``base**n <= limit``; base is from 0 to below 1."""
    return Call("fewest", (expression(base), expression(limit)))


def constant(text: str) -> Constant:
    """Return a published constant, written like ``9.80665 m/s2``."""
    number, _, symbol = text.partition(" ")
    return Constant(number, symbol)


def round_up(operand: Operand, step: Operand) -> Call:
    """Round to a whole number of steps, towards plus infinity."""
    return Call("round-up", (expression(operand), expression(step)))


def round_down(operand: Operand, step: Operand) -> Call:
    """Round to a whole number of steps, towards minus infinity."""
    return Call("round-down", (expression(operand), expression(step)))


def round_nearest(operand: Operand, step: Operand) -> Call:
    """Round to the nearest whole number of steps, a half away from zero."""
    return Call("round-nearest", (expression(operand), expression(step)))


def parts(tree: Expression) -> Iterator[Expression]:
    """Yield the tree and everything in it, from left to right."""
    yield tree
    if isinstance(tree, Call):
        for arg in tree.args:
            yield from parts(arg)


def names_in(tree: Expression) -> tuple[str, ...]:
    """Return each name once, in the order the author wrote them."""
    return tuple(dict.fromkeys(part.name for part in parts(tree) if isinstance(part, Name)))


def is_irrational(tree: Expression) -> bool:
    return any(isinstance(part, Call) and part.op in IRRATIONAL for part in parts(tree))


def substitute(tree: Expression, values: Mapping[str, Expression]) -> Expression:
    """Return the tree with the names in ``values`` replaced; the others stay open."""
    match tree:
        case Name(name):
            return values.get(name, tree)
        case Call(op, args):
            return Call(op, tuple(substitute(arg, values) for arg in args))
    return tree


def as_typed(tree: Expression) -> Expression:
    """Return the tree with the bare number of each constant, as a person at a calculator types it."""
    match tree:
        case Constant(text, _):
            return Number(Fraction(text))
        case Call(op, args):
            return Call(op, tuple(map(as_typed, args)))
    return tree


def from_json(written: Json) -> Expression:
    """Return the tree that `to_json` wrote."""
    if isinstance(written, str):
        return Number(Fraction(written))
    op, *args = written
    if op == "constant":
        return Constant(*map(str, args))
    return Name(str(args[0])) if op == "name" else Call(str(op), tuple(map(from_json, args)))


def to_json(tree: Expression) -> Json:
    """Return the tree as nested lists, numbers as decimal text or ``a/b``."""
    match tree:
        case Number(value):
            text = decimal_text(value)
            return text if Fraction(text) == value else f"{value.numerator}/{value.denominator}"
        case Constant(text, symbol):
            return ["constant", text, symbol]
        case Name(name):
            return ["name", name]
        case Call(op, args):
            return [op, *(to_json(arg) for arg in args)]
    raise TypeError(f"{tree!r} is no expression")

"""A formula without its reasons: one number in place of everything that does not depend on the input."""

from fractions import Fraction

from tankside.quantities.evaluate import OPERATIONS, evaluate
from tankside.quantities.expression import Call, Expression, Name, Number, is_irrational, names_in

ROUNDINGS = ("round-up", "round-down", "round-nearest")
#: ``(k, c)`` of ``k * input + c``
_Line = tuple[Fraction, Fraction]


class NotProportionalError(Exception):
    """It is no straight line over the input, so that a number cannot stand for the formula."""


def proportional(tree: Expression) -> Expression:
    """Return ``input * k + c``, within the roundings that stand around it, with the same value for each input.

    Exact: where the tree is irrational and depends on the input, its digits are rounded at the end, and no number put
    inside gives the same ones.

    Raises:
        NotProportionalError: the tree has another form, or more than one name.
    """
    names = names_in(tree)
    if not names:
        return Number(evaluate(tree, {}))
    if len(names) > 1 or is_irrational(tree):
        raise NotProportionalError
    match tree:
        case Call(op, (inside, step)) if op in ROUNDINGS and not names_in(step):
            return Call(op, (proportional(inside), Number(evaluate(step, {}))))
    slope, start = _line(tree)
    rising = Name(names[0]) * Number(slope)
    return rising + Number(start) if start else rising


def _line(tree: Expression) -> _Line:
    if not names_in(tree):
        return Fraction(0), evaluate(tree, {})
    match tree:
        case Name():
            return Fraction(1), Fraction(0)
        case Call("choose", (left, right, then, otherwise)) if not names_in(left) and not names_in(right):
            return _line(then if evaluate(left, {}) <= evaluate(right, {}) else otherwise)
        case Call("add" | "sub" as op, (one, other)):
            (slope, start), (other_slope, other_start) = _line(one), _line(other)
            return OPERATIONS[op](slope, other_slope), OPERATIONS[op](start, other_start)
        case Call("mul", (one, other)) if not names_in(one) or not names_in(other):
            factor, rest = (one, other) if not names_in(one) else (other, one)
            return _times(_line(rest), evaluate(factor, {}))
        case Call("div", (one, other)) if not names_in(other) and evaluate(other, {}):
            return _times(_line(one), 1 / evaluate(other, {}))
    raise NotProportionalError


def _times(line: _Line, factor: Fraction) -> _Line:
    slope, start = line
    return slope * factor, start * factor

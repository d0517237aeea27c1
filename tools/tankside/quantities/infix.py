"""A tree written as a person writes it, with parentheses only where they are needed."""

from collections.abc import Callable
from fractions import Fraction
from typing import Final

from tankside.quantities.decimal_text import with_unit
from tankside.quantities.expression import PI, Call, Constant, Expression, Name, Number, to_json

_SIGNS: Final = {"add": "+", "sub": "\N{MINUS SIGN}", "mul": "\N{MULTIPLICATION SIGN}", "div": "÷"}
_ROUNDED: Final = {"round-up": "rounded up", "round-down": "rounded down", "round-nearest": "rounded"}
_LEVELS: Final = {"add": 1, "sub": 1, "mul": 2, "div": 2, "power": 3}
_ATOM: Final = 4
_RAISED: Final = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")


def infix(tree: Expression, leaf: Callable[[str], str]) -> str:
    """Return the text of ``tree``; ``leaf`` gives the text that stands for a name."""
    match tree:
        case Number():
            return str(to_json(tree))
        case Constant(text, symbol):
            return with_unit(text, symbol)
        case Name(name):
            return leaf(name)
        case Call("power", (base, Number(exponent))):
            return f"{_base(base, leaf)}{str(exponent).translate(_RAISED)}"
        case Call("power", (base, exponent)):
            return f"{_base(base, leaf)} to the power {infix(exponent, leaf)}"
        case Call("root", (arg,)):
            return f"√({infix(arg, leaf)})"
        case Call("cube-root", (arg,)):
            # The type has no sign for it.
            return f"cube root of ({infix(arg, leaf)})"
        case Call("arccos", (arg,)):
            # A calculator may be set to degrees.
            return f"arccos({infix(arg, leaf)}) rad"
        case Call("segment-depth", (share,)):
            return f"(the depth in diameters of a circle's segment with {infix(share, leaf)} of its area)"
        case Call("choose", (left, right, then, otherwise)):
            condition = f"{infix(left, leaf)} ≤ {infix(right, leaf)}"
            return f"({infix(then, leaf)} where {condition}, else {infix(otherwise, leaf)})"
        case Call("table"):
            return f"(the table's row for {' and '.join(_looked_up(tree, leaf))})"
        case Call("fewest", (base, limit)):
            return f"(the fewest n with {_base(base, leaf)} to the power n ≤ {infix(limit, leaf)})"
        case Call(op, (left, right)) if op in _SIGNS:
            return f"{_operand(left, leaf, _LEVELS[op])} {_SIGNS[op]} {_right(op, right, leaf)}"
        case Call(op, (value, step)) if op in _ROUNDED:
            to = "" if step == Number(Fraction(1)) else f" to {infix(step, leaf)}"
            return f"({infix(value, leaf)}, {_ROUNDED[op]}{to})"
        case Call(op, args):
            return f"{op}({', '.join(infix(arg, leaf) for arg in args)})" if tree != PI else "π"
    raise TypeError(f"{tree!r} is no expression")


def _looked_up(tree: Expression, leaf: Callable[[str], str]) -> tuple[str, ...]:
    """Return what a table is read at; its rows may be tables themselves."""
    match tree:
        case Call("table", (value, _, found, *_)):
            return (infix(value, leaf), *_looked_up(found, leaf))
    return ()


def _right(op: str, tree: Expression, leaf: Callable[[str], str]) -> str:
    text = _operand(tree, leaf, _LEVELS[op] + (op in {"sub", "div"}))
    return f"({text})" if text.startswith("-") else text


def _base(tree: Expression, leaf: Callable[[str], str]) -> str:
    text = infix(tree, leaf)
    # A value with its unit is squared as a whole: (25 mm)².
    return f"({text})" if _level(tree) < _ATOM or " " in text or text.startswith("-") else text


def _operand(tree: Expression, leaf: Callable[[str], str], level: int) -> str:
    text = infix(tree, leaf)
    return f"({text})" if _level(tree) < level else text


def _level(tree: Expression) -> int:
    match tree:
        case Call(op):
            return _LEVELS.get(op, _ATOM)
        case Number(value) if value.denominator != 1 and "/" in str(to_json(tree)):
            return _LEVELS["div"]
    return _ATOM

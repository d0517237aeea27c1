"""A tree written as a person writes it, with parentheses only where they are needed."""

from collections.abc import Callable
from typing import Final

from tankside.quantities.expression import PI, Call, Expression, Name, Number, to_json

_SIGNS: Final = {"add": "+", "sub": "\N{MINUS SIGN}", "mul": "\N{MULTIPLICATION SIGN}", "div": "÷"}
_LEVELS: Final = {"add": 1, "sub": 1, "mul": 2, "div": 2, "power": 3}
_ATOM: Final = 4
_RAISED: Final = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")


def infix(tree: Expression, leaf: Callable[[str], str]) -> str:
    """Return the text of ``tree``; ``leaf`` gives the text that stands for a name."""
    match tree:
        case Number():
            return str(to_json(tree))
        case Name(name):
            return leaf(name)
        case Call("power", (base, Number(exponent))):
            return f"{_base(base, leaf)}{str(exponent).translate(_RAISED)}"
        case Call(op, (left, right)) if op in _SIGNS:
            return f"{_operand(left, leaf, _LEVELS[op])} {_SIGNS[op]} {_right(op, right, leaf)}"
        case Call(op, args):
            return f"{op}({', '.join(infix(arg, leaf) for arg in args)})" if tree != PI else "π"
    raise TypeError(f"{tree!r} is no expression")


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

"""An amount as its scale or measuring vessel can show it, and whether that vessel will do."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from tankside.compute.facts import quantity
from tankside.compute.trouble import CannotWorkOutError
from tankside.loading.values import Text
from tankside.model.facts import Equipment, Piece
from tankside.problems import Problem
from tankside.quantities.decimal_text import quantity_text, short_quantity
from tankside.quantities.evaluate import evaluate
from tankside.quantities.expression import Expression, Number, round_down, round_nearest, round_up
from tankside.units import Quantity

Direction = Literal["up", "down", "nearest"]
ROUND = {"up": round_up, "down": round_down, "nearest": round_nearest}
#: how full a receiver may get, so that it can be carried (common practice, no source)
FULLEST = Fraction(3, 4)
#: significant digits of a quantity in a sentence
DIGITS = 4


@dataclass(frozen=True)
class Measured:
    """An amount rounded to the graduation of its vessel, in the safe direction."""

    tag: Text
    exact: Quantity
    graduation: Quantity
    direction: Direction

    @property
    def shown(self) -> Quantity:
        """The amount to measure out, in the unit of the graduation."""
        return Quantity(evaluate(self.tree(Number(self.exact.value)), {}), self.graduation.unit)

    @property
    def working(self) -> tuple[str, ...]:
        """One line that says how it was rounded."""
        way = {"up": "up to", "down": "down to", "nearest": "to the nearest"}[self.direction]
        return (f"rounded {way} {quantity_text(self.graduation)} of {self.tag}: {quantity_text(self.shown)}",)

    def tree(self, exact: Expression) -> Expression:
        """Return the rounding put around the tree of the exact amount."""
        return ROUND[self.direction](exact, Number(self.graduation.value))

    def problems(self, equipment: Equipment, tolerance: Text) -> Iterator[Problem]:
        """Return what speaks against measuring it with this vessel."""
        allowed = quantity(tolerance, self.exact.unit.kind.name)
        off = abs(self.shown.value - self.exact.value)
        if off > allowed.value:
            steps = f"'{self.tag}' can show only steps of {quantity_text(self.graduation)}"
            message = f"{steps}; {_short(self.exact)} is off by more than {tolerance}"
            yield Problem(self.tag.span, "vessel-too-coarse", message, self._better(equipment, allowed))
        low, high = _range(equipment.equipment[self.tag])
        if (low is not None and self.shown.value < low.value) or (high is not None and self.shown.value > high.value):
            message = f"{quantity_text(self.shown)} is outside what '{self.tag}' can measure"
            yield Problem(self.tag.span, "vessel-out-of-range", message, self._better(equipment, allowed))

    def _better(self, equipment: Equipment, allowed: Quantity) -> str:
        fitting = [tag for tag, piece in equipment.equipment.items() if self._would_do(piece, allowed)]
        return (
            f"measure it with {' or '.join(fitting)}"
            if fitting
            else "no vessel of the book will do; add one, or change the amount"
        )

    def _would_do(self, piece: Piece, allowed: Quantity) -> bool:
        if piece.graduation is None or piece.kind not in ("measure", "scale", "pail"):
            return False
        step = quantity(piece.graduation)
        if step.unit.kind != self.exact.unit.kind:
            return False
        low, high = _range(piece)
        shown = evaluate(ROUND[self.direction](Number(self.exact.value), Number(step.value)), {})
        return (
            abs(shown - self.exact.value) <= allowed.value
            and (low is None or shown >= low.value)
            and (high is None or shown <= high.value)
        )


def measured(equipment: Equipment, tag: Text, exact: Quantity, direction: Direction) -> Measured:
    """Return the amount rounded to what the vessel or scale `tag` can show.

    Raises:
        CannotWorkOutError: it has no graduation, or one of another kind than the amount.
    """
    piece = equipment.equipment[tag]
    if piece.graduation is None:
        message = f"equipment.yaml does not say the graduation of '{tag}'"
        raise CannotWorkOutError(Problem(tag.span, "fact-missing", message, "write it there: 'graduation: ...'"))
    step = quantity(piece.graduation)
    if step.unit.kind != exact.unit.kind:
        message = f"'{tag}' measures {step.unit.kind.name}, the amount is {exact.unit.kind.name}"
        raise CannotWorkOutError(
            Problem(tag.span, "unit-wrong-kind", message, "name a vessel or scale that measures it")
        )
    return Measured(tag, exact, step, direction)


def receiver_problem(equipment: Equipment, tag: Text, exact: Quantity) -> Iterator[Problem]:
    """Return a problem when the amount would fill its receiver past three quarters."""
    piece = equipment.equipment[tag]
    if piece.capacity is None:
        message = f"equipment.yaml does not say the capacity of '{tag}'"
        yield Problem(tag.span, "fact-missing", message, "write it there: 'capacity: ...'")
        return
    full = quantity(piece.capacity, "volume")
    if exact.unit.kind == full.unit.kind and exact.value > full.value * FULLEST:
        message = f"{_short(exact)} fills '{tag}' ({piece.capacity}) past three quarters"
        yield Problem(tag.span, "receiver-too-small", message, "collect it in a larger vessel, or in several passes")


def _range(piece: Piece) -> tuple[Quantity | None, Quantity | None]:
    if piece.range is None:
        return None, None if piece.capacity is None else quantity(piece.capacity, "volume")
    ends = (piece.range.from_, piece.range.to)
    low, high = (None if end is None else quantity(end) for end in ends)
    return low, high


def _short(amount: Quantity) -> str:
    return short_quantity(amount, DIGITS)[0]

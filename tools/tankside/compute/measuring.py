"""An amount as its scale or measuring vessel can show it, and whether that vessel will do."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from tankside.compute.facts import quantity
from tankside.compute.trouble import CannotWorkOutError
from tankside.loading.values import Text
from tankside.model.facts import Equipment, Piece
from tankside.model.steps import MEASURES
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

    @property
    def off(self) -> Fraction:
        """How far what is shown is from the exact amount, in base units."""
        return abs(self.shown.value - self.exact.value)


def measured(equipment: Equipment, tag: Text, exact: Quantity, direction: Direction) -> Measured:
    """Return the amount rounded to what the vessel or scale `tag` can show.

    Raises:
        CannotWorkOutError: it has no graduation, or one of another kind than the amount.
    """
    piece = equipment.equipment[tag]
    if piece.graduation is None:
        message = f"equipment.yaml does not say the graduation of '{tag}'"
        raise CannotWorkOutError(Problem(tag.span, "fact-missing", message, "write it there: 'graduation: ...'"))
    step = quantity(piece.graduation, sign="above 0")
    if step.unit.kind != exact.unit.kind:
        message = f"'{tag}' measures {step.unit.kind.name}, the amount is {exact.unit.kind.name}"
        raise CannotWorkOutError(
            Problem(tag.span, "unit-wrong-kind", message, "name a vessel or scale that measures it")
        )
    return Measured(tag, exact, step, direction)


def vessel_problems(equipment: Equipment, amounts: Sequence[Measured], tolerance: Text) -> Iterator[Problem]:
    """Return what speaks against measuring any of these amounts with their vessel, each fault at its worst."""
    tag = amounts[0].tag
    allowed = quantity(tolerance, amounts[0].exact.unit.kind.name, sign="above 0")
    piece = equipment.equipment[tag]
    worst = max(amounts, key=lambda each: each.off)
    if worst.off + accuracy_of(piece, allowed) > allowed.value:
        steps = f"'{tag}' can show only steps of {quantity_text(worst.graduation)}"
        steps += f", right to {piece.accuracy}" if piece.accuracy is not None else ""
        message = f"{steps}; {_short(worst.exact)} is off by more than {tolerance}"
        yield Problem(tag.span, "vessel-too-coarse", message, _better(equipment, amounts, allowed))
    outside = [each for each in amounts if not _is_in_range(piece, each.shown)]
    if outside:
        message = f"{quantity_text(outside[0].shown)} is outside what '{tag}' can measure"
        yield Problem(tag.span, "vessel-out-of-range", message, _better(equipment, amounts, allowed))


def accuracy_of(piece: Piece, like: Quantity) -> Fraction:
    """Return how far what a vessel or instrument shows may be from the truth, in base units of the kind of `like`."""
    return Fraction(0) if piece.accuracy is None else quantity(piece.accuracy, like.unit.kind.name).value


def _better(equipment: Equipment, amounts: Sequence[Measured], allowed: Quantity) -> str:
    fitting = [tag for tag, piece in equipment.equipment.items() if _would_do(tag, piece, amounts, allowed)]
    return (
        f"measure it with {' or '.join(fitting)}"
        if fitting
        else "no vessel of the book will do; add one, or change the amount"
    )


def _would_do(tag: Text, piece: Piece, amounts: Sequence[Measured], allowed: Quantity) -> bool:
    # What is fixed in a pipe measures what runs there, and is not carried to something else.
    if piece.graduation is None or piece.kind not in MEASURES or piece.connects:
        return False
    try:
        step = quantity(piece.graduation, amounts[0].exact.unit.kind.name, sign="above 0")
        tried = [replace(each, tag=tag, graduation=step) for each in amounts]
        spare = allowed.value - accuracy_of(piece, allowed)
        return all(each.off <= spare and _is_in_range(piece, each.shown) for each in tried)
    except CannotWorkOutError:
        return False


def _is_in_range(piece: Piece, shown: Quantity) -> bool:
    low, high = measuring_range(piece, shown.unit.kind.name)
    return (low is None or shown.value >= low.value) and (high is None or shown.value <= high.value)


def measuring_range(piece: Piece, kind: str) -> tuple[Quantity | None, Quantity | None]:
    """Return the least and the most that a vessel or instrument can measure, None where there is no such end."""
    ends = (None, piece.capacity) if piece.range is None else (piece.range.from_, piece.range.to)
    low, high = (None if end is None else quantity(end, kind) for end in ends)
    return low, high


def range_problem(piece: Piece) -> Problem | None:
    """Return a problem when the range of an instrument is of another kind than its graduation."""
    try:
        if piece.range is not None and piece.graduation is not None:
            measuring_range(piece, quantity(piece.graduation).unit.kind.name)
    except CannotWorkOutError as error:
        return error.problem
    return None


def receiver_problem(equipment: Equipment, tag: Text, most: Quantity) -> Problem | None:
    """Return a problem when the amount, as it is measured out, would fill its receiver past three quarters."""
    piece = equipment.equipment[tag]
    if piece.capacity is None:
        message = f"equipment.yaml does not say the capacity of '{tag}'"
        return Problem(tag.span, "fact-missing", message, "write it there: 'capacity: ...'")
    full = quantity(piece.capacity, "volume", sign="above 0")
    if most.unit.kind != full.unit.kind:
        message = f"'{tag}' holds a volume, the amount is {most.unit.kind.name}"
        return Problem(tag.span, "unit-wrong-kind", message, "leave 'collect_in' out, or work out a volume")
    if most.value <= full.value * FULLEST:
        return None
    message = f"{_short(most)} fills '{tag}' ({piece.capacity}) past three quarters"
    return Problem(tag.span, "receiver-too-small", message, "collect it in a larger vessel, or in several passes")


def _short(amount: Quantity) -> str:
    return short_quantity(amount, DIGITS)[0]

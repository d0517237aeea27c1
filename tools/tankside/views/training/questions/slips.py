"""Mistakes that people make with amounts, worked out as exactly as the right ones."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final

from tankside.catalogue.links import is_number
from tankside.compute.facts import fact, quantity
from tankside.compute.worked import Worked, WorkedAmount
from tankside.edition.shown import key
from tankside.model.procedures import Amount
from tankside.quantities.functions import root
from tankside.units import Quantity, unit_named
from tankside.views.numbers import exact_text
from tankside.views.training.questions.subject import Subject

#: how many times the right amount, or which part of it, a slip may come to and still be believed
BELIEVED: Final = 4


@dataclass(frozen=True)
class Slip:
    """An amount that is wrong."""

    #: of its reason, behind "ask-slip-" in the texts
    reason: str
    #: in base units of the amount, before it is rounded to its vessel
    exact: Fraction
    filled: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Sum:
    """An amount for one value of its input."""

    subject: Subject
    amount: WorkedAmount
    worked: Worked

    @property
    def right(self) -> Fraction:
        """What is right, in base units, before it is rounded to its vessel."""
        return self.worked.exact.value

    @property
    def is_withheld(self) -> bool:
        """Whether the reader gets no formula, because a recipe is confidential."""
        return not self.worked.working

    @property
    def written(self) -> Amount:
        """How the amount stands in the procedure."""
        return self.subject.procedure.amounts[key(self.amount.name)]

    def argument(self, name: str) -> Quantity:
        """Return what the helper was given."""
        value = self.written.with_[key(name)]
        if value in self.subject.procedure.inputs:
            assert self.worked.at is not None, "an amount with an input is worked out for a value of it"
            return self.worked.at
        if value in self.subject.edition.amounts:
            return self.like(self.subject.edition.amounts[value]).exact
        return quantity(value) if is_number(value) else fact(self.subject.plant.equipment, value)

    def like(self, other: WorkedAmount) -> Worked:
        """Return another amount of the procedure for the same value of the input."""
        return next((each for each in other.table if each.at == self.worked.at), other.usual)


def slips_of(asked: Sum) -> Iterator[Slip]:
    """Return the mistakes that are likely with an amount, the likeliest first.

    Those with the formula come first, then a wrong line or column of the table, then a wrong factor. With an amount
    of a confidential recipe only those that follow from what everybody sees: other columns and factors.
    """
    if not asked.is_withheld:
        yield from _BY_HELPER.get(asked.amount.helper, _none)(asked)
        yield from _other_amounts(asked)
    yield from _other_sizes(asked)
    for reason, factor in (("half", Fraction(1, 2)), ("twice", Fraction(2)), ("tenth", Fraction(1, 10))):
        yield Slip(reason, asked.worked.shown.value * factor)
    yield Slip("ten", asked.worked.shown.value * 10)


def is_believed(slip: Slip, right: Fraction) -> bool:
    """Whether somebody might believe it: not far from what is right, or only the decimal point has slipped."""
    return slip.reason in ("ten", "tenth") or right / BELIEVED <= slip.exact <= right * BELIEVED


def _none(_: Sum) -> Iterator[Slip]:
    yield from ()


def _other_amounts(asked: Sum) -> Iterator[Slip]:
    for name, other in asked.subject.edition.amounts.items():
        worked = asked.like(other)
        if name != asked.amount.name and worked.exact.unit.kind == asked.worked.exact.unit.kind and worked.working:
            yield Slip("other", worked.exact.value, {"title": other.title})


def _other_sizes(asked: Sum) -> Iterator[Slip]:
    at = asked.worked.at
    if at is None:
        return
    for worked in (asked.amount.usual, *asked.amount.table):
        if worked.at is not None and worked.at != at:
            yield Slip("size", worked.exact.value, {"value": exact_text(worked.at)})
    usual = asked.amount.usual
    if usual.at is not None and usual.at != at:
        yield Slip("inverse", usual.exact.value * usual.at.value / at.value)


def _dilute(asked: Sum) -> Iterator[Slip]:
    """Made up to a mark, taken for added to water: ``make`` is then the water, and the total is more."""
    stock, target, make = (asked.argument(name).value for name in ("stock", "target", "make"))
    if asked.amount.result == "water_volume":
        yield Slip("added-to", make)
    elif stock > target:
        yield Slip("added-to", make * target / (stock - target))


def _dilute_into(asked: Sum) -> Iterator[Slip]:
    """Added to water, taken for made up to a mark: ``water`` is then all there is in the end."""
    stock, target, water = (asked.argument(name).value for name in ("stock", "target", "water"))
    yield Slip("made-up-to", water if asked.amount.result == "total_volume" else water * target / stock)


def _flush_volume(asked: Sum) -> Iterator[Slip]:
    volume = asked.argument("volume").value
    yield Slip("one-volume", volume)
    yield Slip("two-volumes", 2 * volume)


def _drain_time(asked: Sum) -> Iterator[Slip]:
    """The flow of the start taken for the whole time: ``t * (1 + sqrt(level_to / level_from)) / 2``."""
    start, end = (asked.argument(name).value for name in ("level_from", "level_to"))
    yield Slip("steady", asked.right * (1 + root(end / start)) / 2)


def _fill_weight(asked: Sum) -> Iterator[Slip]:
    """A litre taken for a kilogram, or divided by the density: ``nominal * 1 kg/L`` or ``nominal / density``."""
    if asked.amount.result != "target":
        return
    litres = asked.argument("nominal").in_unit(unit_named("L"))
    density = asked.argument("density").in_unit(unit_named("kg/L"))
    tare = asked.argument("tare").value
    kilogram = unit_named("kg").to_base(Fraction(1))
    yield Slip("as-water", litres * kilogram + tare)
    yield Slip("divided", litres / density * kilogram + tare)


def _scale_recipe(asked: Sum) -> Iterator[Slip]:
    """A litre of the product taken for a kilogram: ``make * share`` without the density of the product."""
    if asked.amount.result.endswith(".mass"):
        plant = asked.subject.plant
        product = plant.products.products[asked.written.with_[key("product")]]
        density = quantity(plant.materials.materials[product.material].density).in_unit(unit_named("kg/L"))
        yield Slip("as-water", asked.right / density)


_BY_HELPER: Final[Mapping[str, Callable[[Sum], Iterator[Slip]]]] = {
    "dilute": _dilute,
    "dilute-into": _dilute_into,
    "drain-time": _drain_time,
    "fill-weight": _fill_weight,
    "flush-volume": _flush_volume,
    "scale-recipe": _scale_recipe,
}

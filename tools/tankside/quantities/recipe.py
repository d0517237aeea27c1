"""A product's recipe, as much of it as scaling needs."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from tankside.quantities.decimal_text import decimal_text, quantity_text
from tankside.quantities.refusals import OutOfDomainError
from tankside.units import Quantity, require_kind

#: What a name in a recipe helper's tree starts with to stand for each ingredient in turn.
EACH: Final = "<ingredient>"
DENSITY: Final = "mass concentration"
#: Names a recipe gives a value to, and their kinds.
FACTS: Final[Mapping[str, str]] = MappingProxyType(
    {"product.density": DENSITY, f"{EACH}.share": "mass fraction", f"{EACH}.density": DENSITY}
)


@dataclass(frozen=True)
class Ingredient:
    """One ingredient of a recipe."""

    name: str
    #: of the product's mass
    share: Quantity
    density: Quantity


@dataclass(frozen=True)
class Recipe:
    """A recipe that can be made: densities above 0, shares above 0 that add up to the whole."""

    product: str
    density: Quantity
    #: in adding order
    ingredients: tuple[Ingredient, ...]

    def __post_init__(self) -> None:
        for name, quantity in self.facts().items():
            _require_above_zero(name, quantity, self.product)
        whole = sum((ingredient.share.value for ingredient in self.ingredients), Fraction(0))
        if whole != 1:
            raise OutOfDomainError(
                f"the shares of '{self.product}' add up to '{decimal_text(whole * 100)} %w/w', not '100 %w/w'",
                "correct the shares of the recipe",
            )

    def facts(self) -> Mapping[str, Quantity]:
        """Return the recipe's values under the names that trees use."""
        values = {"product.density": self.density}
        for ingredient in self.ingredients:
            values[f"{ingredient.name}.share"] = ingredient.share
            values[f"{ingredient.name}.density"] = ingredient.density
        return values


def _require_above_zero(name: str, quantity: Quantity, product: str) -> None:
    quoted = f"{name} '{quantity_text(quantity)}' of '{product}'"
    require_kind(quantity.unit, ("mass fraction",) if name.endswith(".share") else (DENSITY,), quoted)
    if quantity.value <= 0:
        raise OutOfDomainError(f"{quoted} is not above 0", f"correct {name} of the recipe")

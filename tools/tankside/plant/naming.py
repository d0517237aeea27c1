"""What a mixture may be called: which materials can stand in a vessel whose label names one."""

from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from tankside.memory import remembered
from tankside.model.facts import Materials, Plant
from tankside.plant.volumes import Contents


class Naming:
    """Knows the groups of each material and what each product is made of."""

    def __init__(self, plant: Plant) -> None:
        """Take it from the facts of the book."""
        self._plant = plant

    @cached_property
    def _facts(self) -> dict[str, "_About"]:
        materials: Materials = self._plant.materials
        made: dict[str, frozenset[str]] = {}
        for product in self._plant.products.products.values():
            made[str(product.material)] = frozenset(str(line.ingredient) for line in product.recipe)
        return {
            str(name): _About(str(each.kind), frozenset(map(str, each.groups)), made.get(str(name), frozenset()))
            for name, each in materials.materials.items()
        }

    @cached_property
    def waters(self) -> frozenset[str]:
        """The materials that rinse."""
        return frozenset(name for name, about in self._facts.items() if about.kind == "water")

    def kind(self, material: str) -> str:
        """Return what a material is to the workshop: raw, product, water or waste."""
        return self._facts[material].kind

    def recipe_of(self, material: str) -> frozenset[str]:
        """Return the ingredients of the product that is this material."""
        return self._facts[material].made_of

    def may_be_called(self, part: str, name: str) -> bool:
        """Return whether a material may stand in what goes by a name.

        It may when it is that material, or an ingredient of that product; in waste also when it is water, or is of
        no group that the waste is not of.
        """
        if part == name:
            return True
        mine, whole = self._facts[part], self._facts[name]
        if whole.kind == "waste":
            return mine.kind == "water" or mine.groups <= whole.groups
        return part in whole.made_of

    def is_called(self, held: Contents, name: str, heel: Fraction) -> bool:
        """Return whether what stands there may go by a name; a product of which an ingredient is missing may not.

        What is no more than the heel [L] was left over; it does not decide the name.
        """
        parts = [part for part, found in held.parts if found.low > 0 and found.high > heel]
        if not all(self.may_be_called(part, name) for part in parts):
            return False
        here = set(parts) or set(held.materials)
        return (
            not held.parts or self.kind(name) == "waste" or name in here or bool(here >= self.recipe_of(name) != set())
        )


@dataclass(frozen=True)
class _About:
    kind: str
    groups: frozenset[str]
    made_of: frozenset[str]


@remembered
def naming_of(plant: Plant) -> Naming:
    """Return what a book's mixtures may be called."""
    return Naming(plant)

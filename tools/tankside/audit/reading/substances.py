"""What materials are, by their reactivity groups: acid, alkali, hypochlorite; what is strong, what gives off gas."""

from collections.abc import Mapping

from tankside.audit.reading.hazard_statements import codes_of
from tankside.model.facts import Material, Materials

ACID = frozenset({"acid-mineral", "acid-oxidising", "acid-organic"})
CAUSTIC = frozenset({"caustic"})
HYPOCHLORITE = frozenset({"hypochlorite"})
#: what gives off gas while it is kept
GASSING = frozenset({"hypochlorite", "peroxide"})
#: hazard statements of a concentrate that heats and spits when it meets water: burns skin, eats metal
STRONG = frozenset({"H314", "H290"})


def is_of(materials: Materials, material: Material, kinds: frozenset[str]) -> bool:
    """Return whether a material is in a group that stands for one of these kinds of the published table."""
    return any(kinds & set(materials.groups[group].stands_for) for group in material.groups)


def is_strong(materials: Materials, material: Material) -> bool:
    """Return whether it is a concentrated acid or alkali: a raw material with a statement of `STRONG`."""
    return material.kind == "raw" and bool(codes_of(material) & STRONG) and is_of(materials, material, ACID | CAUSTIC)


def is_watery(material: Material) -> bool:
    """Return whether a concentrate is thinned in it: water, or a product that is made with water."""
    return material.kind in ("water", "product")


def gives_off_gas(materials: Materials, material: Material) -> bool:
    """Return whether it gives off gas while it is kept; one of a group that does is taken to, unless it says no."""
    if material.gives_off_gas is not None:
        return material.gives_off_gas == "yes"
    return is_of(materials, material, GASSING)


def names_of(materials: Materials, kinds: frozenset[str]) -> frozenset[str]:
    """Return the ids of all materials in groups that stand for one of these kinds."""
    return frozenset(str(name) for name, each in materials.materials.items() if is_of(materials, each, kinds))


def by_id(materials: Materials) -> Mapping[str, Material]:
    """Return the materials by plain ids, as states of the plant name them."""
    return {str(name): each for name, each in materials.materials.items()}

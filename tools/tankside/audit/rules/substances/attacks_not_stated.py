"""A corrosive that does not say what it attacks."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.substances import HYPOCHLORITE, is_of
from tankside.audit.rule import Family, Found, Weight, memory, practice, rule
from tankside.problems import quoted

METAL_EATING = "H290"


@rule(
    Family.SUBSTANCES,
    Weight.SHOULD,
    memory("29 CFR 1910.1200", "App. D", "section 10 of a data sheet names incompatible materials"),
    practice("hypochlorite is spoilt by nickel, copper, cobalt and iron"),
)
def attacks_not_stated(audited: Audited) -> Iterator[Found]:
    """A material that may eat metal, and every hypochlorite, names under `attacks` what it eats or is spoilt by.

    Looked at are raw materials and products whose label says H290 or whose group stands for hypochlorite. Without
    these words nobody can see that a piece is made of the wrong thing.

    Fails:
        # procedures/plant/materials.yaml
        materials:
          sample-concentrate:
            hazards:
              - code: H290
                says: May be corrosive to metals

    Passes:
        # procedures/plant/materials.yaml
        materials:
          sample-concentrate:
            attacks: [aluminium, zinc]
            hazards:
              - code: H290
                says: May be corrosive to metals
    """
    materials = audited.plant.materials
    for name, each in materials.materials.items():
        eats = any(hazard.code == METAL_EATING for hazard in each.hazards) or is_of(materials, each, HYPOCHLORITE)
        if eats and each.kind in ("raw", "product") and not each.attacks:
            message = f"{quoted(name)} does not say what it attacks"
            yield Found(str(name), name.span, message, "list the words of its data sheet, section 10, under 'attacks'")

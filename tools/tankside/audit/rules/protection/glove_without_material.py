"""Gloves for chemicals that do not say what they are made of."""

import re
from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.wearing import demanded_gloves
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.problems import quoted

#: what gloves against chemicals are made of; rubber alone may be any of them
MATERIALS = re.compile(
    r"\b(nitrile|neoprene|(poly)?chloroprene|butyl|PVC|(poly)?vinyl|natural rubber|latex|PVA|viton|FKM|laminated?)\b",
    re.IGNORECASE,
)


@rule(
    Family.PROTECTION,
    Weight.MUST,
    read("29 CFR 1910.138", "(b)", "gloves are chosen by how they perform in the task, for how long, against what"),
    practice("the glove maker's table goes by the material of the glove, so that is what is written down and bought"),
)
def glove_without_material(audited: Audited) -> Iterator[Found]:
    """Gloves that a material asks for name under `made_of` what they are made of.

    Looked for is one of nitrile, neoprene (chloroprene), butyl, PVC (vinyl), natural rubber (latex), PVA, FKM (Viton)
    and laminate. `Rubber` or `chemical-proof` says nothing: what stops alkali may let a solvent through. Gloves that no
    material asks for, such as those against heat or cuts, are not looked at.

    Fails:
        # procedures/plant/equipment.yaml
        protective_equipment:
          thick-gloves:
            name: Thick gloves
            sign: M009
            made_of: Rubber, long
            look_for: Holes.
        # procedures/plant/materials.yaml
        materials:
          sample-cleaner:
            wear: [apron, goggles, thick-gloves]

    Passes:
        # procedures/plant/equipment.yaml
        protective_equipment:
          thick-gloves:
            name: Thick gloves
            sign: M009
            made_of: Butyl rubber, 0.5 mm, 35 cm long
            look_for: Holes.
        # procedures/plant/materials.yaml
        materials:
          sample-cleaner:
            wear: [apron, goggles, thick-gloves]
    """
    for glove in demanded_gloves(audited.plant):
        made_of = audited.plant.equipment.protective_equipment[glove].made_of
        if MATERIALS.search(made_of) is None:
            yield Found(
                str(glove),
                made_of.span,
                f"{quoted(made_of)} names no material that gloves against chemicals are made of",
                "write the material and its thickness: 'Nitrile, 0.4 mm'",
            )

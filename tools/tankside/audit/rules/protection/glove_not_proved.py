"""Gloves that a material asks for, and that do not state how long they hold against it."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.wearing import demanded_gloves, holds
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.problems import quoted


@rule(
    Family.PROTECTION,
    Weight.MUST,
    read("29 CFR 1910.138", "(b)", "gloves are chosen by how they perform in the task, for how long, against what"),
    memory("EN ISO 374-1", "", "a glove is tested against named chemicals, and no glove holds against all"),
)
def glove_not_proved(audited: Audited) -> Iterator[Found]:
    """Gloves that a material asks for state under `holds_against` how long they hold against that material.

    The time is that of the glove maker's table for the glove that was bought: material, thickness and make. A glove of
    the right name may let a liquid through in minutes, and nobody sees it.

    Fails:
        # procedures/plant/equipment.yaml
        protective_equipment:
          blue-gloves:
            name: Blue gloves
            sign: M009
            made_of: Nitrile, 0.4 mm
            look_for: Holes.
        # procedures/plant/materials.yaml
        materials:
          sample-cleaner:
            wear: [apron, goggles, blue-gloves]

    Passes:
        # procedures/plant/equipment.yaml
        protective_equipment:
          blue-gloves:
            name: Blue gloves
            sign: M009
            made_of: Nitrile, 0.4 mm
            holds_against:
              - material: sample-cleaner
                for: 240 min
            look_for: Holes.
        # procedures/plant/materials.yaml
        materials:
          sample-cleaner:
            wear: [apron, goggles, blue-gloves]
    """
    for glove, materials in demanded_gloves(audited.plant).items():
        place = next(name for name in audited.plant.equipment.protective_equipment if name == glove)
        for material in materials:
            if not holds(audited.plant, glove, material):
                yield Found(
                    str(glove),
                    place.span,
                    f"{quoted(material)} asks for {quoted(glove)}, which do not state how long they hold against it",
                    f"add {quoted(material)} to 'holds_against' with the time of the glove maker's table",
                )

"""A material that harms skin and asks for no gloves."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.body_hazards import SKIN_CODES, unprotected
from tankside.audit.reading.wearing import HANDS
from tankside.audit.rule import Family, Found, Weight, memory, read, rule


@rule(
    Family.PROTECTION,
    Weight.MUST,
    read("29 CFR 1910.138", "(a)", "hands are protected from chemicals that burn or go through the skin"),
    memory("29 CFR 1910.1200", "App. C", "labels with such a statement ask for gloves (P280)"),
)
def gloves_missing(audited: Audited) -> Iterator[Found]:
    """Each material that harms skin, or goes through it, by its label asks for gloves under its `wear`.

    The statements are H310, H311 and H312 (poisonous through the skin), H314 (burns), H315 (irritation) and H317
    (allergy). Gloves have the sign M009.

    Fails:
        # procedures/plant/materials.yaml
        materials:
          sample-concentrate:
            wear: [apron, goggles]

    Passes:
        # procedures/plant/materials.yaml
        materials:
          sample-concentrate:
            wear: [apron, goggles, gloves]
    """
    yield from unprotected(audited, SKIN_CODES, HANDS, "skin", "gloves")

"""A material that harms eyes and asks for nothing over them."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.body_hazards import EYE_CODES, unprotected
from tankside.audit.reading.wearing import EYES
from tankside.audit.rule import Family, Found, Weight, memory, read, rule


@rule(
    Family.PROTECTION,
    Weight.MUST,
    read("29 CFR 1910.133", "(a)(1)", "eyes and face are protected from liquid chemicals, acids and alkalis"),
    memory("29 CFR 1910.1200", "App. C", "labels with H314, H318 or H319 ask for eye protection (P280, P305)"),
)
def eye_protection_missing(audited: Audited) -> Iterator[Found]:
    """Each material that harms eyes by its label asks for eye protection under its `wear`.

    The statements are H314 (burns), H318 (eye damage) and H319 (eye irritation). Eye protection has the sign M004. A
    face shield does not count: it is worn over goggles, never alone.

    Fails:
        # procedures/plant/materials.yaml
        materials:
          sample-concentrate:
            wear: [apron, gloves]

    Passes:
        # procedures/plant/materials.yaml
        materials:
          sample-concentrate:
            wear: [apron, goggles, gloves]
    """
    yield from unprotected(audited, EYE_CODES, EYES, "eyes", "goggles")

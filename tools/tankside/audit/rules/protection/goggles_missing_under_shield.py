"""A face shield that is worn without goggles."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.wearing import EYES, FACE, lists, signed
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.problems import quoted


@rule(
    Family.PROTECTION,
    Weight.MUST,
    read("29 CFR 1910.133", "OSHA eTool", "against splashes goggles come first, a face shield second"),
    memory("29 CFR 1910.133", "(b)(1)", "protectors follow ANSI Z87.1: a face shield is worn over eye protection"),
)
def goggles_missing_under_shield(audited: Audited) -> Iterator[Found]:
    """Wherever a face shield is listed under `wear`, goggles are listed, too.

    A shield is open below and at the sides, so a splash runs in behind it. Looked at are the lists of procedures,
    materials, machines and hazard assessments. A shield has the sign M013, goggles have M004.

    Fails:
        # procedures/plant/equipment.yaml
        protective_equipment:
          shield:
            name: Face shield
            sign: M013
            made_of: Polycarbonate, with chin guard
            look_for: Cracks.
        # procedures/filling/example.yaml
        wear: [apron, shield, gloves]

    Passes:
        # procedures/plant/equipment.yaml
        protective_equipment:
          shield:
            name: Face shield
            sign: M013
            made_of: Polycarbonate, with chin guard
            look_for: Cracks.
        # procedures/filling/example.yaml
        wear: [apron, goggles, shield, gloves]
    """
    for at, names in lists(audited):
        shields = signed(audited.plant, names, FACE)
        if shields and not signed(audited.plant, names, EYES):
            yield Found(
                at,
                shields[0].span,
                f"{quoted(shields[0])} is worn without goggles, sign {EYES}",
                "add goggles before it; a shield is worn over them, never alone",
            )

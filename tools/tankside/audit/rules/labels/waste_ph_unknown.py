"""A waste with acid or alkali in it whose pH nobody has said."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.substances import ACID, CAUSTIC, is_of
from tankside.audit.reading.waste import wastes
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.problems import quoted


@rule(
    Family.LABELS,
    Weight.SHOULD,
    read("40 CFR 261.22", "(a)(1)", "whether a watery waste is corrosive follows from its pH"),
)
def waste_ph_unknown(audited: Audited) -> Iterator[Found]:
    """A waste with acid or alkali in it says between which pH it may be.

    Looked at are wastes of a group that stands for an acid or an alkali. Without the pH nobody knows whether the drum
    is hazardous waste. A strip of paper tells it well enough.

    Fails:
        # procedures/plant/materials.yaml
        materials:
          rinse-water:
            groups: [acids]

    Passes:
        # procedures/plant/materials.yaml
        materials:
          rinse-water:
            groups: [acids]
            ph:
              from: 3
              to: 6
    """
    materials = audited.plant.materials
    for name, each in wastes(materials):
        if each.ph is None and is_of(materials, each, ACID | CAUSTIC):
            message = f"{quoted(name)} has acid or alkali in it, and does not say its pH"
            yield Found(str(name), name.span, message, "measure it, and write the range under 'ph'")

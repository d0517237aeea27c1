"""A corrosive waste that is not said to be hazardous."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.waste import HIGHEST, LOWEST, wastes
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.problems import quoted


@rule(
    Family.LABELS,
    Weight.MUST,
    read("40 CFR 261.22", "(a)(1)", "a watery waste of pH 2 or less, or of 12.5 or more, is corrosive"),
    law="US",
)
def waste_ph(audited: Audited) -> Iterator[Found]:
    """A waste whose pH may come to 2 or less, or to 12.5 or more, says that it is hazardous waste.

    Looked at is the range under `ph` of each material that is waste. Hazardous waste has rules of its own: how long it
    is kept, what stands on the drum, who takes it. Whether it is hazardous in the end is decided by a test and by the
    authority; until then it is handled as if it were.

    Fails:
        # procedures/plant/materials.yaml
        materials:
          rinse-water:
            ph:
              from: 7
              to: 12.5

    Passes:
        # procedures/plant/materials.yaml
        materials:
          rinse-water:
            ph:
              from: 7
              to: 13
            hazardous_waste: yes
    """
    for name, each in wastes(audited.plant.materials):
        if each.ph is None or each.hazardous_waste == "yes":
            continue
        ends = ((each.ph.from_, float(each.ph.from_) <= LOWEST), (each.ph.to, float(each.ph.to) >= HIGHEST))
        for end, is_corrosive in ends:
            if is_corrosive:
                message = f"{quoted(name)} may have pH {end}, and is not said to be hazardous waste"
                yield Found(str(name), end.span, message, "write 'hazardous_waste: yes', until the authority says no")

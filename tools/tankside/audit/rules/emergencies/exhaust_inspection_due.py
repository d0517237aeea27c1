"""An exhaust that is not inspected each year."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.inspecting import uninspected
from tankside.audit.rule import Family, Found, Weight, practice, rule


@rule(
    Family.EMERGENCIES,
    Weight.SHOULD,
    practice("fan, filter, belt and duct of an exhaust are looked at every year, and the air at the hood is measured"),
)
def exhaust_inspection_due(audited: Audited) -> Iterator[Found]:
    """Each exhaust says when it is inspected again, and that day is not passed.

    `inspection_due` is the day of the next yearly inspection. It lies not more than a year ahead. The strip at the
    hood shows each day that air moves; that it moves as much as it did shows only a measurement.

    Fails:
        # procedures/plant/equipment.yaml
        equipment:
          exhaust-1:
            kind: exhaust
            name: Exhaust of the hood
        # procedures/filling/example.yaml
        needs: [exhaust-1]

    Passes:
        # procedures/plant/equipment.yaml
        equipment:
          exhaust-1:
            kind: exhaust
            name: Exhaust of the hood
            inspection_due: 2027-05-31
        # procedures/filling/example.yaml
        needs: [exhaust-1]
    """
    yield from uninspected(audited, "exhaust")

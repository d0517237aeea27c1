"""An eyewash or a shower that is not inspected each year."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.inspecting import uninspected
from tankside.audit.rule import Family, Found, Weight, read, rule


@rule(
    Family.EMERGENCIES,
    Weight.SHOULD,
    read("ANSI Z358.1", "", "eyewashes and showers are inspected every year"),
)
def eyewash_inspection_due(audited: Audited) -> Iterator[Found]:
    """Each eyewash and each shower says when it is inspected again, and that day is not passed.

    `inspection_due` is the day of the next yearly inspection: flow, height, temperature, signs and the way to it.
    It lies not more than a year ahead.

    Fails:
        # procedures/plant/equipment.yaml
        equipment:
          eyewash-1:
            inspection_due: 2026-10-31

    Passes:
        # procedures/plant/equipment.yaml
        equipment:
          eyewash-1:
            inspection_due: 2027-06-30
    """
    yield from uninspected(audited, "eyewash")

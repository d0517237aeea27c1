"""A corrosive without an eyewash in reach."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.flushing import EYES, unserved
from tankside.audit.rule import Family, Found, Weight, read, rule


@rule(
    Family.EMERGENCIES,
    Weight.MUST,
    read("29 CFR 1910.151", "(c)", "where eyes may meet injurious corrosives, water to flush them is in the work area"),
    read("WAC 296-800-15030", "", "an eyewash is provided where eyes may meet corrosives"),
)
def eyewash_missing(audited: Audited) -> Iterator[Found]:
    """Wherever a corrosive may reach a person, an eyewash serves.

    A corrosive is a material whose hazard statements say that it burns skin and eyes (H314) or damages eyes (H318),
    or a raw acid or alkali without any hazard statement. Looked at are each tank, drum, pail, jug and bottle that
    may hold one, and each piece where the dry run finds that one may reach the person.

    An eyewash serves what it names under `serves`; one that names nothing serves nothing, because nobody has walked
    the way. A shower that flushes the body only is no eyewash. Walk from each piece to the water with shut eyes,
    somebody beside you, before you write it down.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - do: Hang the hose tail of N1 into the pail.
            leaves:
              - N1 joined to pail-10-l

    Passes:
        # procedures/plant/equipment.yaml
        equipment:
          eyewash-1:
            serves: [N1]
        # procedures/filling/example.yaml
        steps:
          - do: Hang the hose tail of N1 into the pail.
            leaves:
              - N1 joined to pail-10-l
    """
    yield from unserved(audited, EYES)

"""A corrosive that burns skin, without a shower in reach."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.flushing import BODY, unserved
from tankside.audit.rule import Family, Found, Weight, read, rule


@rule(
    Family.EMERGENCIES,
    Weight.MUST,
    read(
        "29 CFR 1910.151", "(c)", "where the body may meet injurious corrosives, water to drench it is in the work area"
    ),
    read("WAC 296-800-15030", "", "a shower is provided where large parts of the body may meet corrosives"),
)
def shower_missing(audited: Audited) -> Iterator[Found]:
    """Wherever what burns skin may reach a person, a shower serves.

    What burns skin is a material whose hazard statements say so (H314), or a raw acid or alkali without any hazard
    statement. The same vessels and places are looked at as for the eyewash. A shower is a piece of the kind
    `eyewash` that says `flushes: body` or `flushes: eyes and body`; it serves what it names under `serves`.

    A tank, a drum or a full pail wets more than the eyes. An eyewash cannot drench a body.

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
            flushes: eyes and body
            serves: [N1]
        # procedures/filling/example.yaml
        steps:
          - do: Hang the hose tail of N1 into the pail.
            leaves:
              - N1 joined to pail-10-l
    """
    yield from unserved(audited, BODY)

"""A tray in which two leaks would meet."""

from collections.abc import Iterator
from itertools import combinations, product

from tankside.audit.audited import Audited
from tankside.audit.reading.trays import trays
from tankside.audit.rule import Family, Found, Weight, memory, practice, rule
from tankside.loading.values import Text
from tankside.plant.reactivity import Never
from tankside.problems import quoted


@rule(
    Family.EMERGENCIES,
    Weight.MUST,
    memory("40 CFR 264", "section 177(c)", "a container is kept apart by a dike or wall from what it must not meet"),
    practice("what must never meet shares no tray, so that two leaks do not meet either"),
)
def tray_shared(audited: Audited) -> Iterator[Found]:
    """Liquids that must never meet do not stand over one tray.

    Looked at is all that the pieces under one tray may hold. A pair counts that the book or the published table of
    groups says must never meet. Give each of the two a tray of its own.

    Fails:
        # procedures/plant/materials.yaml
        materials:
          bleach:
            name: Bleach
            kind: raw
            look: Yellow-green.
            density: 1.1 kg/L
            groups: [bleaches]
        # procedures/plant/equipment.yaml
        equipment:
          bleach-can:
            kind: drum
            name: Bleach can
            holds: [bleach]
            capacity: 20 L
          tray-1:
            kind: tray
            name: Tray at the back wall
            under: [waste-drum, bleach-can]
            capacity: 220 L

    Passes:
        # procedures/plant/equipment.yaml
        equipment:
          tray-1:
            kind: tray
            name: Tray at the back wall
            under: [waste-drum]
            capacity: 220 L
    """
    equipment = audited.plant.equipment.equipment
    for tag, tray in trays(audited).items():
        for first, second in combinations(tray.under, 2):
            for one, other in product(equipment[first].holds, equipment[second].holds):
                if isinstance(audited.rehearsal.setting.reactivity.judge(str(one), str(other)), Never):
                    yield _met(tag, first, second, one, other)
                    break


def _met(tag: Text, first: Text, second: Text, one: Text, other: Text) -> Found:
    message = f"{quoted(first)} and {quoted(second)} stand over one tray, and {one} must never meet {other}"
    return Found(str(tag), second.span, message, f"give {second} a tray of its own")

"""A respirator that is worn without a written programme."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.wearing import BREATHING, MASK, lists, signed
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.problems import quoted


@rule(
    Family.PROTECTION,
    Weight.MUST,
    read("29 CFR 1910.134", "(a)(2)", "who has people wear respirators sets up and maintains a programme for them"),
    memory("29 CFR 1910.134", "(c)(1)", "the programme is written, for this workplace, with one person in charge"),
    memory("29 CFR 1910.134", "(e), (f)", "people are examined and the fit is tested before a respirator is worn"),
    law="US",
)
def respirator_without_programme(audited: Audited) -> Iterator[Found]:
    """Where a respirator is worn, the book says where its written programme is found.

    A respirator is protective equipment with the sign M016 or M017. Looked at are the lists `wear` of procedures,
    materials, machines and hazard assessments. `respirator_programme` stands in `book.yaml`. Without the right filter,
    a medical examination and a fit test, a respirator gives courage and no air. A workshop without a programme leaves.

    Fails:
        # procedures/plant/equipment.yaml
        protective_equipment:
          half-mask:
            name: Half mask with filter
            sign: M017
            made_of: Silicone, filter B2P3
            look_for: Cracks in the valves.
        # procedures/filling/example.yaml
        wear: [apron, goggles, half-mask, gloves]

    Passes:
        # procedures/plant/equipment.yaml
        protective_equipment:
          half-mask:
            name: Half mask with filter
            sign: M017
            made_of: Silicone, filter B2P3
            look_for: Cracks in the valves.
        # procedures/filling/example.yaml
        wear: [apron, goggles, half-mask, gloves]
        # procedures/plant/book.yaml
        respirator_programme: The green folder in the office
    """
    if audited.plant.facts.respirator_programme is not None:
        return
    for at, names in lists(audited):
        for name in signed(audited.plant, names, MASK, BREATHING):
            yield Found(
                at,
                name.span,
                f"{quoted(name)} is a respirator, and the book names no programme for respirators",
                "write the programme and name it under 'respirator_programme' of book.yaml, or do without",
            )

"""A pictogram that no hazard statement asks for, or that gives way to another."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.hazard_statements import label_of
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.problems import quoted


@rule(
    Family.LABELS,
    Weight.MUST,
    read("29 CFR 1910.1200", "App. C.2.1", "which pictogram drops the exclamation mark for which hazard"),
    read("Regulation (EC) 1272/2008", "Article 26", "the same for the EU"),
    memory("29 CFR 1910.1200", "App. C.4", "which hazard has which pictogram"),
)
def pictogram_dropped(audited: Audited) -> Iterator[Found]:
    """A material has no pictogram that gives way to a stronger one, or that none of its hazard statements asks for.

    The exclamation mark gives way to the skull where it stands for acute toxicity, to the corrosion mark where it
    stands for irritation of skin or eyes, and to the health hazard mark of a respiratory sensitiser where it stands
    for skin sensitisation or irritation. It stays when another statement asks for it. The mark for the environment may
    always stand. Where a statement is not in the table, only what gives way is found.

    Fails:
        # procedures/plant/materials.yaml
        materials:
          sample-concentrate:
            pictograms: [GHS05, GHS07]
            hazards:
              - code: H314
                says: Causes severe skin burns and eye damage
              - code: H319
                says: Causes serious eye irritation

    Passes:
        # procedures/plant/materials.yaml
        materials:
          sample-concentrate:
            pictograms: [GHS05, GHS07]
            hazards:
              - code: H302
                says: Harmful if swallowed
              - code: H314
                says: Causes severe skin burns and eye damage
    """
    jurisdiction = str(audited.plant.facts.jurisdiction)
    for name, each in audited.plant.materials.materials.items():
        label = label_of(map(str, (hazard.code for hazard in each.hazards)), jurisdiction)
        for mark in each.pictograms:
            if mark in label.dropped:
                message = f"pictogram {quoted(mark)} of {quoted(name)} gives way to a stronger one"
                yield Found(str(name), mark.span, message, f"take {mark} out")
            elif label.is_whole and mark not in label.allowed:
                message = f"no hazard statement of {quoted(name)} asks for pictogram {quoted(mark)}"
                yield Found(str(name), mark.span, message, f"take {mark} out, or add the statement that asks for it")

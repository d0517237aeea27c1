"""A pictogram that the hazard statements ask for and that is not there."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.hazard_statements import label_of
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.problems import quoted


@rule(
    Family.LABELS,
    Weight.MUST,
    memory("29 CFR 1910.1200", "App. C.4", "which hazard has which pictogram"),
    read("29 CFR 1910.1200", "App. C.2.1", "which pictogram gives way to which"),
    read("Regulation (EC) 1272/2008", "Article 26", "which pictogram gives way to which in the EU"),
)
def pictogram_missing(audited: Audited) -> Iterator[Found]:
    """A material has every pictogram that its hazard statements ask for, but those that give way to a stronger one.

    The table behind it is the one of the signal words. The pictogram for the environment is not asked for in the US.
    People who do not read the words of a label look at its pictograms.

    Fails:
        # procedures/plant/materials.yaml
        materials:
          sample-concentrate:
            pictograms: [GHS07]

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
        wanted = label_of(map(str, (hazard.code for hazard in each.hazards)), jurisdiction).wanted
        for mark in sorted(wanted - set(each.pictograms)):
            span = each.pictograms[0].span if each.pictograms else name.span
            message = f"{quoted(name)} has no pictogram {quoted(mark)}, and its hazard statements ask for it"
            yield Found(str(name), span, message, f"add {mark} under 'pictograms', or correct the hazard statements")

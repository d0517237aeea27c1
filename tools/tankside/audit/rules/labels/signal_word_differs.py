"""A signal word that does not follow from the hazard statements."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.hazard_statements import label_of
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.problems import quoted


@rule(
    Family.LABELS,
    Weight.MUST,
    read("29 CFR 1910.1200", "App. C.2.1", "where Danger stands on a label, Warning does not"),
    memory("29 CFR 1910.1200", "App. C.4", "which hazard has which signal word"),
    read("Regulation (EC) 1272/2008", "annex I", "the signal words of most hazard classes, table by table"),
)
def signal_word_differs(audited: Audited) -> Iterator[Found]:
    """The signal word of a material is the strongest that one of its hazard statements asks for.

    It is worked out from a table of hazard statements: one that asks for Danger drops Warning. Where the category
    decides, and it is not written down, both are taken. Hazards to the environment ask for nothing in the US, and may
    stand there with their word. A statement that the table has not lets a stronger word stand.

    Fails:
        # procedures/plant/materials.yaml
        materials:
          sample-concentrate:
            signal_word: Warning

    Passes:
        # procedures/plant/materials.yaml
        materials:
          sample-concentrate:
            signal_word: Warning
            pictograms: [GHS07]
            hazards:
              - code: H319
                says: Causes serious eye irritation
    """
    jurisdiction = str(audited.plant.facts.jurisdiction)
    for name, each in audited.plant.materials.materials.items():
        words = label_of(map(str, (hazard.code for hazard in each.hazards)), jurisdiction).words
        if each.hazards and str(each.signal_word or "") not in words:
            span = name.span if each.signal_word is None else each.signal_word.span
            has = "no signal word" if each.signal_word is None else f"the signal word {quoted(each.signal_word)}"
            asked = " or ".join(sorted(quoted(word) if word else "none" for word in words))
            message = f"{quoted(name)} has {has}, its hazard statements ask for {asked}"
            yield Found(str(name), span, message, "compare section 2 of the data sheet, and write what stands there")

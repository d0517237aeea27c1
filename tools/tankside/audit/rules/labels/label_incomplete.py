"""A label that does not say what its contents do to people."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.containers import containers, untold_in
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.problems import quoted


@rule(
    Family.LABELS,
    Weight.MUST,
    read("29 CFR 1910.1200", "(f)(6)", "beside the name, words or symbols give the hazards at least in general"),
    law="US",
)
def label_incomplete(audited: Audited) -> Iterator[Found]:
    """The label of a container has a word for each hazard to people of what it holds.

    For each hazard statement a few beginnings of words are looked for: burn or corros for burns of the skin, eye or
    blind for damage to the eyes, swallow, harmful or toxic for what harms when it is swallowed, acid, gas or chlorine
    for what gives off toxic gas with acid. One of them is enough. Hazards to metal and to the environment are left to
    the full label. It reads English; books in another first language are not looked at.

    Fails:
        # procedures/plant/equipment.yaml
        equipment:
          waste-drum:
            label: Sample cleaner, invented.

    Passes:
        # procedures/plant/equipment.yaml
        equipment:
          waste-drum:
            label: Sample cleaner, invented. Danger, burns eyes and skin.
    """
    if audited.plant.facts.languages[0] != "en":
        return
    for tag, piece in containers(audited):
        untold = untold_in(audited, piece)
        if piece.label is not None and untold:
            message = f"the label of {quoted(tag)} has no word for {', '.join(untold)}"
            yield Found(str(tag), piece.label.span, message, "say on the label in plain words what it does")

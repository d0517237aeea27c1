"""A container that does not say what is in it."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.containers import containers, unnamed_in
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.problems import quoted


@rule(
    Family.LABELS,
    Weight.MUST,
    read("29 CFR 1910.1200", "(f)(6)", "each container in the workplace has the product identifier on it"),
    law="US",
)
def label_missing(audited: Audited) -> Iterator[Found]:
    """Each drum, pail, jug and bottle that holds a hazardous material has a label that names it.

    Hazardous is what has a signal word. A label names a material when it has all words of its name or of its id. Where
    it names a waste that the container holds, that stands for everything that goes into it. Tanks and lines are left
    to the tag on them and to the procedures, as paragraph (f)(7) allows for stationary ones. A jug for the immediate
    use of one person needs none by law; here a second person and the next one find it, so it has one.

    Fails:
        # procedures/plant/equipment.yaml
        equipment:
          waste-drum:
            label: Waste. Danger, burns skin and eyes.

    Passes:
        # procedures/plant/equipment.yaml
        equipment:
          waste-drum:
            label: Sample cleaner, invented. Danger, burns skin and eyes.
    """
    for tag, piece in containers(audited):
        unnamed = unnamed_in(audited, piece)
        if piece.label is None:
            message = f"{quoted(tag)} has no label, and {quoted(unnamed[0])} is in it"
            yield Found(
                str(tag), tag.span, message, "write under 'label' what its label says: the name and the hazards"
            )
        elif unnamed:
            message = f"the label of {quoted(tag)} does not name {', '.join(map(quoted, unnamed))}"
            yield Found(str(tag), piece.label.span, message, "write the name as in materials.yaml onto the label")

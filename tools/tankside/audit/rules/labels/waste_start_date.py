"""A waste drum without the day of its first waste."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.waste import waste_drums
from tankside.audit.rule import Family, Found, Weight, memory, rule
from tankside.problems import quoted


@rule(
    Family.LABELS,
    Weight.SHOULD,
    memory("40 CFR 262", "section 16(b)(6)", "the day on which accumulation begins stands on each container"),
)
def waste_start_date(audited: Audited) -> Iterator[Found]:
    """A waste drum says where the day of its first waste is written.

    The law asks for that day of those who make more than 100 kg of hazardous waste a month, and lets nobody of them
    keep a drum for ever. It is good practice for all: without it nobody knows how long a drum has stood.

    Fails:
        # procedures/plant/equipment.yaml
        equipment:
          second-waste-drum:
            kind: drum
            name: Second waste drum
            holds: [rinse-water]
        # procedures/filling/example.yaml
        needs: [second-waste-drum]

    Passes:
        # procedures/plant/equipment.yaml
        equipment:
          second-waste-drum:
            kind: drum
            name: Second waste drum
            holds: [rinse-water]
            start_date_on: The tag on its bung
        # procedures/filling/example.yaml
        needs: [second-waste-drum]
    """
    for tag, piece in waste_drums(audited):
        if piece.start_date_on is None:
            message = f"waste drum {quoted(tag)} does not say where the day of its first waste stands"
            yield Found(str(tag), tag.span, message, "write it under 'start_date_on': the tag or list on the drum")

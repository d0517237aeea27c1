"""A waste drum that nobody takes away."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.waste import waste_drums
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.problems import quoted


@rule(
    Family.LABELS,
    Weight.SHOULD,
    practice("who takes a waste away, and on what terms, is settled before the first drop is poured in"),
)
def waste_route(audited: Audited) -> Iterator[Found]:
    """A waste drum says who takes it away, and on what terms.

    A drum that nobody will take is one day emptied down a drain. Which carrier may take it, and with which papers, is
    for local law and the carrier.

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
            route: A licensed carrier, called when it is three quarters full
        # procedures/filling/example.yaml
        needs: [second-waste-drum]
    """
    for tag, piece in waste_drums(audited):
        if piece.route is None:
            message = f"waste drum {quoted(tag)} does not say who takes it away"
            yield Found(str(tag), tag.span, message, "write under 'route' who takes it, when, and with which papers")

"""A tank or drum whose leak runs over the floor."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.trays import standing, trays, wanted
from tankside.audit.rule import Family, Found, Weight, memory, practice, read, rule
from tankside.compute.facts import quantity
from tankside.loading.values import Text
from tankside.model.facts import Piece
from tankside.plant.judging.faults import listed, volume
from tankside.plant.parts import litres
from tankside.problems import quoted


@rule(
    Family.EMERGENCIES,
    Weight.SHOULD,
    read(
        "40 CFR 264", "section 175(b)(3)", "containment holds the largest container or 10 % of all, whichever is more"
    ),
    practice("so for raw materials and products as well; the local fire code comes first"),
    memory("40 CFR 264", "section 175", "the paragraph is law for stored hazardous waste alone"),
)
def containment_small(audited: Audited) -> Iterator[Found]:
    """Each tank and drum with a hazardous liquid stands over a tray that catches what leaks.

    A tray is a piece of the kind `tray`; `under` names what stands on it, and `capacity` is what it catches. It
    must hold at least the largest container on it, or a tenth of all of them where that is more. A liquid is
    hazardous when its label has a signal word.

    The free volume counts: what stands inside takes its own away. The local fire code may ask for more, and comes
    first.

    Fails:
        # procedures/plant/equipment.yaml
        equipment:
          tray-1:
            kind: tray
            name: Tray of the waste drum
            under: [waste-drum]
            capacity: 60 L

    Passes:
        # procedures/plant/equipment.yaml
        equipment:
          tray-1:
            kind: tray
            name: Tray of the waste drum
            under: [waste-drum]
            capacity: 220 L
    """
    all_ = trays(audited)
    caught = {str(tag) for piece in all_.values() for tag in piece.under}
    for tag in standing(audited):
        if tag not in caught:
            message = f"{quoted(tag)} holds a hazardous liquid and stands over no tray"
            yield Found(str(tag), tag.span, message, f"set a tray under it, and name {tag} under 'under' of the tray")
    for tag, tray in all_.items():
        yield from _small(audited, tag, tray)


def _small(audited: Audited, tag: Text, tray: Piece) -> Iterator[Found]:
    least = wanted(audited, tray)
    if least is None:
        return
    need = volume(litres(least))
    if tray.capacity is None:
        message = f"the tray {quoted(tag)} does not say what it catches"
        yield Found(str(tag), tag.span, message, f"write its capacity, {need} or more")
    elif quantity(tray.capacity, "volume").value < least.value:
        on_it = listed(map(str, tray.under))
        message = f"the tray {quoted(tag)} catches {quoted(tray.capacity)}, and under {on_it} it must catch {need}"
        yield Found(str(tag), tray.capacity.span, message, f"take a tray that catches {need} or more")

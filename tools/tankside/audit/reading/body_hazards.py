"""Hazard statements that are about eyes and skin, and materials that ask for nothing against them."""

from collections.abc import Collection, Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.wearing import signed
from tankside.audit.rule import Found
from tankside.model.facts import Hazard
from tankside.problems import quoted

#: codes of the UN GHS, from memory: burns skin and eyes, damages eyes, irritates eyes
EYE_CODES = frozenset({"H314", "H318", "H319"})
#: from memory: fatal, toxic, harmful in contact with skin; burns, irritates it, may cause an allergy of it
SKIN_CODES = frozenset({"H310", "H311", "H312", "H314", "H315", "H317"})


def unprotected(audited: Audited, codes: Collection[str], sign: str, part: str, protection: str) -> Iterator[Found]:
    """Return the materials whose label has one of the codes, and which list nothing with a sign under `wear`."""
    for name, material in audited.plant.materials.materials.items():
        hazards = tuple(each for each in material.hazards if _is_one_of(each, codes))
        if hazards and not signed(audited.plant, material.wear, sign):
            places = (*material.wear, hazards[0].code)
            yield Found(
                str(name),
                places[0].span,
                f"{quoted(name)} harms {part}, {hazards[0].code}, and its 'wear' lists no {protection}, sign {sign}",
                f"add the {protection} that section 8 of its data sheet asks for",
            )


def _is_one_of(hazard: Hazard, codes: Collection[str]) -> bool:
    """Whether a statement has one of the codes; `H360FD` begins as `H360`."""
    return hazard.code[:4] in codes

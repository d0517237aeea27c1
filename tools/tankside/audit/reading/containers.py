"""Containers that people fill and carry, and whether their labels say what is in them and what it does."""

import re
from collections.abc import Iterator, Mapping

from tankside.audit.audited import Audited
from tankside.loading.values import Text
from tankside.model.facts import Material, Piece

#: containers that are filled, carried or stored; tanks are stationary, and their label hangs on for one lot
CARRIED = ("pail", "measure", "bottles", "drum")
_WORD = re.compile(r"[^\W\d_]{3,}")
#: hazard statement -> beginnings of words, one of which tells people what it means; the rest is not for people's bodies
_TELLING: Mapping[str, str] = {
    **dict.fromkeys(("H300", "H301", "H302", "H303", "H304", "H305"), "swallow poison toxic harmful mouth drink"),
    **dict.fromkeys(("H310", "H311", "H312", "H313"), "skin poison toxic harmful touch"),
    **dict.fromkeys(("H330", "H331", "H332", "H333"), "breath inhal poison toxic harmful gas lung"),
    "H314": "burn corros",
    **dict.fromkeys(("H315", "H316"), "skin irritat burn"),
    "H317": "allerg skin",
    "H318": "eye blind",
    **dict.fromkeys(("H319", "H320"), "eye irritat"),
    "H334": "breath asthma allerg lung",
    "H335": "breath cough lung throat airway irritat",
    "H336": "drows dizz breath vapour vapor",
    **dict.fromkeys(("H224", "H225", "H226", "H227", "H228"), "flam fire ignit"),
    **dict.fromkeys(("H270", "H271", "H272"), "fire oxidi"),
    **dict.fromkeys(("EUH031", "EUH032"), "acid gas chlorine"),
}


def containers(audited: Audited) -> Iterator[tuple[Text, Piece]]:
    """Return the containers that hold a hazardous material by what is listed under `holds`."""
    for tag, piece in audited.plant.equipment.equipment.items():
        if piece.kind in CARRIED and audited.rehearsal.setting.hazardous.intersection(piece.holds):
            yield tag, piece


def hazardous_in(audited: Audited, piece: Piece) -> Iterator[tuple[Text, Material]]:
    """Return the hazardous materials that a piece holds."""
    for name in piece.holds:
        if name in audited.rehearsal.setting.hazardous:
            yield name, audited.plant.materials.materials[name]


def unnamed_in(audited: Audited, piece: Piece) -> tuple[str, ...]:
    """Return the hazardous materials that a label does not name; a waste that it names stands for all that it is of."""
    said = _words(piece.label or "")
    held = tuple(hazardous_in(audited, piece))
    met = [name for name, each in held if _words(each.name) <= said or _words(name) <= said]
    if any(audited.plant.materials.materials[name].kind == "waste" for name in met):
        return ()
    return tuple(str(name) for name, _ in held if name not in met)


def untold_in(audited: Audited, piece: Piece) -> tuple[str, ...]:
    """Return the hazard statements of what a piece holds of which its label has no word, with what they say."""
    said = (piece.label or "").lower()
    found: dict[str, str] = {}
    for _, material in hazardous_in(audited, piece):
        for hazard in material.hazards:
            telling = _TELLING.get(re.sub(r"[A-Za-z]+$", "", hazard.code), "").split()
            if telling and not any(re.search(rf"\b{word}", said) for word in telling):
                found.setdefault(str(hazard.code), f"{hazard.code} {hazard.says}")
    return tuple(found.values())


def _words(text: str) -> frozenset[str]:
    return frozenset(_WORD.findall(text.lower()))

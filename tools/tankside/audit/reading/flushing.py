"""What burns eyes and skin, where it may reach a person, and the eyewashes and showers that serve there."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.hazard_statements import codes_of
from tankside.audit.reading.substances import ACID, CAUSTIC, is_of
from tankside.audit.rule import Found
from tankside.loading.values import Text
from tankside.model.claims import VESSELS, read_claim
from tankside.model.facts import Material, Materials, Piece
from tankside.model.steps import Step
from tankside.plant.judging.faults import listed
from tankside.problems import Span, quoted

EYES = "eyes"
BODY = "body"
#: part of the body -> hazard statements of what does lasting harm to it: burns of skin and eyes, damage to eyes alone
BURNS: Mapping[str, frozenset[str]] = {EYES: frozenset({"H314", "H318"}), BODY: frozenset({"H314"})}
#: what the water for each part is called
CALLED: Mapping[str, str] = {EYES: "eyewash", BODY: "shower"}


@dataclass(frozen=True)
class Met:
    """A step at which materials may reach the person."""

    #: id of the procedure
    at: str
    step: Step
    materials: frozenset[str]
    #: the pieces of equipment where that is
    tags: frozenset[str]
    is_emergency: bool


def corrosives(audited: Audited, part: str) -> frozenset[str]:
    """Return the materials that burn a part of the body.

    A raw acid or alkali without any hazard statement counts as well: nobody has read its data sheet.
    """
    materials = audited.plant.materials
    return frozenset(str(name) for name, each in materials.materials.items() if _burns(materials, each, part))


def _burns(materials: Materials, material: Material, part: str) -> bool:
    codes = codes_of(material)
    is_unread = not codes and material.kind == "raw" and is_of(materials, material, ACID | CAUSTIC)
    return bool(codes & BURNS[part]) or is_unread


def stations(audited: Audited, part: str) -> Mapping[Text, Piece]:
    """Return what flushes a part of the body; a piece of the kind eyewash that does not say what flushes eyes."""
    found = audited.plant.equipment.equipment.items()
    return {tag: piece for tag, piece in found if piece.kind == "eyewash" and part in (piece.flushes or EYES)}


def met(audited: Audited, materials: frozenset[str]) -> Iterator[Met]:
    """Return the steps at which any of these materials may reach the person, in the order of their procedures."""
    for procedure in audited.procedures:
        exposed = audited.rehearsal.of(str(procedure.procedure)).exposed
        for each in placed(procedure):
            found = [one for one in exposed.get(str(each.step.name), ()) if one.materials & materials]
            if found:
                yield Met(
                    str(procedure.procedure),
                    each.step,
                    frozenset[str]().union(*(one.materials & materials for one in found)),
                    frozenset[str]().union(*(one.tags for one in found)),
                    procedure.is_emergency,
                )


def first_met(audited: Audited, materials: frozenset[str]) -> Iterator[Met]:
    """Return of each procedure the first step at which any of these materials may reach the person."""
    seen: set[str] = set()
    for each in met(audited, materials):
        if each.at not in seen:
            seen.add(each.at)
            yield each


def unserved(audited: Audited, part: str) -> Iterator[Found]:
    """Return the vessels that hold what burns a part of the body and that nothing serves, and the steps at such places.

    A place is found once in each procedure, at the first step there.
    """
    served = {str(tag) for piece in stations(audited, part).values() for tag in piece.serves}
    burning = corrosives(audited, part)
    for tag, piece in audited.plant.equipment.equipment.items():
        held = burning.intersection(piece.holds)
        if piece.kind in VESSELS and held and tag not in served:
            yield _unserved(part, str(tag), tag.span, str(tag), f"which may hold {listed(sorted(held))}")
    said: set[tuple[str, str]] = set()
    for each in met(audited, burning):
        for place in sorted(each.tags - served):
            if (each.at, place) not in said:
                said.add((each.at, place))
                why = f"where {listed(sorted(each.materials))} may reach the person"
                yield _unserved(part, each.at, each.step.span, place, why)


def _unserved(part: str, at: str, span: Span, tag: str, why: str) -> Found:
    hint = f"name {tag} under 'serves' of the {CALLED[part]} that is in reach, or set one up there"
    return Found(at, span, f"no {CALLED[part]} serves {quoted(tag)}, {why}", hint)


def found_in_order(step: Step) -> frozenset[str]:
    """Return what a step finds or leaves in order."""
    claims = map(read_claim, (*step.finds, *step.leaves))
    return frozenset(str(tag) for claim in claims if claim.state == "in order" for tag in claim.subjects)

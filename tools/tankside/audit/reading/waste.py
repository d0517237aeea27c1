"""Waste: the drums that take it in, and the groups that must never come into them."""

from collections.abc import Iterator
from itertools import product

from tankside.audit.audited import Audited
from tankside.loading.values import Text
from tankside.model.facts import Material, Materials, Piece
from tankside.plant.reactivity import PAIRS

#: lowest and highest pH of a waste that is not corrosive by it (40 CFR 261.22(a)(1), read): at these it is
LOWEST = 2
HIGHEST = 12.5


def waste_drums(audited: Audited) -> Iterator[tuple[Text, Piece]]:
    """Return the drums that take in waste: named under `waste` of a procedure, or with a waste under `holds`."""
    materials = audited.plant.materials.materials
    into = {str(each.waste.into) for each in audited.procedures if each.waste is not None}
    for tag, piece in audited.plant.equipment.equipment.items():
        if piece.kind == "drum" and (tag in into or any(materials[name].kind == "waste" for name in piece.holds)):
            yield tag, piece


def wastes(materials: Materials) -> Iterator[tuple[Text, Material]]:
    """Return the materials that are waste."""
    return ((name, each) for name, each in materials.materials.items() if each.kind == "waste")


def forbidden_with(materials: Materials, held: frozenset[str]) -> frozenset[str]:
    """Return the groups that must never meet one of these, by the book's own list or the published table."""
    own = {frozenset(map(str, each.groups)) for each in materials.never_meet}
    published = {pair.kinds for pair in PAIRS}
    found = set()
    for group, other in product(map(str, materials.groups), held):
        kinds = product(_stands_for(materials, group), _stands_for(materials, other))
        if group != other and ({group, other} in own or any(frozenset(pair) in published for pair in kinds)):
            found.add(group)
    return frozenset(found) - held


def groups_in(materials: Materials, piece: Piece) -> frozenset[str]:
    """Return the reactivity groups of what a piece holds."""
    return frozenset(str(group) for name in piece.holds for group in materials.materials[name].groups)


def _stands_for(materials: Materials, group: str) -> tuple[str, ...]:
    return next(tuple(map(str, each.stands_for)) for name, each in materials.groups.items() if name == group)

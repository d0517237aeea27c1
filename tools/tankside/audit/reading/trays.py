"""Trays under tanks and drums: what stands on them, and what they catch."""

from collections.abc import Iterator, Mapping

from tankside.audit.audited import Audited
from tankside.compute.facts import quantity
from tankside.loading.values import Text
from tankside.model.facts import Piece
from tankside.quantities.calculation import calculate
from tankside.quantities.given import Listed
from tankside.quantities.registry import HELPERS
from tankside.units import Quantity

#: what stands in its place with so much liquid that a leak reaches the floor and the drain
STANDING = ("tank", "drum")


def trays(audited: Audited) -> Mapping[Text, Piece]:
    """Return the trays with their tags."""
    return {tag: piece for tag, piece in audited.plant.equipment.equipment.items() if piece.kind == "tray"}


def standing(audited: Audited) -> Iterator[Text]:
    """Return the tags of the tanks and drums that may hold a hazardous liquid."""
    for tag, piece in audited.plant.equipment.equipment.items():
        if piece.kind in STANDING and audited.rehearsal.setting.hazardous.intersection(piece.holds):
            yield tag


def wanted(audited: Audited, tray: Piece) -> Quantity | None:
    """Return what a tray has to catch: the largest that stands on it, or a tenth of all; None when nothing does."""
    pieces = (audited.plant.equipment.equipment[tag] for tag in tray.under)
    volumes = tuple(quantity(piece.capacity, "volume") for piece in pieces if piece.capacity is not None)
    if not volumes:
        return None
    return calculate(HELPERS["containment"], {"containers": Listed(volumes)}).results["volume"]

"""An amount as JSON, for the page to work it out again for another value of its input (``amounts.js``)."""

from collections.abc import Mapping

from tankside.compute.facts import quantity
from tankside.compute.measuring import Measured, measuring_range
from tankside.loading.values import Text
from tankside.model.facts import Equipment
from tankside.quantities.given import Given, facts_of
from tankside.quantities.helper import Helper
from tankside.quantities.portable import Portable, portable, portable_quantity
from tankside.units import Quantity


def live_calculation(helper: Helper, given: Given, sources: Mapping[str, str]) -> Portable:
    """Return how an amount is worked out.

    Args:
        helper: what works it out.
        given: all values; those of ``sources`` for the usual value of the input.
        sources: argument -> the input or the amount that it comes from.
    """
    constants = (facts_of(name, worth) for name, worth in given.items() if name not in sources)
    return {
        "given": {name: portable_quantity(each) for found in constants for name, each in found.items()},
        "open": dict(sources),
        "form": portable(helper, given, sources),
    }


def live_vessel(equipment: Equipment, rounding: Measured, tolerance: Text) -> Portable:
    """Return what an amount is measured with, and how far that may be off."""
    kind = rounding.graduation.unit.kind.name
    piece = equipment.equipment[rounding.tag]
    low, high = measuring_range(piece, kind)
    return {
        "tag": str(rounding.tag),
        "direction": rounding.direction,
        "graduation": portable_quantity(rounding.graduation),
        "tolerance": portable_quantity(quantity(tolerance, kind)),
        "accuracy": _if_given(None if piece.accuracy is None else quantity(piece.accuracy, kind)),
        "low": _if_given(low),
        "high": _if_given(high),
    }


def live_receiver(equipment: Equipment, tag: Text) -> Portable:
    """Return what an amount is collected in; None when the equipment does not say how much that holds."""
    piece = equipment.equipment.get(tag)
    if piece is None or piece.capacity is None:
        return None
    return {"tag": str(tag), "capacity": portable_quantity(quantity(piece.capacity, "volume"))}


def _if_given(value: Quantity | None) -> Portable:
    return None if value is None else portable_quantity(value)

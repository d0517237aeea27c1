"""The same volume or mass in the other system of units, to be shown beside it."""

from typing import Final

from tankside.units import UNITS, Quantity

#: Unit -> its counterparts, the larger one for values of at least one of it.
_COUNTERPARTS: Final = {
    **dict.fromkeys(("mL", "L", "m3", "UK fl oz", "UK gal"), ("US gal", "US fl oz")),
    **dict.fromkeys(("US fl oz", "US pt", "US qt", "US gal", "in3", "ft3"), ("L", "mL")),
    **dict.fromkeys(("mg", "g", "kg"), ("lb", "oz")),
    **dict.fromkeys(("oz", "lb"), ("kg", "g")),
}


def counterpart(quantity: Quantity) -> Quantity | None:
    """Return the quantity in the other system, or None where there is none to show."""
    if quantity.unit.symbol not in _COUNTERPARTS:
        return None
    large, small = (UNITS[symbol] for symbol in _COUNTERPARTS[quantity.unit.symbol])
    return Quantity(quantity.value, large if abs(quantity.value) >= large.factor else small)

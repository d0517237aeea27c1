"""Stock and water put together without a mark to make up to."""

from types import MappingProxyType

from tankside.quantities.expression import Expression, Name
from tankside.quantities.helper import ABOVE_ZERO, Argument, AtMost, Below, Helper, Result, Trees, Variant, helper
from tankside.quantities.strengths import PER_VOLUME
from tankside.units import STRENGTHS

_STRONGER_STOCK = "take a stronger stock or ask for a weaker target"


@helper(
    task="Mix a batch",
    arguments=(
        Argument("stock", PER_VOLUME, "strength of the stock, as measured", "5 %w/v", low=ABOVE_ZERO),
        Argument("target", PER_VOLUME, "strength wanted", "1 %w/v", low=ABOVE_ZERO),
        Argument("water", ("volume",), "water that is there already", "1 L", low=ABOVE_ZERO),
    ),
    results=(
        Result("stock_volume", "L", "nearest", "stock to add to the water", like=("water",)),
        Result("total_volume", "L", "up", "what is there afterwards, about", like=("water",)),
    ),
    variants=tuple(
        Variant(MappingProxyType({"stock": kind, "target": kind, "water": "volume"})) for kind in PER_VOLUME
    ),
    conditions=(Below("target", "stock", "is not below", _STRONGER_STOCK),),
    choice="give stock and target both in %w/v, g/L or mg/L, or both in %v/v",
)
def dilute_into(stock: Expression, target: Expression, water: Expression) -> Trees:
    """Return the volume of stock to add to a given volume of water.

    ``stock_volume = water * target / (stock - target)``, ``total_volume = water + stock_volume``; the water stays
    and the total grows.

    Args:
        stock: strength of the stock, measured, not read from the label [%w/v, g/L, mg/L, or %v/v], above 0.
        target: strength wanted [%w/v, g/L, mg/L, or %v/v], above 0 and below the stock's.
        water: water that is there already [L], above 0.

    Returns:
        stock_volume: stock to add to the water [unit of water].
        total_volume: what is there afterwards, about [unit of water]; the vessel has to hold it.

    Raises:
        OutOfDomainError: the target is not below the stock's strength, or a value is not above 0.
        KindsMismatchError: the two strengths are of kinds that cannot be compared.

    Limits:
        for stock *added to* water: made up to a mark is a different strength, see dilute. Volumes count as
        additive; strong acids, alkalis and alcohol contract: make those up to a mark or by mass. Stock into
        water, never water into stock. A strength by label never goes into a batch without a measurement.

    Source:
        mass balance; the CDC recipe for bleach added to a gallon or quart of water; order of addition: Public Health
        Ontario, page on dilution of bleach.

    Example:
        tankside calc dilute-into stock="5 %w/v" target="1 %w/v" water="1 L"
        stock_volume 0.25 L, total_volume 1.25 L
    """
    return {
        "stock_volume": water * target / (stock - target),
        "total_volume": water + Name("stock_volume"),
    }


@helper(
    task="Mix a batch",
    arguments=(
        Argument("stock", STRENGTHS, "strength of the stock, as measured", "3.5 %w/v", low=ABOVE_ZERO),
        Argument("target", STRENGTHS, "strength wanted", "0.5 %w/v", low=ABOVE_ZERO),
    ),
    results=(Result("parts", "", "down", "parts of water to one part of stock"),),
    variants=tuple(Variant(MappingProxyType({"stock": kind, "target": kind})) for kind in STRENGTHS),
    conditions=(AtMost("target", "stock", "is stronger than", _STRONGER_STOCK),),
    choice="give stock and target both in %w/v, g/L or mg/L, both in %v/v, or both in %w/w",
)
def water_parts(stock: Expression, target: Expression) -> Trees:
    """Return the parts of water to one part of stock.

    ``parts = stock / target - 1``

    Args:
        stock: strength of the stock, measured, not read from the label [%w/v, g/L, mg/L, %v/v or %w/w], above 0.
        target: strength wanted [%w/v, g/L, mg/L, %v/v or %w/w], above 0, at most the stock's.

    Returns:
        parts: parts of water to one part of stock, by volume; by mass where the strengths are in %w/w.

    Raises:
        OutOfDomainError: the target is stronger than the stock, or a value is not above 0.
        KindsMismatchError: the two strengths are of different kinds.

    Limits:
        parts *added*, so 1 part of stock and 9 of water are "1 in 10". By volume it supposes that volumes add up;
        by mass it is exact. A strength by label never goes into a batch without a measurement.

    Source:
        CDC and WHO, Best Practices for Environmental Cleaning in Global Healthcare Facilities, appendix E.

    Example:
        tankside calc water-parts stock="3.5 %w/v" target="0.5 %w/v"
        parts 6
    """
    return {"parts": stock / target - 1}


HELPERS: tuple[Helper, ...] = (dilute_into, water_parts)

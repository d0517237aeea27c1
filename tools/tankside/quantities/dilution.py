"""Dilutions made up to a mark."""

from types import MappingProxyType

from tankside.quantities.expression import Expression, Name
from tankside.quantities.helper import ABOVE_ZERO, Argument, AtMost, Helper, Result, Trees, Variant, helper
from tankside.units import STRENGTHS

_DENSITY = "mass concentration"


@helper(
    task="Mix a batch",
    arguments=(
        Argument("stock", STRENGTHS, "strength of the stock, as measured", "400 g/L", low=ABOVE_ZERO),
        Argument("target", ("mass concentration", "volume fraction"), "strength wanted", "40 g/L", low=ABOVE_ZERO),
        Argument("make", ("volume",), "volume of finished solution", "12 L", low=ABOVE_ZERO),
        Argument("stock_density", (_DENSITY,), "density of a %w/w stock", "1.18 kg/L", required=False, low=ABOVE_ZERO),
    ),
    results=(
        Result("stock_volume", "L", "nearest", "stock to measure out", like=("make",)),
        Result("water_volume", "L", "nearest", "water to start with, about; then make up to the mark", like=("make",)),
    ),
    variants=(
        Variant(
            MappingProxyType({"stock": "mass concentration", "target": "mass concentration", "make": "volume"}),
        ),
        Variant(
            MappingProxyType({"stock": "volume fraction", "target": "volume fraction", "make": "volume"}),
        ),
        Variant(
            MappingProxyType(
                {
                    "stock": "mass fraction",
                    "target": "mass concentration",
                    "make": "volume",
                    "stock_density": _DENSITY,
                }
            ),
            stands_for=MappingProxyType({"stock": Name("stock") * Name("stock_density")}),
        ),
    ),
    conditions=(AtMost("target", "stock", "is stronger than", "take a stronger stock or ask for a weaker target"),),
    choice="give stock and target both in %w/v, g/L or mg/L, or both in %v/v, "
    "or stock in %w/w with stock_density and target in g/L",
)
def dilute(stock: Expression, target: Expression, make: Expression) -> Trees:
    """Return the volume of stock for a dilution that is made up to a volume.

    ``stock_volume = make * target / stock``, ``water_volume = make - stock_volume``; a stock in %w/w counts
    as ``stock * stock_density``.

    Args:
        stock: strength of the stock, measured, not read from the label [%w/v, g/L, mg/L, or %v/v, or %w/w], above 0.
        target: strength wanted [%w/v, g/L, mg/L, or %v/v], above 0, at most the stock's.
        make: volume of finished solution [L], above 0.
        stock_density: density of the stock [kg/L], above 0; asked for with a stock in %w/w and only then.

    Returns:
        stock_volume: stock to measure out [unit of make].
        water_volume: water to start with, about [unit of make]; then make up to the mark, because the
        volumes of stock and water need not add up exactly.

    Raises:
        OutOfDomainError: the target is stronger than the stock, or a value is not above 0.
        KindsMismatchError: the two strengths are of kinds that cannot be compared.

    Limits:
        holds for a solution made up to the mark at the temperature its strength was measured at. Strong acids
        and alkalis heat up and contract: make those up by mass. Not for water *added to* a stock.

    Source:
        mass balance; CDC and WHO, Best Practices for Environmental Cleaning in Global Healthcare Facilities,
        appendix E.

    Example:
        tankside calc dilute stock="400 g/L" target="40 g/L" make="12 L"
        stock_volume 1.2 L, water_volume 10.8 L
    """
    return {
        "stock_volume": make * target / stock,
        "water_volume": make - Name("stock_volume"),
    }


HELPERS: tuple[Helper, ...] = (dilute,)

"""The density of water, and mass from volume."""

from types import MappingProxyType
from typing import Final

from tankside.quantities.expression import Expression, constant
from tankside.quantities.helper import ABOVE_ZERO, Argument, Bound, Helper, Result, Trees, Variant, helper
from tankside.units import UNITS

_DENSITY: Final = "mass concentration"


@helper(
    task="Fill and weigh",
    arguments=(
        Argument(
            "temperature",
            ("temperature",),
            "temperature of the water",
            "20 degC",
            low=Bound(UNITS["degC"].offset, inclusive=True),
            high=Bound(UNITS["degC"].offset + 40, inclusive=True),
        ),
    ),
    results=(Result("density", "kg/m3", "nearest", "density of pure water at one atmosphere"),),
    variants=(Variant(MappingProxyType({"temperature": "temperature"})),),
)
def water_density(temperature: Expression) -> Trees:
    """Return the density of pure water between 0 and 40 degC.

    ``density = a5 * (1 - (t + a1)**2 * (t + a2) / (a3 * (t + a4)))`` with t in degC, a1 = -3.983035 degC,
    a2 = 301.797 degC, a3 = 522528.9 degC**2, a4 = 69.34881 degC, a5 = 999.974950 kg/m3.

    Args:
        temperature: temperature of the water [degC, degF], 0 to 40 degC.

    Returns:
        density: density of pure water at one atmosphere [kg/m3].

    Raises:
        OutOfDomainError: the temperature is not between 0 and 40 degC.

    Limits:
        pure water at 101.325 kPa, free of air; good to 0.001 kg/m3. Air in the water makes it up to 0.005 kg/m3
        lighter; each 100 mg/L of dissolved salts makes it about 0.08 kg/m3 heavier (both from memory). Never the
        density of a product: weigh that.

    Source:
        M. Tanaka, G. Girard, R. Davis, A. Peuto, N. Bignell, Recommended table for the density of water between 0 degC
        and 40 degC, Metrologia 38 (2001) 301; coefficients from memory, agreeing with several second-hand copies.

    Example:
        tankside calc water-density temperature="20 degC"
        density ≈ 998.207 kg/m3
    """
    # A coefficient is added in print; taken away it may be a temperature of its own, so kelvins fit too.
    squared = (temperature - constant("3.983035 degC")) ** 2
    above = squared * (temperature - constant("-301.797 degC"))
    below = constant("522528.9 K") * constant("1 K") * (temperature - constant("-69.34881 degC"))
    return {"density": constant("999.974950 kg/m3") * (1 - above / below)}


@helper(
    task="Fill and weigh",
    arguments=(
        Argument("density", (_DENSITY,), "density of the liquid", "1.05 kg/L", low=ABOVE_ZERO),
        Argument("volume", ("volume",), "volume of it", "946.353 mL", required=False, low=ABOVE_ZERO),
        Argument("mass", ("mass",), "mass of it", "20 kg", required=False, low=ABOVE_ZERO),
    ),
    results=(
        Result("mass", "kg", "nearest", "what that volume weighs"),
        Result("volume", "L", "nearest", "how much room that mass takes"),
    ),
    variants=(
        Variant(MappingProxyType({"density": _DENSITY, "volume": "volume"})),
        Variant(MappingProxyType({"density": _DENSITY, "mass": "mass"})),
    ),
)
def mass_volume(density: Expression, volume: Expression | None = None, mass: Expression | None = None) -> Trees:
    """Return the mass of a volume, or the volume of a mass.

    ``mass = density * volume``, ``volume = mass / density``

    Args:
        density: density of the liquid at the temperature of the volume [kg/L], above 0.
        volume: volume of it [L], above 0; give volume or mass.
        mass: mass of it [kg], above 0; give volume or mass.

    Returns:
        mass: what that volume weighs [kg], when a volume is given.
        volume: how much room that mass takes [L], when a mass is given.

    Raises:
        OutOfDomainError: a value is not above 0.
        ArgumentMissingError: neither volume nor mass is given.
        ArgumentNotUsedError: both are given.

    Limits:
        density and volume at one temperature; labelled volumes are meant at 20 degC. A specific gravity is no
        density: multiply it by the density of water at its reference temperature. No buoyancy of air, which makes
        a reading in air 0.1 % low.

    Source:
        definition of density; volumes at 20 degC: Directive 76/211/EEC, annex I, 2.2; buoyancy from memory.

    Example:
        tankside calc mass-volume density="998.2071 kg/m3" volume="946.353 mL"
        mass ≈ 0.944656 kg
    """
    if volume is not None:
        return {"mass": density * volume}
    assert mass is not None, "each form has a volume or a mass"
    return {"volume": mass / density}


HELPERS: tuple[Helper, ...] = (water_density, mass_volume)

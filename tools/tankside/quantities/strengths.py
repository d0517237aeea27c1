"""How strong a liquid is: made from a stock, brought to another unit, reached with a powder."""

from collections.abc import Iterator
from types import MappingProxyType
from typing import Final

from tankside.quantities.expression import Expression, Name
from tankside.quantities.helper import (
    ABOVE_ZERO,
    FROM_ZERO,
    Argument,
    AtMost,
    Bound,
    Helper,
    Result,
    Trees,
    Variant,
    helper,
)
from tankside.units import UNITS

#: Strengths that a volume has only to be multiplied by to give what is in it.
PER_VOLUME: Final = ("mass concentration", "volume fraction")
_DENSITY: Final = "mass concentration"
#: Units a strength can be brought to with nothing but a density.
_WORDS: Final = ("%w/w", "%w/v", "g/L", "mg/L", "mg/kg")


@helper(
    task="Mix a batch",
    arguments=(
        Argument("stock", PER_VOLUME, "strength of the stock, as measured", "5 %w/v", low=ABOVE_ZERO),
        Argument("stock_volume", ("volume",), "stock that goes in", "400 mL", low=ABOVE_ZERO),
        Argument("make", ("volume",), "volume it is made up to", "20 L", required=False, low=ABOVE_ZERO),
        Argument("water", ("volume",), "water it is added to", "20 L", required=False, low=FROM_ZERO),
    ),
    results=(Result("strength", "g/L", "nearest", "strength of what was made", like=("stock",)),),
    variants=tuple(
        Variant(
            MappingProxyType({"stock": kind, "stock_volume": "volume", way: "volume"}),
            units=MappingProxyType({"strength": unit}),
        )
        for kind, unit in zip(PER_VOLUME, ("g/L", "%v/v"), strict=True)
        for way in ("make", "water")
    ),
    conditions=(AtMost("stock_volume", "make", "is more than", "give make the whole volume, the stock included"),),
    choice="give the stock in %w/v, g/L or mg/L, or in %v/v; convert-strength turns %w/w into g/L",
)
def strength_made(
    stock: Expression, stock_volume: Expression, make: Expression | None = None, water: Expression | None = None
) -> Trees:
    """Return the strength of a solution made from a stock.

    ``strength = stock * stock_volume / make`` when it is *made up to* a volume,
    ``strength = stock * stock_volume / (stock_volume + water)`` when it is *added to* water.

    Args:
        stock: strength of the stock, measured, not read from the label [%w/v, g/L, mg/L, or %v/v], above 0.
        stock_volume: stock that goes in [L], above 0, at most make.
        make: volume it is made up to, the stock included [L], above 0; give make or water.
        water: water it is added to, the stock not included [L], from 0; give make or water.

    Returns:
        strength: strength of what was made [unit of stock].

    Raises:
        OutOfDomainError: more stock than is made, or a value is not in its range.
        ArgumentMissingError: neither make nor water is given.
        ArgumentNotUsedError: both are given.

    Limits:
        "made up to 1 L" and "added to 1 L" are two strengths; read the recipe again when it does not say which.
        Added to water, the volumes count as additive; strong acids, alkalis and alcohol contract: make those up
        to a mark or by mass. A strength by label never goes into a batch without a measurement.

    Source:
        mass balance; CDC, page on making a 0.1 % chlorine solution (made up to); CDC and WHO, Best Practices for
        Environmental Cleaning in Global Healthcare Facilities, appendix E (parts of water added).

    Example:
        tankside calc strength-made stock="5 %w/v" stock_volume="400 mL" make="20 L"
        strength 0.1 %w/v
    """
    if make is not None:
        return {"strength": stock * stock_volume / make}
    assert water is not None, "each form has make or water"
    return {"strength": stock * stock_volume / (stock_volume + water)}


@helper(
    task="Mix a batch",
    arguments=(
        Argument("purity", ("mass fraction",), "share of the active in the powder", "70 %w/w", low=ABOVE_ZERO),
        Argument("target", ("mass concentration",), "strength wanted", "1 g/L", low=ABOVE_ZERO),
        Argument("make", ("volume",), "volume of finished solution", "20 L", low=ABOVE_ZERO),
    ),
    results=(Result("powder_mass", "g", "nearest", "powder to weigh out; dissolve, then make up to the mark"),),
    variants=(
        Variant(MappingProxyType({"purity": "mass fraction", "target": "mass concentration", "make": "volume"})),
    ),
)
def dissolve(purity: Expression, target: Expression, make: Expression) -> Trees:
    """Return the mass of powder for a solution that is made up to a volume.

    ``powder_mass = target * make / purity``

    Args:
        purity: share of the active in the powder [%w/w], above 0 and at most 100 %w/w.
        target: strength wanted [%w/v, g/L, mg/L], above 0.
        make: volume of finished solution [L], above 0.

    Returns:
        powder_mass: powder to weigh out [g]; dissolve it in less water, then make up to the mark.

    Raises:
        OutOfDomainError: a value is not above 0, or the purity is above 100 %w/w.

    Limits:
        the powder has to dissolve: compare with its solubility at the temperature of the water. Water of
        crystals counts as powder, not as active. Some powders lose strength in store: a strength by label never
        goes into a batch without a measurement of what was made.

    Source:
        mass balance; CDC and WHO, Best Practices for Environmental Cleaning in Global Healthcare Facilities,
        appendix E: grams for a litre are target over powder, times 1000.

    Example:
        tankside calc dissolve purity="35 %w/w" target="0.5 %w/v" make="1 L"
        powder_mass ≈ 14.2857 g
    """
    return {"powder_mass": target * make / purity}


def _conversions() -> Iterator[Variant]:
    """Yield a form for each kind of strength and each unit wanted, the unit deciding what is done with the density."""
    strength, density = Name("strength"), Name("density")
    for kind, across in (("mass fraction", strength * density), ("mass concentration", strength / density)):
        for word in _WORDS:
            kinds, unit = {"strength": kind, "to": word}, MappingProxyType({"strength": word})
            if UNITS[word].kind.name == kind:
                yield Variant(MappingProxyType(kinds), units=unit)
                yield Variant(MappingProxyType(kinds | {"density": _DENSITY}), units=unit)
            else:
                stands_for = MappingProxyType({"strength": across})
                yield Variant(MappingProxyType(kinds | {"density": _DENSITY}), stands_for, unit)


@helper(
    task="Mix a batch",
    arguments=(
        Argument("strength", ("mass fraction", "mass concentration"), "strength to convert", "142 g/L", low=FROM_ZERO),
        Argument(
            "density",
            (_DENSITY,),
            "density of the liquid itself",
            "1.196 kg/L",
            required=False,
            low=Bound(UNITS["kg/L"].factor / 2, inclusive=True),
            high=Bound(UNITS["kg/L"].factor * 3, inclusive=True),
        ),
        Argument("to", _WORDS, "unit wanted", "%w/w", choices=_WORDS),
    ),
    results=(Result("strength", "g/L", "nearest", "the same strength in the unit wanted"),),
    variants=tuple(_conversions()),
    conditions=(AtMost("strength", "density", "is more than", "look for a wrong value or unit"),),
)
def convert_strength(strength: Expression) -> Trees:
    """Return a strength in another unit, by mass or by volume.

    ``strength = strength * density`` from a share by mass to mass per volume, ``strength = strength / density``
    the other way, ``strength = strength`` between units of one kind.

    Args:
        strength: strength to convert [%w/w, mg/kg, or %w/v, g/L, mg/L], from 0, at most the density.
        density: density of the liquid itself at the temperature of the volume [kg/L], 0.5 to 3 kg/L; asked for
            between %w/w or mg/kg on one side and %w/v, g/L or mg/L on the other.
        to: unit wanted, one of %w/w, %w/v, g/L, mg/L, mg/kg.

    Returns:
        strength: the same strength [the unit named by to].

    Raises:
        OutOfDomainError: the strength is more than the density, or a value is not in its range.
        ArgumentMissingError: a density is needed and not given.
        ChoiceUnknownError: the unit wanted is none of the five.

    Limits:
        the density of the solution, not of water and not of the active, at one temperature. It does not turn one
        active into another: sodium hypochlorite and available chlorine are two strengths of one bleach. A
        strength by label never goes into a batch without a measurement.

    Source:
        definitions of mass fraction and mass concentration; a supplier's profile of bleach, after White, Handbook of
        Chlorination: wt % available chlorine is g/L over ten times the specific gravity.

    Example:
        tankside calc convert-strength strength="142 g/L" density="1.196 kg/L" to="%w/w"
        strength ≈ 11.8729 %w/w
    """
    return {"strength": strength}


HELPERS: tuple[Helper, ...] = (strength_made, dissolve, convert_strength)

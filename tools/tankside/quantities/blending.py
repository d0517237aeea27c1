"""Two strengths blended into one, and a batch brought to its strength."""

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType

from tankside.quantities.expression import Expression, Name, choose
from tankside.quantities.helper import (
    ABOVE_ZERO,
    FROM_ZERO,
    Argument,
    AtMost,
    Below,
    Helper,
    Result,
    Trees,
    Variant,
    helper,
)
from tankside.quantities.strengths import PER_VOLUME


@helper(
    task="Mix a batch",
    arguments=(
        Argument("strong", PER_VOLUME, "strength of the stronger one, as measured", "70 %v/v", low=ABOVE_ZERO),
        Argument("weak", PER_VOLUME, "strength of the weaker one, as measured", "40 %v/v", low=FROM_ZERO),
        Argument("target", PER_VOLUME, "strength wanted", "60 %v/v", low=FROM_ZERO),
        Argument("make", ("volume",), "volume of the blend", "300 mL", low=ABOVE_ZERO),
    ),
    results=(
        Result("strong_volume", "L", "nearest", "of the stronger one", like=("make",)),
        Result("weak_volume", "L", "nearest", "of the weaker one, about", like=("make",)),
    ),
    variants=tuple(
        Variant(MappingProxyType({"strong": kind, "weak": kind, "target": kind, "make": "volume"}))
        for kind in PER_VOLUME
    ),
    conditions=(
        Below("weak", "strong", "is not below", "exchange the two, or take others"),
        AtMost("target", "strong", "is stronger than", "take a stronger one or ask for a weaker target"),
        AtMost("weak", "target", "is stronger than", "take a weaker one, or water, or ask for a stronger target"),
    ),
    choice="give strong, weak and target all in %w/v, g/L or mg/L, or all in %v/v",
)
def blend_two(strong: Expression, weak: Expression, target: Expression, make: Expression) -> Trees:
    """Return the volumes of two strengths of one liquid that blend into a third.

    ``strong_volume = make * (target - weak) / (strong - weak)``, ``weak_volume = make - strong_volume``

    Args:
        strong: strength of the stronger one, measured, not read from the label [%w/v, g/L, mg/L, or %v/v], above 0.
        weak: strength of the weaker one, as measured [kind of strong], from 0 (water) to below strong.
        target: strength wanted [kind of strong], from weak to strong.
        make: volume of the blend [L], above 0.

    Returns:
        strong_volume: of the stronger one [unit of make].
        weak_volume: of the weaker one, about [unit of make].

    Raises:
        OutOfDomainError: the weaker one is not below the stronger one, or the target is not between the two.
        KindsMismatchError: the strengths are of kinds that cannot be compared.

    Limits:
        two strengths of the same active, and of liquids that may meet. Volumes count as additive; alcohol, strong
        acids and alkalis contract: put the weaker one in to a mark, or blend by mass. A strength by label never
        goes into a batch without a measurement.

    Source:
        alligation, also called Pearson's square, in textbooks of pharmacy and dairying; mass balance.

    Example:
        tankside calc blend-two strong="70 %v/v" weak="40 %v/v" target="60 %v/v" make="300 mL"
        strong_volume 200 mL, weak_volume 100 mL
    """
    return {
        "strong_volume": make * (target - weak) / (strong - weak),
        "weak_volume": make - Name("strong_volume"),
    }


def _what_to_add(values: Mapping[str, Fraction]) -> Mapping[str, str]:
    now, wanted = values["strength_now"], values["strength_wanted"]
    return {"add": "nothing" if now == wanted else "water" if now > wanted else "stock"}


@helper(
    task="Mix a batch",
    arguments=(
        Argument("volume", ("volume",), "what is in the tank", "200 L", low=ABOVE_ZERO),
        Argument("strength_now", PER_VOLUME, "its strength, as measured", "44 g/L", low=FROM_ZERO),
        Argument("strength_wanted", PER_VOLUME, "strength wanted", "40 g/L", low=ABOVE_ZERO),
        Argument("stock", PER_VOLUME, "strength of the stock, as measured", "400 g/L", required=False, low=ABOVE_ZERO),
    ),
    results=(
        Result("add_volume", "L", "down", "to add, then measure again", like=("volume",)),
        Result("final_volume", "L", "up", "what is in the tank afterwards, about", like=("volume",)),
    ),
    variants=tuple(
        Variant(
            MappingProxyType({"volume": "volume", "strength_now": kind, "strength_wanted": kind, **stock}),
        )
        for kind in PER_VOLUME
        for stock in ({}, {"stock": kind})
    ),
    conditions=(
        AtMost(
            "strength_wanted",
            "strength_now",
            "is stronger than",
            "add stock, the strength of what is put in to bring it up",
            unless="stock",
        ),
        Below("strength_wanted", "stock", "is not below", "take a stronger stock"),
    ),
    choice="give all strengths in %w/v, g/L or mg/L, or all in %v/v",
    words=_what_to_add,
)
def adjust_strength(
    volume: Expression, strength_now: Expression, strength_wanted: Expression, stock: Expression | None = None
) -> Trees:
    """Return how much water or stock brings a batch to its strength.

    ``add_volume = volume * (strength_now - strength_wanted) / strength_wanted`` of water when it is too strong,
    ``add_volume = volume * (strength_wanted - strength_now) / (stock - strength_wanted)`` of stock when it is too
    weak, ``final_volume = volume + add_volume``.

    Args:
        volume: what is in the tank [L], above 0.
        strength_now: its strength, measured after mixing [%w/v, g/L, mg/L, or %v/v], from 0.
        strength_wanted: strength wanted [kind of strength_now], above 0.
        stock: strength of the stock, measured, not read from the label [kind of strength_now], above the strength
            wanted; asked for when the batch is too weak.

    Returns:
        add: what to add: water, stock or nothing.
        add_volume: how much of it to add [unit of volume]; add a little less, mix, and measure again.
        final_volume: what is in the tank afterwards, about [unit of volume]; the tank has to hold it.

    Raises:
        OutOfDomainError: the batch is too weak and no stock is given, the stock is not stronger than what is
            wanted, or a value is not in its range.
        KindsMismatchError: the strengths are of kinds that cannot be compared.

    Limits:
        counts everything that is in the tank when the strength is measured. Volumes count as additive. A
        measurement of the adjusted batch releases it, never this number; a strength by label never goes into a
        batch without a measurement.

    Source:
        mass balance over what is there and what is added.

    Example:
        tankside calc adjust-strength volume="200 L" strength_now="44 g/L" strength_wanted="40 g/L"
        add water, add_volume 20 L, final_volume 220 L
    """
    water = volume * (strength_now - strength_wanted) / strength_wanted
    add = (
        water
        if stock is None
        else choose(
            strength_wanted, strength_now, water, volume * (strength_wanted - strength_now) / (stock - strength_wanted)
        )
    )
    return {"add_volume": add, "final_volume": volume + Name("add_volume")}


HELPERS: tuple[Helper, ...] = (blend_two, adjust_strength)

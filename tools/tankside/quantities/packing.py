"""What a batch gives: bottles, what to lay out for them, and the yield afterwards."""

from itertools import combinations
from types import MappingProxyType
from typing import Final

from tankside.quantities.expression import Expression, Name, round_down, round_up, total
from tankside.quantities.helper import (
    ABOVE_ZERO,
    BELOW_ONE,
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

_TASK: Final = "Pack and ship"
_SIZES: Final = ("volume", "mass")
_ONE_OR_MORE: Final = Bound(ABOVE_ZERO.value + 1, inclusive=True)


def _bottling(kind: str, losses: str | None) -> Variant:
    kinds = {"batch": kind, "nominal": kind, **({} if losses is None else {"losses": losses})}
    share = {"losses": Name("losses") * Name("batch")} if losses == "ratio" else {}
    units = {"left_over": "L" if kind == "volume" else "kg"}
    return Variant(MappingProxyType(kinds), MappingProxyType(share), MappingProxyType(units))


@helper(
    task=_TASK,
    arguments=(
        Argument("batch", _SIZES, "size of the batch", "60 L", low=ABOVE_ZERO),
        Argument("nominal", _SIZES, "what goes into one bottle", "500 mL", low=ABOVE_ZERO),
        Argument("losses", ("ratio", *_SIZES), "what does not reach a bottle", "3 %", required=False, low=FROM_ZERO),
    ),
    results=(
        Result("bottles", "", "down", "full bottles"),
        Result("left_over", "L", "nearest", "left over, less than one bottle", like=("batch",)),
    ),
    variants=tuple(_bottling(kind, losses) for kind in _SIZES for losses in (None, "ratio", kind)),
    conditions=(AtMost("losses", "batch", "are more than", "give smaller losses or a larger batch"),),
    choice="give batch, nominal and losses all as volumes or all as masses; losses may also be a share in %",
)
def bottles_from(batch: Expression, nominal: Expression, losses: Expression | None = None) -> Trees:
    """Return how many full bottles a batch gives, and what is left over.

    ``bottles = (batch - losses) / nominal`` rounded down to whole bottles, ``left_over = batch - losses -
    bottles * nominal``; losses in % count as ``losses * batch``.

    Args:
        batch: size of the batch [L, kg], above 0.
        nominal: what goes into one bottle [mL, g], above 0; the content to fill to, where that is more than the label
        says.
        losses: what stays in tank and line or is spilled, sampled or thrown away [%, L, kg], from 0 to the batch.

    Returns:
        bottles: full bottles, a whole number.
        left_over: what is left over, less than one bottle [unit of batch].

    Raises:
        OutOfDomainError: batch or nominal is not above 0, or the losses are below 0 or more than the batch.
        KindsMismatchError: some are volumes and some are masses.

    Limits:
        exact for the sizes given; a bottle filled over its label takes more.

    Source:
        mass balance.

    Example:
        tankside calc bottles-from batch="5 L" nominal="0.35 L" losses="5 %"
        bottles 13, left_over 0.2 L
    """
    filled = batch if losses is None else batch - losses
    return {
        "bottles": round_down(filled / nominal, 1),
        "left_over": filled - Name("bottles") * nominal,
    }


@helper(
    task=_TASK,
    arguments=(
        Argument("bottles", ("ratio",), "bottles to be filled", "114", low=_ONE_OR_MORE, is_whole=True),
        Argument(
            "spoilage", ("ratio",), "share of caps and labels that is spoiled", "2 %", low=FROM_ZERO, high=BELOW_ONE
        ),
        Argument("per_carton", ("ratio",), "bottles in one carton", "12", False, low=_ONE_OR_MORE, is_whole=True),
    ),
    results=(
        Result("caps", "", "up", "caps to lay out"),
        Result("labels", "", "up", "labels to lay out and to account for"),
        Result("cartons", "", "up", "cartons, the last one perhaps not full"),
    ),
    variants=(
        Variant(MappingProxyType({"bottles": "ratio", "spoilage": "ratio"})),
        Variant(MappingProxyType({"bottles": "ratio", "spoilage": "ratio", "per_carton": "ratio"})),
    ),
)
def packaging_for(bottles: Expression, spoilage: Expression, per_carton: Expression | None = None) -> Trees:
    """Return the caps, labels and cartons to lay out for so many bottles.

    ``caps = bottles / (1 - spoilage)``, ``labels = caps``, ``cartons = bottles / per_carton``; each rounded up to a
    whole one.

    Args:
        bottles: bottles to be filled, a whole number from 1.
        spoilage: share of the caps and labels taken that is spoiled while they are put on [%], from 0 and below 100 %.
        per_carton: bottles in one carton, a whole number from 1; cartons are worked out where it is given.

    Returns:
        caps: caps to lay out, a whole number.
        labels: labels to lay out, a whole number; issued, used, spoiled and returned ones have to add up.
        cartons: cartons, a whole number.

    Raises:
        OutOfDomainError: bottles or per_carton is no whole number from 1, or spoilage is not from 0 and below 100 %.

    Limits:
        the share is of those taken, so that enough good ones are left. Caps and labels share one spoilage.

    Source:
        bookkeeping; the share that is spoiled is the workshop's own figure.

    Example:
        tankside calc packaging-for bottles=114 spoilage="2 %" per_carton=12
        caps 117, labels 117, cartons 10
    """
    cartons = {} if per_carton is None else {"cartons": round_up(bottles / per_carton, 1)}
    return {"caps": round_up(bottles / (1 - spoilage), 1), "labels": Name("caps"), **cartons}


def _yields(kind: str) -> tuple[Variant, ...]:
    required = ("theoretical", "packed")
    optional = [names for count in range(3) for names in combinations(("samples", "losses"), count)]
    return tuple(Variant(MappingProxyType(dict.fromkeys((*required, *names), kind))) for names in optional)


@helper(
    task=_TASK,
    arguments=(
        Argument("theoretical", _SIZES, "what the recipe should have given", "60 L", low=ABOVE_ZERO),
        Argument("packed", _SIZES, "what was packed", "57 L", low=FROM_ZERO),
        Argument("samples", _SIZES, "what was taken as samples", "0.5 L", required=False, low=FROM_ZERO),
        Argument("losses", _SIZES, "what was measured as lost", "1.8 L", required=False, low=FROM_ZERO),
    ),
    results=(
        Result("yield", "%", "down", "packed, of the theoretical yield"),
        Result("accounted_for", "%", "nearest", "packed, sampled or measured as lost"),
    ),
    variants=tuple(variant for kind in _SIZES for variant in _yields(kind)),
    choice="give all of them as volumes or all as masses",
)
def batch_yield(
    theoretical: Expression,
    packed: Expression,
    samples: Expression | None = None,
    losses: Expression | None = None,
) -> Trees:
    """Return the yield of a batch, and how much of it is accounted for.

    ``yield = packed / theoretical``, ``accounted_for = (packed + samples + losses) / theoretical``

    Args:
        theoretical: what the recipe should have given [L, kg], above 0.
        packed: what was packed, by count and mean content [L, kg], from 0.
        samples: what was taken as samples and kept back [L, kg], from 0.
        losses: what was measured as lost: heel, line, spills, rejects [L, kg], from 0.

    Returns:
        yield: packed, of the theoretical yield [%].
        accounted_for: packed, sampled or lost, of the theoretical yield [%].

    Raises:
        OutOfDomainError: theoretical is not above 0, or another value is below 0.
        KindsMismatchError: some are volumes and some are masses.

    Limits:
        more than 100 % is not refused: it shows that something was measured wrongly, or that an older lot was still in
        the line. The limits within which a lot is released stand in its master record; no law sets them.

    Source:
        mass balance; 21 CFR 211.103 asks for actual and theoretical yield, worked out by one person and checked by a
        second.

    Example:
        tankside calc batch-yield theoretical="100 kg" packed="96.4 kg" samples="1.2 kg" losses="1.9 kg"
        yield 96.4 %, accounted_for 99.5 %
    """
    found = [packed, *(each for each in (samples, losses) if each is not None)]
    return {
        "yield": packed / theoretical,
        "accounted_for": total(found) / theoretical,
    }


HELPERS: tuple[Helper, ...] = (bottles_from, packaging_for, batch_yield)

"""What a line holds, and what it takes to flush it."""

from types import MappingProxyType

from tankside.quantities.expression import PI, Expression, ln
from tankside.quantities.helper import (
    ABOVE_ZERO,
    BELOW_ONE,
    FROM_ZERO,
    Argument,
    Helper,
    Result,
    Trees,
    Variant,
    helper,
)


@helper(
    task="Clean and flush",
    arguments=(
        Argument("bore", ("length",), "inside diameter of the line", "25.4 mm", low=ABOVE_ZERO),
        Argument("length", ("length",), "length of the line", "3.2 m", low=ABOVE_ZERO),
        Argument(
            "extra", ("volume",), "what pump, filter and fittings hold besides", "0.3 L", required=False, low=FROM_ZERO
        ),
    ),
    results=(Result("volume", "L", "up", "what the line holds when full", like=("extra",)),),
    variants=(
        Variant(MappingProxyType({"bore": "length", "length": "length"})),
        Variant(MappingProxyType({"bore": "length", "length": "length", "extra": "volume"})),
    ),
)
def line_volume(bore: Expression, length: Expression, extra: Expression | None = None) -> Trees:
    """Return what a line holds when it is full.

    ``volume = pi / 4 * bore**2 * length + extra``

    Args:
        bore: inside diameter [mm, in], above 0; measure it, a nominal size is not a bore.
        length: length of the line [m, ft], above 0.
        extra: what pump, filter and fittings hold besides [L], from 0.

    Returns:
        volume: what the line holds when full [unit of extra, else L].

    Raises:
        OutOfDomainError: bore or length is not above 0, or extra is below 0.

    Limits:
        a round line of one bore, full. A hose under pressure widens and holds more.

    Source:
        volume of a cylinder.

    Example:
        tankside calc line-volume bore="102.2604 mm" length="1 m"
        volume ≈ 8.21306 L
    """
    full = PI / 4 * bore**2 * length
    return {"volume": full if extra is None else full + extra}


@helper(
    task="Clean and flush",
    arguments=(
        Argument("volume", ("volume",), "what the line or vessel holds", "1.6 L", low=ABOVE_ZERO),
        Argument("remaining", ("ratio",), "share of the old liquid left", "5 %", low=ABOVE_ZERO, high=BELOW_ONE),
    ),
    results=(Result("flush_volume", "L", "up", "estimate of the liquid to run through", like=("volume",)),),
    variants=(Variant(MappingProxyType({"volume": "volume", "remaining": "ratio"})),),
)
def flush_volume(volume: Expression, remaining: Expression) -> Trees:
    """Return an estimate of the liquid to run through until little of the old liquid is left.

    ``flush_volume = volume * ln(1 / remaining)``

    Args:
        volume: what the line or vessel holds [L], above 0.
        remaining: share of the old liquid that may be left [%], above 0 and below 100 %.

    Returns:
        flush_volume: liquid to run through [unit of volume]; an estimate.

    Raises:
        OutOfDomainError: volume is not above 0, or remaining is not between 0 and 100 %.

    Limits:
        an estimate: it supposes perfect mixing at every moment. A dead leg, a pocket or a closed branch
        keeps its liquid however much is run through. A measurement releases the line, never this number.

    Source:
        continuous dilution with perfect mixing: what is left falls as exp(-Q t / V). The purge table of CDC,
        Guidelines for Environmental Infection Control in Health-Care Facilities (2003), table B.1, is the same law.

    Example:
        tankside calc flush-volume volume="1.6 L" remaining="5 %"
        flush_volume ≈ 4.79317 L
    """
    return {"flush_volume": volume * ln(1 / remaining)}


HELPERS: tuple[Helper, ...] = (line_volume, flush_volume)

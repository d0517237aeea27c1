"""What rinsing leaves behind, for pairs where a rinse that fails does no harm."""

from fractions import Fraction
from types import MappingProxyType
from typing import Final

from tankside.quantities.expression import Expression, Name, fewest
from tankside.quantities.helper import (
    ABOVE_ZERO,
    BELOW_ONE,
    Argument,
    AtMost,
    Bound,
    Helper,
    Result,
    Trees,
    Variant,
    helper,
)

#: More rinses than this are no plan, and their numbers grow without end.
_MOST_RINSES: Final = Bound(Fraction(100), inclusive=True)
_LEAST_RINSES: Final = Bound(Fraction(1), inclusive=True)
#: Less than one part in a thousand million is no matter of a formula.
_LEAST_REMAINING: Final = Bound(Fraction(1, 10**9), inclusive=True)
#: The largest heel that a rinse is thought to mix with, under the name the condition has for it.
_LARGEST_HEEL: Final = MappingProxyType({"largest_heel": 10 * Name("rinse")})

_HEEL: Final = Argument("heel", ("volume", "mass"), "what stays behind after draining", "2 L", low=ABOVE_ZERO)
_RINSE: Final = Argument("rinse", ("volume", "mass"), "clean water of one rinse", "25 L", low=ABOVE_ZERO)
_CHOICE: Final = "give heel and rinse both as a volume or both as a mass"


@helper(
    task="Clean and flush",
    arguments=(
        _HEEL,
        _RINSE,
        Argument("count", ("ratio",), "how many rinses", "3", low=_LEAST_RINSES, high=_MOST_RINSES, is_whole=True),
    ),
    results=(Result("remaining", "%", "up", "estimate of the share of the old liquid left"),),
    variants=tuple(Variant(MappingProxyType({"heel": kind, "rinse": kind, "count": "ratio"})) for kind in _HEEL.kinds),
    choice=_CHOICE,
)
def rinse_remaining(heel: Expression, rinse: Expression, count: Name) -> Trees:
    """Return an estimate of the share of the old liquid that is left after some rinses.

    ``remaining = (heel / (heel + rinse))**count``

    Args:
        heel: what stays behind after draining [L, kg], above 0; the same before and after each rinse.
        rinse: clean water of one rinse [L, kg], above 0.
        count: how many rinses, a whole number from 1 to 100.

    Returns:
        remaining: share of the old liquid left in the heel [%]; an estimate.

    Raises:
        OutOfDomainError: heel or rinse is not above 0, or count is no whole number from 1 to 100.
        KindsMismatchError: one of heel and rinse is a volume, the other a mass.

    Limits:
        an estimate: it supposes that each rinse mixes fully with the heel and that the same heel stays behind each
        time. A dead leg, a pocket, a film or a residue that does not dissolve keeps more. A measurement releases
        the vessel, never this number. Only for pairs that do no harm should the rinse fail: hypochlorite and an
        acid, ammonia, an amine or a peroxide are never parted by a rinse, they have equipment of their own.

    Source:
        mass balance with perfect mixing, as for rinses after drag-out in metal finishing. The triple rinse of
        40 CFR 165.25(f) is judged by the same share left.

    Example:
        tankside calc rinse-remaining heel="2 L" rinse="25 L" count=3
        remaining ≈ 0.0406442 %
    """
    return {"remaining": (heel / (heel + rinse)) ** count}


@helper(
    task="Clean and flush",
    arguments=(
        _HEEL,
        _RINSE,
        Argument(
            "remaining", ("ratio",), "share of the old liquid left", "0.01 %", low=_LEAST_REMAINING, high=BELOW_ONE
        ),
    ),
    results=(Result("count", "", "up", "fewest rinses that do, by estimate"),),
    variants=tuple(
        Variant(MappingProxyType({"heel": kind, "rinse": kind, "remaining": "ratio"}), stands_for=_LARGEST_HEEL)
        for kind in _HEEL.kinds
    ),
    conditions=(
        AtMost("heel", "largest_heel", "is more than ten times", "drain more away or take more water for a rinse"),
    ),
    choice=_CHOICE,
)
def rinse_count(heel: Expression, rinse: Expression, remaining: Expression) -> Trees:
    """Return the fewest rinses after which little enough of the old liquid is left, by estimate.

    ``count`` is the smallest whole number with ``(heel / (heel + rinse))**count <= remaining``

    Args:
        heel: what stays behind after draining [L, kg], above 0, at most ten times ``rinse``.
        rinse: clean water of one rinse [L, kg], above 0.
        remaining: share of the old liquid that may be left [%], from 0.0000001 % to below 100 %.

    Returns:
        count: how many rinses, a whole number; an estimate.

    Raises:
        OutOfDomainError: heel or rinse is not above 0, the heel is more than ten times the rinse, or remaining is
        out of its range.
        KindsMismatchError: one of heel and rinse is a volume, the other a mass.

    Limits:
        an estimate: it supposes that each rinse mixes fully with the heel and that the same heel stays behind each
        time. A dead leg, a pocket, a film or a residue that does not dissolve needs more. A measurement releases
        the vessel, never this number. Only for pairs that do no harm should the rinse fail: hypochlorite and an
        acid, ammonia, an amine or a peroxide are never parted by a rinse, they have equipment of their own.

    Source:
        mass balance with perfect mixing, as for rinses after drag-out in metal finishing. The triple rinse of
        40 CFR 165.25(f) is judged by the same share left.

    Example:
        tankside calc rinse-count heel="2 L" rinse="25 L" remaining="0.01 %"
        count 4
    """
    return {"count": fewest(heel / (heel + rinse), remaining)}


HELPERS: tuple[Helper, ...] = (rinse_remaining, rinse_count)

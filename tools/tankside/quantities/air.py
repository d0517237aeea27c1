"""Air: how often it changes, how long that takes, and what people breathe."""

from fractions import Fraction
from types import MappingProxyType
from typing import Final

from tankside.quantities.expression import Expression, constant, ln, total
from tankside.quantities.helper import (
    ABOVE_ZERO,
    BELOW_ONE,
    FROM_ZERO,
    Argument,
    Bound,
    Helper,
    Result,
    TotalAtMost,
    Trees,
    Variant,
    helper,
)

_TASK: Final = "Air and exposure"
_AIRBORNE: Final = ("share in air", "mass concentration")
_Pairs = tuple[tuple[Expression, Expression], ...]


@helper(
    task=_TASK,
    arguments=(
        Argument("flow", ("flow",), "air that the exhaust takes out, as measured", "240 cfm", low=ABOVE_ZERO),
        Argument("room", ("volume",), "length times width times height of the room", "1440 ft3", low=ABOVE_ZERO),
    ),
    results=(Result("air_changes", "1/h", "down", "air changes"),),
    variants=(Variant(MappingProxyType({"flow": "flow", "room": "volume"})),),
)
def air_changes(flow: Expression, room: Expression) -> Trees:
    """Return how many times an hour the air of a room is changed.

    ``air_changes = flow / room``

    Args:
        flow: air that the exhaust takes out, measured at the opening [m3/h, cfm], above 0.
        room: volume of the room [m3, ft3], above 0.

    Returns:
        air_changes: air changes an hour [1/h].

    Raises:
        OutOfDomainError: flow or room is not above 0.

    Limits:
        a mean over the room: a corner that the air does not reach is not changed at all. A fan's rating is not its flow
        once duct and filter are on.

    Source:
        CDC, Guidelines for Environmental Infection Control in Health-Care Facilities (2003), appendix B.

    Example:
        tankside calc air-changes flow="240 cfm" room="1440 ft3"
        air_changes 10 1/h
    """
    return {"air_changes": flow / room}


@helper(
    task=_TASK,
    arguments=(
        Argument("air_changes", ("rate",), "air changes an hour", "6 1/h", low=ABOVE_ZERO),
        Argument("removal", ("ratio",), "share to be removed", "99 %", low=ABOVE_ZERO, high=BELOW_ONE),
        Argument(
            "mixing",
            ("ratio",),
            "1 for perfect mixing, up to 10 for poor air distribution",
            "3",
            low=Bound(Fraction(1), inclusive=True),
            high=Bound(Fraction(10), inclusive=True),
        ),
    ),
    results=(Result("time", "min", "up", "to thin out what is in the air; never a clock for going back in"),),
    variants=(Variant(MappingProxyType({"air_changes": "rate", "removal": "ratio", "mixing": "ratio"})),),
)
def purge_time(air_changes: Expression, removal: Expression, mixing: Expression) -> Trees:
    """Return how long an exhaust takes to remove a share of what is in the air of a room.

    ``time = mixing * ln(1 / (1 - removal)) / air_changes``

    Args:
        air_changes: air changes an hour [1/h], above 0.
        removal: share to be removed [%], above 0 and below 100 %.
        mixing: how much longer it takes than with perfect mixing, from 1 to 10; a judgement about this room, so it is
        asked for and never supposed.

    Returns:
        time: time until that share is gone [min].

    Raises:
        OutOfDomainError: air_changes is not above 0, removal is not between 0 and 100 %, or mixing is not from 1 to 10.

    Limits:
        never a clock for going back in after a toxic release: only a measurement by somebody trained and protected for
        it opens the room. Holds when nothing gives off any more; a puddle goes on.

    Source:
        CDC, Guidelines for Environmental Infection Control in Health-Care Facilities (2003), table B.1, and MMWR 1994,
        table S3-1; both print whole minutes, to the nearest.

    Example:
        tankside calc purge-time air_changes="6 1/h" removal="99 %" mixing=3
        time ≈ 138.155 min
    """
    return {"time": mixing * ln(1 / (1 - removal)) / air_changes}


@helper(
    task=_TASK,
    arguments=(
        Argument("concentration", ("share in air",), "measured concentration in air", "0.5 ppm", low=FROM_ZERO),
        Argument("molar_mass", ("molar mass",), "molar mass of the substance", "70.906 g/mol", low=ABOVE_ZERO),
    ),
    results=(Result("mass_concentration", "mg/m3", "up", "the same as a mass in air"),),
    variants=(Variant(MappingProxyType({"concentration": "share in air", "molar_mass": "molar mass"})),),
)
def vapour(concentration: Expression, molar_mass: Expression) -> Trees:
    """Return the mass of a gas or vapour in air from its parts in a million.

    ``mass_concentration = concentration * molar_mass / (24.45 L/mol)``

    Args:
        concentration: concentration in air, measured [ppm], from 0.
        molar_mass: molar mass of the substance [g/mol], above 0.

    Returns:
        mass_concentration: mass in a volume of air [mg/m3].

    Raises:
        OutOfDomainError: concentration is below 0 or above 1,000,000 ppm, or molar_mass is not above 0.

    Limits:
        at 25 degC and 1 atm, where a mole of gas fills 24.45 L. For gases and vapours, not for mist or dust.

    Source:
        NIOSH, Pocket Guide to Chemical Hazards, conversion factors.

    Example:
        tankside calc vapour concentration="0.5 ppm" molar_mass="70.906 g/mol"
        mass_concentration ≈ 1.45002 mg/m3
    """
    return {"mass_concentration": concentration * molar_mass / constant("24.45 L/mol")}


_MEASURED_AND_LIMIT: Final = ("ratio", *_AIRBORNE)


@helper(
    task=_TASK,
    arguments=(
        Argument(
            "pairs",
            tuple(f"{kind} / {kind}" for kind in _MEASURED_AND_LIMIT),
            "measured concentration and limit of each substance",
            "500 ppm/1000 ppm, 45 ppm/200 ppm",
            pair_kinds=(_MEASURED_AND_LIMIT, _MEASURED_AND_LIMIT),
            lows=MappingProxyType({"first": FROM_ZERO, "second": ABOVE_ZERO}),
        ),
    ),
    results=(Result("index", "", "up", "of the limit of the mixture, which is 1"),),
    variants=tuple(Variant(MappingProxyType({"pairs": f"{kind} / {kind}"})) for kind in _MEASURED_AND_LIMIT),
    choice="give both halves of every pair in ppm, or in mg/m3, or as bare numbers in one unit",
)
def mixture_exposure(pairs: _Pairs) -> Trees:
    """Return how much of the limit a mixture in the air takes up.

    ``index = measured / limit``, added up over the substances

    Args:
        pairs: measured concentration and limit of each substance, a stroke between them [ppm, mg/m3, or bare numbers in
        one unit], measured from 0, limit above 0.

    Returns:
        index: at most 1 when the mixture is within its limit.

    Raises:
        OutOfDomainError: a measured value is below 0, or a limit is not above 0.
        KindsMismatchError: one half is in ppm and the other in mg/m3, or the pairs differ.

    Limits:
        for substances that harm in the same way; those that do not are judged one by one. Both halves are for the same
        span of time: a mean over 8 hours with a mean over 8 hours, a ceiling with a ceiling.

    Source:
        29 CFR 1910.1000(d)(2).

    Example:
        tankside calc mixture-exposure pairs="500/1000, 45/200, 40/200"
        index 0.925
    """
    return {"index": total([measured / limit for measured, limit in pairs])}


@helper(
    task=_TASK,
    arguments=(
        Argument(
            "pairs",
            tuple(f"time / {kind}" for kind in _AIRBORNE),
            "time and concentration of each part of the shift",
            "2 h/150 ppm, 2 h/75 ppm, 4 h/50 ppm",
            pair_kinds=(("time",), _AIRBORNE),
            lows=MappingProxyType({"first": ABOVE_ZERO, "second": FROM_ZERO}),
        ),
    ),
    results=(Result("average", "ppm", "up", "mean over 8 hours; hours not listed count as none"),),
    variants=(
        Variant(MappingProxyType({"pairs": "time / share in air"})),
        Variant(MappingProxyType({"pairs": "time / mass concentration"}), units=MappingProxyType({"average": "mg/m3"})),
    ),
    conditions=(TotalAtMost("pairs", constant("24 h"), "list the parts of one shift"),),
    choice="give every concentration in ppm or every one in mg/m3",
)
def shift_average(pairs: _Pairs) -> Trees:
    """Return the mean concentration over a shift of 8 hours.

    ``average = time * concentration``, added up over the parts of the shift, ``/ 8 h``

    Args:
        pairs: time and concentration of each part of the shift, a stroke between them [h or min, ppm or mg/m3], time
        above 0 and together at most 24 h, concentration from 0.

    Returns:
        average: mean over 8 hours [ppm, or mg/m3].

    Raises:
        OutOfDomainError: a time is not above 0, the times add up to more than 24 h, or a concentration is below 0.
        KindsMismatchError: some concentrations are in ppm and some in mg/m3.

    Limits:
        hours that are not listed count as without exposure; a longer shift is still divided by 8 h, which makes the
        mean higher. Says nothing about a ceiling or a 15-minute limit: those are judged one by one.

    Source:
        29 CFR 1910.1000(d)(1).

    Example:
        tankside calc shift-average pairs="2 h/150 ppm, 2 h/75 ppm, 4 h/50 ppm"
        average 81.25 ppm
    """
    return {"average": total([time * concentration for time, concentration in pairs]) / constant("8 h")}


HELPERS: tuple[Helper, ...] = (air_changes, purge_time, vapour, mixture_exposure, shift_average)

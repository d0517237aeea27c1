"""How long filling, draining and bottling take."""

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from tankside.quantities.expression import Expression, Name, Number, constant, expression, most, root, total
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

#: standard gravity, exact by definition: 3rd General Conference on Weights and Measures (1901)
_GRAVITY: Final = constant("9.80665 m/s2")
#: discharge coefficient of a plain orifice: Mécanique et rhéologie des fluides en génie chimique (Lavoisier), page 51
_PLAIN_ORIFICE: Final = Number(Fraction("0.6"))


@helper(
    task="Tanks and lines",
    arguments=(
        Argument("volume", ("volume",), "what is to run in", "60 L", low=ABOVE_ZERO),
        Argument("flow", ("flow",), "flow into the vessel, measured", "12 L/min", low=ABOVE_ZERO),
    ),
    results=(Result("time", "min", "down", "until it is in; be back before"),),
    variants=(Variant(MappingProxyType({"volume": "volume", "flow": "flow"})),),
)
def fill_time(volume: Expression, flow: Expression) -> Trees:
    """Return how long a volume takes to run in.

    ``time = volume / flow``

    Args:
        volume: what is to run in [L], above 0.
        flow: flow into the vessel [L/min], above 0; measured with a pail and a watch, not read from the pump's plate.

    Returns:
        time: until the volume is in [min]; rounded down, so that whoever shuts the valve is there before.

    Raises:
        OutOfDomainError: volume or flow is not above 0.

    Limits:
        a steady flow. A pump gives less as the level rises against it and more when the supply is full: the level
        ends the filling, never the time, and nobody leaves a tank that is being filled.

    Source:
        definition of a flow.

    Example:
        tankside calc fill-time volume="60 L" flow="12 L/min"
        time 5 min
    """
    return {"time": volume / flow}


_DRAIN_KINDS: Final = MappingProxyType(
    {"tank_area": "area", "outlet_area": "area", "level_from": "length", "level_to": "length"}
)
#: The largest outlet that the formula holds for, under the name the condition has for it.
_LARGEST_OUTLET: Final = MappingProxyType({"largest_outlet": Name("tank_area") / 10})


@helper(
    task="Tanks and lines",
    arguments=(
        Argument("tank_area", ("area",), "area of the liquid's surface", "0.28 m2", low=ABOVE_ZERO),
        Argument("outlet_area", ("area",), "area of the opening", "3 cm2", low=ABOVE_ZERO),
        Argument("level_from", ("length",), "level above the outlet at the start", "80 cm", low=ABOVE_ZERO),
        Argument("level_to", ("length",), "level above the outlet at the end", "5 cm", low=FROM_ZERO),
        Argument(
            "coefficient",
            ("ratio",),
            "discharge coefficient of the outlet",
            "0.6",
            required=False,
            low=ABOVE_ZERO,
            high=Bound(Fraction(1), inclusive=True),
        ),
    ),
    results=(Result("time", "min", "up", "estimate of the time until the level is reached"),),
    variants=(
        Variant(_DRAIN_KINDS, stands_for=_LARGEST_OUTLET),
        Variant(MappingProxyType({**_DRAIN_KINDS, "coefficient": "ratio"}), stands_for=_LARGEST_OUTLET),
    ),
    conditions=(
        AtMost("level_to", "level_from", "is above", "exchange the two levels, or correct one"),
        AtMost(
            "outlet_area", "largest_outlet", "is more than a tenth of", "correct one; the formula is for a small outlet"
        ),
    ),
)
def drain_time(
    tank_area: Expression,
    outlet_area: Expression,
    level_from: Expression,
    level_to: Expression,
    coefficient: Expression = _PLAIN_ORIFICE,
) -> Trees:
    """Return an estimate of how long a tank with upright walls takes to drain through an outlet.

    ``time = tank_area / (coefficient * outlet_area) * (root(2 * level_from / g) - root(2 * level_to / g))`` with
    ``g = 9.80665 m/s2``

    Args:
        tank_area: area of the liquid's surface, the same at every level [m2, ft2], above 0.
        outlet_area: area of the opening [cm2, in2], above 0, at most a tenth of ``tank_area``.
        level_from: level above the middle of the outlet at the start [cm, in], above 0.
        level_to: level above the middle of the outlet at the end [cm, in], from 0 to ``level_from``.
        coefficient: discharge coefficient of the outlet, above 0 to 1; 0.6 of a plain opening when it is not given.

    Returns:
        time: until the level is reached [min]; an estimate.

    Raises:
        OutOfDomainError: a value is out of its range, level_to is above level_from, or the outlet is more than a
        tenth of the tank's area.

    Limits:
        an estimate for water-thin liquids, a vented tank with upright walls and a free outlet without hose. Pipe,
        hose, valve or strainer slow it down. Near the outlet a whirl draws air in and the formula ends. The bottom of
        a cone empties sooner than it says. Open the vent first: a shut tank sucks itself flat.

    Source:
        Torricelli's law, integrated over the level; 0.6 of a plain opening: Mécanique et rhéologie des fluides en
        génie chimique (Lavoisier), page 51, as cited elsewhere. The speed of the surface is left out, at most half
        a per cent for the outlets allowed.

    Example:
        tankside calc drain-time tank_area="0.28 m2" outlet_area="3 cm2" level_from="80 cm" level_to="5 cm"
        time ≈ 7.85408 min
    """
    return {
        "time": tank_area
        / (coefficient * outlet_area)
        * (root(2 * level_from / _GRAVITY) - root(2 * level_to / _GRAVITY))
    }


def _slowest(values: Mapping[str, Fraction]) -> Mapping[str, str]:
    """Return which stations set the pace, counted from 1."""
    numbers = [
        name.partition(".")[2]
        for name, value in values.items()
        if name.startswith("stations.") and value == values["bottleneck"]
    ]
    return {"slowest": f"station{'s' * (len(numbers) > 1)} {' and '.join(numbers)}"}


@helper(
    task="Fill and weigh",
    arguments=(
        Argument(
            "stations", ("time",), "time a bottle at each station", "9 s, 12 s, 7.5 s", low=ABOVE_ZERO, is_list=True
        ),
        Argument("lost", ("ratio",), "share of the time lost", "10 %", required=False, low=FROM_ZERO, high=BELOW_ONE),
    ),
    results=(
        Result("bottleneck", "s", "up", "time a bottle at the slowest station", like=("stations",)),
        Result("rate", "1/h", "down", "bottles an hour"),
        Result("spare", "%", "down", "share of the stations' time spent waiting for the slowest"),
    ),
    variants=(
        Variant(MappingProxyType({"stations": "time"})),
        Variant(MappingProxyType({"stations": "time", "lost": "ratio"})),
    ),
    words=_slowest,
)
def line_rate(stations: tuple[Expression, ...], lost: Expression | None = None) -> Trees:
    """Return how many bottles an hour a line gives, and which station sets the pace.

    ``bottleneck = max(stations)``, ``rate = (1 - lost) / bottleneck``,
    ``spare = 1 - sum(stations) / (number of stations * bottleneck)``

    Args:
        stations: time a bottle at each station, in the order of the line [s], above 0; commas between.
        lost: share of the time lost to changes, breaks and faults [%], from 0, below 100 %; none when it is not given.

    Returns:
        slowest: number of the station that sets the pace; several when they are equally slow.
        bottleneck: time a bottle at the slowest station [unit of the first station].
        rate: bottles an hour [1/h].
        spare: share of the stations' time that is spent waiting for the slowest [%].

    Raises:
        OutOfDomainError: a station's time is not above 0, or lost is not from 0 to below 100 %.
        ListEmptyError: an entry is empty, or there are too many.

    Limits:
        stations in a row, each with its own worker, without stock between them to live on. One person at two stations
        is one station with both times. Measured over many bottles, not the best of a few.

    Source:
        the slowest station sets the pace; spare is what line balancing calls balance delay (from memory).

    Example:
        tankside calc line-rate stations="9 s, 12 s, 7.5 s" lost="10 %"
        slowest station 2, bottleneck 12 s, rate 270 1/h, spare ≈ 20.8333 %
    """
    bottleneck = Name("bottleneck")
    return {
        "bottleneck": most(*stations),
        "rate": 1 / bottleneck if lost is None else (1 - lost) / bottleneck,
        "spare": 1 - total(stations) / (expression(len(stations)) * bottleneck),
    }


HELPERS: tuple[Helper, ...] = (fill_time, drain_time, line_rate)

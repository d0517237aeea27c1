"""What a tank holds at a level, and where a volume comes to stand in it."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from tankside.quantities.expression import (
    PI,
    Expression,
    Name,
    arccos,
    choose,
    cube_root,
    least,
    root,
    segment_depth,
)
from tankside.quantities.helper import ABOVE_ZERO, FROM_ZERO, Argument, AtMost, Helper, Result, Trees, Variant, helper

_LEVEL, _VOLUME = Name("level"), Name("volume")
_DIAMETER, _LENGTH, _CONE_DEPTH = Name("diameter"), Name("length"), Name("cone_depth")
_WIDTH, _HEIGHT = Name("width"), Name("height")

#: Shape -> the sizes it has.
_SIZES: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        "upright": ("diameter", "length"),
        "cone-bottom": ("diameter", "length", "cone_depth"),
        "lying": ("diameter", "length"),
        "box": ("length", "width", "height"),
    }
)
_CIRCLE: Final = PI / 4 * _DIAMETER**2
_TOPS: Final[Mapping[str, Expression]] = MappingProxyType(
    {"upright": _LENGTH, "cone-bottom": _LENGTH + _CONE_DEPTH, "lying": _DIAMETER, "box": _HEIGHT}
)
_CAPACITIES: Final[Mapping[str, Expression]] = MappingProxyType(
    {
        "upright": _CIRCLE * _LENGTH,
        "cone-bottom": _CIRCLE * (_LENGTH + _CONE_DEPTH / 3),
        "lying": _CIRCLE * _LENGTH,
        "box": _LENGTH * _WIDTH * _HEIGHT,
    }
)
_COSINE: Final = 1 - 2 * _LEVEL / _DIAMETER
_VOLUMES: Final[Mapping[str, Expression]] = MappingProxyType(
    {
        "upright": _CIRCLE * _LEVEL,
        "cone-bottom": choose(
            _LEVEL,
            _CONE_DEPTH,
            _CIRCLE * _LEVEL**3 / (3 * _CONE_DEPTH**2),
            _CIRCLE * (_LEVEL - _CONE_DEPTH * 2 / 3),
        ),
        "lying": _LENGTH * (_DIAMETER / 2) ** 2 * (arccos(_COSINE) - _COSINE * root(1 - _COSINE**2)),
        "box": _LENGTH * _WIDTH * _LEVEL,
    }
)
#: A capacity has thirty digits, so that a volume equal to it may pass the true one in the next digit: hence ``least``.
_LEVELS: Final[Mapping[str, Expression]] = MappingProxyType(
    {
        "upright": least(_VOLUME / _CIRCLE, _LENGTH),
        "cone-bottom": choose(
            _VOLUME,
            _CIRCLE * _CONE_DEPTH / 3,
            cube_root(3 * _CONE_DEPTH**2 * _VOLUME / _CIRCLE),
            least(_VOLUME / _CIRCLE + _CONE_DEPTH * 2 / 3, _TOPS["cone-bottom"]),
        ),
        "lying": _DIAMETER * segment_depth(least(_VOLUME / _CAPACITIES["lying"], 1)),
        "box": _VOLUME / (_LENGTH * _WIDTH),
    }
)

_SIZE_ARGUMENTS: Final = (
    Argument("diameter", ("length",), "inside diameter", "60 cm", required=False, low=ABOVE_ZERO),
    Argument("length", ("length",), "inside length of the straight side", "90 cm", required=False, low=ABOVE_ZERO),
    Argument("cone_depth", ("length",), "inside depth of the cone", "25 cm", required=False, low=ABOVE_ZERO),
    Argument("width", ("length",), "inside width of a box", "50 cm", required=False, low=ABOVE_ZERO),
    Argument("height", ("length",), "inside height of a box", "40 cm", required=False, low=ABOVE_ZERO),
)
_SHAPE: Final = Argument("shape", tuple(_SIZES), "shape of the tank", "upright", choices=tuple(_SIZES))
_CHOICE: Final = (
    "give diameter and length of an upright or lying tank, cone_depth too of a cone-bottom one, "
    "or length, width and height of a box"
)


def _variants(given: str, kind: str, limit: str, limits: Mapping[str, Expression]) -> tuple[Variant, ...]:
    """Return a form for each shape; ``limit`` is the name that the condition has for the largest value."""
    return tuple(
        Variant(
            MappingProxyType({"shape": shape, **dict.fromkeys(sizes, "length"), given: kind}),
            stands_for=MappingProxyType({limit: limits[shape]}),
        )
        for shape, sizes in _SIZES.items()
    )


@helper(
    task="Tanks and lines",
    arguments=(
        _SHAPE,
        *_SIZE_ARGUMENTS,
        Argument("level", ("length",), "from the lowest point inside up to the liquid", "50 cm", low=FROM_ZERO),
    ),
    results=(
        Result("volume", "L", "nearest", "what is in the tank"),
        Result("freeboard", "cm", "down", "from the liquid up to the top", like=("level",)),
    ),
    variants=_variants("level", "length", "top", _TOPS),
    conditions=(
        AtMost("level", "top", "is above the top of a tank of", "give a level within the tank, or correct its sizes"),
    ),
    choice=_CHOICE,
)
def tank_volume(shape: str) -> Trees:
    """Return what is in a tank at a level.

    ``upright: pi / 4 * diameter**2 * level``;
    ``cone-bottom: pi / 12 * diameter**2 * level**3 / cone_depth**2`` up to the top of the cone, above it
    ``pi / 4 * diameter**2 * (level - 2/3 * cone_depth)``;
    ``lying: length * (diameter / 2)**2 * (arccos(c) - c * root(1 - c**2))`` with ``c = 1 - 2 * level / diameter``;
    ``box: length * width * level``.

    Args:
        shape: upright (a cylinder with a flat bottom), cone-bottom (an upright cylinder on a cone that
        ends in a point), lying (a cylinder on its side with flat ends) or box.
        diameter: inside diameter of a cylinder [cm, in], above 0.
        length: inside length of the straight side of a cylinder, without the cone, or of a box [cm, in], above 0.
        cone_depth: inside depth of the cone [cm, in], above 0; of a cone-bottom tank and only then.
        width: inside width of a box [cm, in], above 0.
        height: inside height of a box [cm, in], above 0.
        level: from the lowest point inside up to the liquid [cm, in], from 0 up to the top.

    Returns:
        volume: what is in the tank [L].
        freeboard: height left from the liquid up to the top [unit of level].

    Raises:
        OutOfDomainError: a size is not above 0, or the level is below 0 or above the top.
        ArgumentMissingError: a size of the shape is not given.

    Limits:
        a level tank with nothing in it: a mixer, a coil or a dip pipe takes its own volume away. Dished ends
        hold more than flat ones. A dip stick that does not reach the lowest point reads too little.

    Source:
        volumes of cylinder, cone, segment of a circle and box, as in the article Calculating Tank Volume for flat
        and conical ends.

    Example:
        tankside calc tank-volume shape=cone-bottom diameter="60 cm" length="90 cm" cone_depth="25 cm" level="50 cm"
        volume ≈ 94.2478 L, freeboard 65 cm
    """
    return {"volume": _VOLUMES[shape], "freeboard": _TOPS[shape] - _LEVEL}


@helper(
    task="Tanks and lines",
    arguments=(
        _SHAPE,
        *_SIZE_ARGUMENTS,
        Argument("volume", ("volume",), "what is in the tank", "100 L", low=FROM_ZERO),
    ),
    results=(
        Result("level", "cm", "nearest", "from the lowest point inside up to the liquid", like=("diameter", "length")),
        Result("freeboard", "cm", "down", "from the liquid up to the top", like=("diameter", "length")),
    ),
    variants=_variants("volume", "volume", "capacity", _CAPACITIES),
    conditions=(
        AtMost(
            "volume", "capacity", "does not fit in a tank of", "give a volume that the tank holds, or correct its sizes"
        ),
    ),
    choice=_CHOICE,
)
def tank_level(shape: str) -> Trees:
    """Return the level at which a volume stands in a tank.

    ``upright: volume / (pi / 4 * diameter**2)``;
    ``cone-bottom: cube root of (12 * cone_depth**2 * volume / (pi * diameter**2))`` up to the top of the cone,
    above it ``volume / (pi / 4 * diameter**2) + 2/3 * cone_depth``;
    ``lying: diameter * d``, where a segment of the depth ``d`` diameters has the share
    ``volume / (pi / 4 * diameter**2 * length)`` of a circle's area;
    ``box: volume / (length * width)``.

    Args:
        shape: upright (a cylinder with a flat bottom), cone-bottom (an upright cylinder on a cone that
        ends in a point), lying (a cylinder on its side with flat ends) or box.
        diameter: inside diameter of a cylinder [cm, in], above 0.
        length: inside length of the straight side of a cylinder, without the cone, or of a box [cm, in], above 0.
        cone_depth: inside depth of the cone [cm, in], above 0; of a cone-bottom tank and only then.
        width: inside width of a box [cm, in], above 0.
        height: inside height of a box [cm, in], above 0.
        volume: what is in the tank [L], from 0 up to what it holds.

    Returns:
        level: from the lowest point inside up to the liquid [unit of diameter, of a box that of length].
        freeboard: height left from the liquid up to the top [unit of level].

    Raises:
        OutOfDomainError: a size is not above 0, or the volume is below 0 or more than the tank holds.
        ArgumentMissingError: a size of the shape is not given.

    Limits:
        a level tank with nothing in it: a mixer, a coil or a dip pipe lifts the liquid higher. Dished ends
        hold more than flat ones. Foam stands above the level.

    Source:
        volumes of cylinder, cone, segment of a circle and box, as in the article Calculating Tank Volume for flat
        and conical ends, solved for the level.

    Example:
        tankside calc tank-level shape=cone-bottom diameter="60 cm" length="90 cm" cone_depth="25 cm" volume="100 L"
        level ≈ 52.0344 cm, freeboard ≈ 62.9656 cm
    """
    return {"level": _LEVELS[shape], "freeboard": _TOPS[shape] - _LEVEL}


HELPERS: tuple[Helper, ...] = (tank_volume, tank_level)

"""What holds a spill, takes it up and rinses an eye."""

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from tankside.quantities.expression import Expression, Number, most, round_up, total
from tankside.quantities.helper import (
    ABOVE_ZERO,
    Argument,
    Bound,
    Helper,
    NeverWith,
    Result,
    Trees,
    Variant,
    helper,
)


@helper(
    task="Spills and emergencies",
    arguments=(
        Argument("flow", ("flow",), "flow of the eyewash or shower", "1.5 L/min", low=ABOVE_ZERO),
        Argument("time", ("time",), "how long it runs", "15 min", low=ABOVE_ZERO),
    ),
    results=(Result("volume", "L", "up", "water it takes"),),
    variants=(Variant(MappingProxyType({"flow": "flow", "time": "time"})),),
)
def eyewash_water(flow: Expression, time: Expression) -> Trees:
    """Return the water that an eyewash or a shower takes, to be stored before and drained after.

    ``volume = flow * time``

    Args:
        flow: flow of the eyewash or shower [L/min, US gal/min], above 0.
        time: how long it runs [min], above 0.

    Returns:
        volume: water it takes [L].

    Raises:
        OutOfDomainError: flow or time is not above 0.

    Limits:
        for choosing a tank, a drain or a pail, never for ending a rinse: rinse on until help takes over.
        An eyewash gives at least 1.5 L/min (0.4 US gal/min), a shower 75 L/min (20 US gal/min), each for 15 min.

    Source:
        definition of a flow; the least flows and time: Washington Administrative Code 296-800-15030.

    Example:
        tankside calc eyewash-water flow="1.5 L/min" time="15 min"
        volume 22.5 L
    """
    return {"volume": flow * time}


_TENTH: Final = Number(Fraction("0.1"))


def _governed_by(values: Mapping[str, Fraction]) -> Mapping[str, str]:
    """Return which of the two rules asks for more; of a tie, the container."""
    largest = max(value for name, value in values.items() if name.startswith("containers."))
    return {"governed_by": "largest container" if values["volume"] == largest else "share of all containers"}


@helper(
    task="Spills and emergencies",
    arguments=(
        Argument(
            "containers", ("volume",), "volume of each container", "200 L, 200 L, 20 L", low=ABOVE_ZERO, is_list=True
        ),
        Argument(
            "share",
            ("ratio",),
            "share of all that has to fit",
            "10 %",
            required=False,
            low=ABOVE_ZERO,
            high=Bound(Fraction(1), inclusive=True),
        ),
    ),
    results=(Result("volume", "L", "up", "volume that has to fit into the containment", like=("containers",)),),
    variants=(
        Variant(MappingProxyType({"containers": "volume"})),
        Variant(MappingProxyType({"containers": "volume", "share": "ratio"})),
    ),
    words=_governed_by,
)
def containment(containers: tuple[Expression, ...], share: Expression = _TENTH) -> Trees:
    """Return the volume that the bund or tray under some containers has to hold.

    ``volume = max(share * sum(containers), each of containers)``

    Args:
        containers: volume of each container that stands in it [L, US gal], above 0; commas between.
        share: share of the volume of all that has to fit [%], above 0, at most 100 %; 10 % when it is not given.

    Returns:
        governed_by: largest container, or share of all containers.
        volume: volume that has to fit into the containment [unit of the first container].

    Raises:
        OutOfDomainError: a container is not above 0, or share is not above 0 and at most 100 %.
        ListEmptyError: an entry is empty, or there are too many.

    Limits:
        free volume: what stands inside the containment takes its own away, and rain or fire water comes on top.
        Local rules may ask for more, some for 110 % of the largest container (from memory). Nothing that must not
        meet may share one containment.

    Source:
        40 CFR 264.175(b)(3): 10 % of the volume of the containers or the volume of the largest, whichever is greater.

    Example:
        tankside calc containment containers="200 L, 200 L, 20 L"
        governed_by largest container, volume 200 L
    """
    return {"volume": most(share * total(containers), *containers)}


_PACKS: Final = ("mineral", "synthetic", "organic", "acid-neutralising", "alkali-neutralising")
#: Material -> packs that may touch it.
_MAY_TOUCH: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        "acid": ("mineral", "synthetic", "acid-neutralising"),
        "alkali": ("mineral", "synthetic", "alkali-neutralising"),
        "oxidiser": ("mineral",),
        "solvent": ("mineral", "synthetic"),
        "water": _PACKS,
    }
)


@helper(
    task="Spills and emergencies",
    arguments=(
        Argument("spill", ("volume",), "what was spilled, or could be", "20 L", low=ABOVE_ZERO),
        Argument("material", tuple(_MAY_TOUCH), "group of the material", "oxidiser", choices=tuple(_MAY_TOUCH)),
        Argument("pack", _PACKS, "what the pack is made of", "mineral", required=False, choices=_PACKS),
        Argument("pack_holds", ("volume",), "what one pack takes up, from its label", "4 L", low=ABOVE_ZERO),
    ),
    results=(Result("packs", "", "up", "packs to have at hand"),),
    variants=(
        Variant(MappingProxyType({"spill": "volume", "material": "water", "pack_holds": "volume"})),
        *(
            Variant(MappingProxyType({"spill": "volume", "material": material, "pack": pack, "pack_holds": "volume"}))
            for material in _MAY_TOUCH
            for pack in _PACKS
        ),
    ),
    conditions=tuple(
        NeverWith("pack", pack, "material", material, "must not touch", f"take a pack that may: {', '.join(may_touch)}")
        for material, may_touch in _MAY_TOUCH.items()
        for pack in _PACKS
        if pack not in may_touch
    ),
)
def absorbent(spill: Expression, pack_holds: Expression) -> Trees:
    """Return how many absorbent packs take up a spill, if they may touch it at all.

    ``packs = spill / pack_holds``, rounded up to whole packs

    Args:
        spill: what was spilled, or could be [L], above 0.
        material: acid (never hydrofluoric acid or a fluoride: those dissolve mineral packs), alkali, oxidiser
        (everything with hypochlorite, chlorine, a peroxide or nitric acid in it, also when it is acid or
        alkaline), solvent, or water (water-based and none of the others).
        pack: mineral (clay, vermiculite, sand), synthetic (polypropylene sold for such liquids; one for oil only
        takes up no water), organic (sawdust, paper, cellulose, cloth), acid-neutralising (holds an alkali) or
        alkali-neutralising (holds an acid); asked for unless the material is water.
        pack_holds: what one pack takes up of such a liquid, from its label [L], above 0.

    Returns:
        packs: packs to have at hand, a whole number.

    Raises:
        OutOfDomainError: spill or pack_holds is not above 0, or the pack must not touch the material.
        ArgumentMissingError: the pack is not given for a material that not every pack may touch.

    Limits:
        a number for stocking, no leave to clean up: who may do what is said in the procedure and the data sheet,
        which comes first where it is stricter. Guides differ on clay for acids: Cornell University keeps it away from
        them, the University of Houston mixes it with bicarbonate; take what the data sheet names. Labels state oil
        or water; other liquids are taken up less. A pack keeps the hazards of what it took up. A neutralising pack
        takes up less of a strong liquid than of a weak one.

    Source:
        which pack may touch what: combustible absorbents never on oxidisers (from memory, as safety cards for
        hypochlorite, peroxide and nitric acid say; University of Hawaii, spill response: paper with an oxidiser may
        catch fire later); acids never on hypochlorite, which sets chlorine free (MMWR 1991, on bleach
        mixed with a phosphoric acid cleaner). The rest, organic packs for nothing but water, is common practice, no
        source.

    Example:
        tankside calc absorbent spill="20 L" material=oxidiser pack=mineral pack_holds="3 L"
        packs 7
    """
    return {"packs": round_up(spill / pack_holds, 1)}


HELPERS: tuple[Helper, ...] = (eyewash_water, containment, absorbent)

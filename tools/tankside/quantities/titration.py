"""A strength measured with a burette."""

from types import MappingProxyType

from tankside.quantities.expression import Expression, least, most, total
from tankside.quantities.helper import (
    ABOVE_ZERO,
    FROM_ZERO,
    Argument,
    AtMost,
    Helper,
    Result,
    Trees,
    Variant,
    helper,
)


@helper(
    task="Test a batch",
    arguments=(
        Argument("titrant", ("amount concentration",), "strength of the titrant", "0.1 mol/L", low=ABOVE_ZERO),
        Argument(
            "titrant_volume",
            ("volume",),
            "titrant used, for each of the duplicates",
            "20.05, 20.15 mL",
            low=ABOVE_ZERO,
            is_list=True,
        ),
        Argument("blank", ("volume",), "titrant used without a sample", "0.1 mL", low=FROM_ZERO),
        Argument("sample", ("volume", "mass"), "sample in each titration", "10 mL", low=ABOVE_ZERO),
        Argument("equivalent", ("molar mass",), "mass measured by one mole of titrant", "35.453 g/mol", low=ABOVE_ZERO),
    ),
    results=(
        Result("strength", "g/L", "nearest", "strength of the sample, the mean of the duplicates"),
        Result("difference", "g/L", "up", "between the highest and the lowest of the duplicates"),
    ),
    variants=tuple(
        Variant(
            MappingProxyType(
                {
                    "titrant": "amount concentration",
                    "titrant_volume": "volume",
                    "blank": "volume",
                    "sample": kind,
                    "equivalent": "molar mass",
                }
            ),
            units=MappingProxyType({"strength": unit, "difference": unit}),
        )
        for kind, unit in (("volume", "g/L"), ("mass", "%w/w"))
    ),
    conditions=(AtMost("blank", "titrant_volume", "is more than", "repeat the blank, or look for exchanged values"),),
)
def titration(
    titrant: Expression,
    titrant_volume: tuple[Expression, ...],
    blank: Expression,
    sample: Expression,
    equivalent: Expression,
) -> Trees:
    """Return the strength of a sample from the titrant it took, and how far duplicates are apart.

    ``strength = (mean of titrant_volume - blank) * titrant * equivalent / sample``,
    ``difference = (highest titrant_volume - lowest) * titrant * equivalent / sample``

    Args:
        titrant: strength of the titrant [mol/L], above 0; standardised, or read from a bottle within its date.
        titrant_volume: titrant used, for each of the duplicates [mL], above 0; each of the same sample size.
        blank: titrant used by the same procedure without a sample [mL], from 0, at most any titrant_volume.
        sample: sample in each titration, before any dilution in the flask [mL or g], above 0.
        equivalent: mass measured by one mole of titrant [g/mol], above 0: the molar mass over the moles of
            titrant that one mole takes, 35.453 g/mol for available chlorine with thiosulfate.

    Returns:
        strength: strength of the sample, the mean of the duplicates [g/L, or %w/w for a sample weighed out].
        difference: between the highest and the lowest of the duplicates, as a strength [unit of strength]; only
            when there are two or more.

    Raises:
        OutOfDomainError: the blank is more than a titrant_volume, a value is not in its range, or more than the
            whole sample is found.
        ListEmptyError: an entry of titrant_volume is empty.

    Limits:
        the sample is what the strength is wanted of: for an aliquot of a dilution give the part of the undiluted
        liquid in it. It does not judge the difference: the method says how large it may be, and a larger one
        means titrating again, not taking the mean. Not for back titrations. It is the measurement that a strength by
        label never replaces.

    Source:
        stoichiometry at the end point; United States Pharmacopeia 29, sodium hypochlorite topical solution, assay: each
        mL of 0.1 N thiosulfate is 3.722 mg of sodium hypochlorite.

    Example:
        tankside calc titration titrant="0.1 mol/L" titrant_volume="20.05, 20.15 mL" blank="0.1 mL" \\
            sample="10 mL" equivalent="35.453 g/mol"
        strength 7.0906 g/L, difference 0.035453 g/L
    """
    in_sample = titrant * equivalent / sample
    if len(titrant_volume) == 1:
        return {"strength": (titrant_volume[0] - blank) * in_sample}
    return {
        "strength": (total(titrant_volume) / len(titrant_volume) - blank) * in_sample,
        "difference": (most(*titrant_volume) - least(*titrant_volume)) * in_sample,
    }


HELPERS: tuple[Helper, ...] = (titration,)

"""By how much a single package may fall short in the United States, from the tables of its handbook."""

import json
from collections.abc import Mapping
from fractions import Fraction
from importlib.resources import files
from typing import Any, Final

from tankside.quantities.decimal_text import quantity_text
from tankside.quantities.expression import Expression, constant, table
from tankside.quantities.given import Pairs
from tankside.quantities.refusals import TableMissingError
from tankside.units import Quantity

#: kind of the nominal content -> its table
VARIATIONS: Final[Mapping[str, Any]] = json.loads(
    files("tankside.quantities").joinpath("allowed_variations.json").read_text(encoding="utf-8")
)


def allowed_variation(nominal: Expression, kind: str) -> Expression:
    """Return the variation that is allowed for a nominal content of that kind.

    Raises:
        TableMissingError: the table for that kind is not part of the program.
    """
    if kind not in VARIATIONS:
        raise TableMissingError(
            f"the variations that NIST Handbook 133 allows for a {kind} are not part of this program",
            "copy appendix A, table 2-6, into 'liquid_variations' of procedures/plant/book.yaml or give it as "
            'variations="..."; or write law=EU for your own control',
        )
    rows = VARIATIONS[kind]["rows"]
    limits = [(constant(end), _variation(nominal, text)) for end, text in rows]
    return table(nominal, limits, beyond=_variation(nominal, VARIATIONS[kind]["beyond"]))


def variation_of_rows(nominal: Quantity, rows: Pairs) -> Quantity:
    """Return the variation of the first row whose limit the nominal content does not pass.

    Raises:
        TableMissingError: it is larger than the last limit.
    """
    for limit, variation in sorted(rows.entries, key=lambda row: row[0].value):
        if nominal.value <= limit.value:
            return variation
    last = max((limit for limit, _ in rows.entries), key=lambda limit: limit.value)
    raise TableMissingError(
        f"nominal '{quantity_text(nominal)}' is above the last limit of variations, '{quantity_text(last)}'",
        "copy the table to its end",
    )


def _variation(nominal: Expression, text: str) -> Expression:
    number, _, symbol = text.partition(" ")
    return nominal * (Fraction(number) / 100) if symbol == "%" else constant(text)

"""An edition whose amounts stand for one lot only: worked out exactly from the formulas that the edition carries."""

from collections.abc import Mapping
from dataclasses import replace

from tankside.compute.worked import Worked, WorkedAmount
from tankside.edition import Edition
from tankside.edition import Part as EditionPart
from tankside.quantities.evaluate import evaluate
from tankside.quantities.expression import from_json
from tankside.records.worth import Inputs
from tankside.units import Quantity, parse_quantity


def for_lot(edition: Edition, inputs: Inputs) -> Edition:
    """Return an edition with what its amounts come to for what was chosen, and nothing for any other value.

    It is made to be shown, and has another hash: whoever shows it takes control items from the edition itself.
    """
    chosen = {name: parse_quantity(text) for name, text in inputs.get(edition.id, {}).items()}
    amounts = {name: _for(amount, chosen) for name, amount in edition.amounts.items()}
    return replace(edition, amounts=amounts, parts=tuple(_part(part, inputs) for part in edition.parts))


def _part(part: EditionPart, inputs: Inputs) -> EditionPart:
    return part if part.edition is None else replace(part, edition=for_lot(part.edition, inputs))


def _for(amount: WorkedAmount, chosen: Mapping[str, Quantity]) -> WorkedAmount:
    if amount.input is None:
        return amount
    value = evaluate(from_json(amount.tree), {name: each.value for name, each in chosen.items()})
    shown = Quantity(value, amount.usual.shown.unit)
    worked = Worked(at=chosen[amount.input], exact=shown, shown=shown, working=())
    return replace(amount, input=None, usual=worked, table=())

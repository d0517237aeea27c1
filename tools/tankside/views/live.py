"""The field for the input of a procedure, and what the page has to know to work the amounts out again."""

from dataclasses import dataclass
from typing import Final

from tankside.compute.facts import quantity
from tankside.loading.values import Text
from tankside.model.procedures import Procedure
from tankside.quantities.decimal_text import decimal_text
from tankside.quantities.portable import Portable, portable_quantity
from tankside.views.amounts import AmountTexts
from tankside.views.numbers import exact_text

#: stands for a value in words that the page fills in
GAP: Final = "{value}"


@dataclass(frozen=True)
class LiveView:
    """The field for the input, filled with its usual value."""

    #: id of the procedure
    procedure: str
    asks: str
    #: from where to where it may go, and what is usual
    range: str
    #: the usual value, and the unit that stands beside the field
    number: str
    unit: str
    #: words of the button that brings the usual value back
    reset: str
    #: what the amounts on the page are for
    status: str
    #: for amounts.js
    data: Portable


def live_view(texts: AmountTexts, procedure: Procedure) -> LiveView | None:
    """Return the field for the input of a procedure; None where no amount follows one."""
    following = [amount for amount in texts.amounts.values() if texts.follows(amount)]
    if not following:
        return None
    say = texts.say
    ((name, asked),) = procedure.inputs.items()
    usual = quantity(asked.usual)
    unit = usual.unit.symbol
    return LiveView(
        procedure=texts.procedure,
        asks=str(asked.asks),
        range=say("input-range", low=asked.from_, high=asked.to, usual=asked.usual),
        number=decimal_text(usual.number),
        unit=unit,
        reset=say("input-reset", value=exact_text(usual)),
        status=say("input-worked-out", value=exact_text(usual)),
        data={
            "id": texts.procedure,
            "system": texts.units,
            "words": {
                "about": say("about", value=GAP),
                "for": say("amount-for", value=GAP),
                "workedOut": say("input-worked-out", value=GAP),
                "none": say("amount-none"),
                "fault": say("input-fault"),
            },
            "input": {"name": str(name), "unit": unit, "from": _end(asked.from_), "to": _end(asked.to)},
            "amounts": [amount.live for amount in following],
        },
    )


def _end(text: Text) -> Portable:
    return {"text": str(text), "value": portable_quantity(quantity(text))}

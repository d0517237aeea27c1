"""What an amount or a reading must be: targets and limits worked out from the edition, and what was entered."""

from collections.abc import Mapping
from fractions import Fraction

from tankside.quantities.decimal_text import decimal_text
from tankside.quantities.evaluate import evaluate
from tankside.quantities.expression import from_json
from tankside.quantities.portable import Portable
from tankside.records.script import Part
from tankside.units import Quantity, QuantityError, Unit, parse_quantity

#: procedure -> input -> the value that was chosen, as text with its unit
Inputs = Mapping[str, Mapping[str, str]]


def target(part: Part, step: Portable, inputs: Inputs) -> tuple[Quantity, Quantity, Quantity]:
    """Return what a step adds, and the least and the most that is in tolerance."""
    amount = part.edition["amounts"][step["amount"].strip("<>")]
    unit = parse_quantity(amount["usual"]["shown"]["text"]).unit
    wanted = worth(part, amount, inputs)
    off = Fraction(amount["tolerance"]["value"])
    low, high = max(wanted - off, Fraction(0)), wanted + off
    return Quantity(wanted, unit), Quantity(low, unit), Quantity(high, unit)


def worth(part: Part, amount: Portable, inputs: Inputs) -> Fraction:
    """Return what an amount comes to for what was chosen, in base units."""
    chosen = inputs.get(part.procedure, {})
    asked = part.edition["written"]["inputs"]
    return evaluate(from_json(amount["tree"]), {name: parse_quantity(chosen[name]).value for name in asked})


def limits(part: Part, step: Portable) -> tuple[Quantity | None, Quantity | None]:
    """Return the ends of the limits of a reading, None where there is none."""
    written = part.edition["limits"][step["limits"]]
    low, high = (written.get(end) for end in ("from", "to"))
    return (None if low is None else parse_quantity(low), None if high is None else parse_quantity(high))


def entered(event: Portable) -> Quantity | None:
    """Return the value of an event, None when it is no number with a unit of the table."""
    try:
        return parse_quantity(f"{event.get('value', '')} {event.get('unit', '')}")
    except QuantityError:
        return None


def like(value: Quantity | None, example: Quantity) -> bool:
    """Return whether a value is of the same kind as an example."""
    return value is not None and value.unit.kind == example.unit.kind


def is_inside(value: Fraction, low: Quantity | None, high: Quantity | None) -> bool:
    """Return whether a value, in base units, lies within limits; their ends belong to them."""
    return (low is None or low.value <= value) and (high is None or value <= high.value)


def number_in(value: Fraction, unit: Unit) -> str:
    """Return a value in base units as the number that stands before a unit."""
    return decimal_text(Quantity(value, unit).number)

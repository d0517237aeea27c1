"""What an event copied from its edition, worked out once more: targets, limits, what is in, whether that is right."""

from collections.abc import Iterator, Mapping
from fractions import Fraction

from tankside.problems import Problem, quoted
from tankside.quantities.portable import Portable
from tankside.records.copy import Copy, Visit
from tankside.records.document import Document
from tankside.records.shape import name_of
from tankside.records.worth import limits, number_in, target
from tankside.schema.records import EVENTS
from tankside.units import Quantity, Unit, unit_named

_CHANGED = "the edition in this file decides; if the event was entered on a page, it was changed since"


def figures(document: Document, copy: Copy, place: int, visit: Visit) -> Iterator[Problem]:
    """Return where the figures of an event that was just folded are not what its edition makes them."""
    event = copy.events[-1]
    if event["kind"] not in ("pour", "read"):
        return
    named = name_of(document.value[EVENTS][place], place)
    for key, expected in _expected(copy, event, visit).items():
        found = event[key]
        if not _is_same(found, expected):
            message = f"{named}: '{key}' is {_shown(found)}, the edition makes it {_shown(expected)}"
            yield document.error("record-figure", message, _CHANGED, EVENTS, place, key)


def _expected(copy: Copy, event: Portable, visit: Visit) -> Mapping[str, str | bool]:
    part, step, unit = copy.part_of(visit), copy.step_of(visit), unit_named(event["unit"])
    if event["kind"] == "read":
        low, high = limits(part, step)
        return {"low": _number(low, unit), "high": _number(high, unit), "inside": visit.is_inside}
    wanted, low, high = target(part, step, copy.inputs)
    ends = {"target": _number(wanted, unit), "low": _number(low, unit), "high": _number(high, unit)}
    return {**ends, "total": number_in(visit.total, unit), "inside": visit.is_inside}


def _number(quantity: Quantity | None, unit: Unit) -> str:
    return "" if quantity is None else number_in(quantity.value, unit)


def _is_same(found: str | bool, expected: str | bool) -> bool:
    """Return whether two figures are equal; a number may be written with idle zeros."""
    if isinstance(found, bool) or isinstance(expected, bool) or not found or not expected:
        return found == expected
    return Fraction(found) == Fraction(expected)


def _shown(figure: str | bool) -> str:
    if isinstance(figure, bool):
        return "true" if figure else "false"
    return quoted(figure) if figure else "empty"

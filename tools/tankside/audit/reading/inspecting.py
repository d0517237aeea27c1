"""Yearly inspections of equipment, by the day on which the next one is due."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.dates import day_of, years_after
from tankside.audit.rule import Found
from tankside.problems import quoted


def uninspected(audited: Audited, kind: str) -> Iterator[Found]:
    """Return the pieces of a kind whose next inspection is not planned, is overdue, or lies more than a year ahead."""
    for tag, piece in audited.plant.equipment.equipment.items():
        if piece.kind != kind:
            continue
        due = piece.inspection_due
        if due is None:
            message = f"{quoted(tag)} does not say when it is inspected again"
            yield Found(
                str(tag), tag.span, message, "write the day of the next yearly inspection under 'inspection_due'"
            )
        elif day_of(due) < audited.day:
            message = f"the inspection of {quoted(tag)} was due on {quoted(due)}"
            yield Found(str(tag), due.span, message, "have it inspected, then write down the day of the next one")
        elif day_of(due) > years_after(audited.day, 1):
            message = f"{quoted(tag)} is inspected again on {quoted(due)}, more than a year ahead"
            yield Found(str(tag), due.span, message, "plan the next inspection within a year")

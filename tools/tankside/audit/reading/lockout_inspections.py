"""Inspections of lockout procedures (29 CFR 1910.147(c)(6))."""

from tankside.audit.audited import Audited
from tankside.audit.reading.dates import day_of
from tankside.loading.values import Text
from tankside.model.facts import Inspection
from tankside.model.procedures import Procedure


def inspections(audited: Audited, procedure: Procedure) -> tuple[Inspection, ...]:
    """Return the inspections of a procedure until today."""
    written = audited.plant.facts.inspections
    return tuple(each for each in written if each.procedure == procedure.procedure and day_of(each.date) <= audited.day)


def last_sound(audited: Audited, procedure: Procedure) -> Inspection | None:
    """Return the last inspection by another role than the one that was watched; None when there was none."""
    sound = (each for each in inspections(audited, procedure) if each.by != each.of)
    return max(sound, key=lambda each: day_of(each.date), default=None)


def first_issue(procedure: Procedure) -> Text:
    """Return the day on which the first revision of a procedure was issued."""
    return procedure.history[0].date

"""Protective equipment that stays on at the end of a working day, and hands that are not washed."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.undressing import Item, WorkingDay, working_days
from tankside.audit.reading.wording import LANGUAGE
from tankside.audit.rule import Family, Found, Weight, memory, practice, rule


@rule(
    Family.PROTECTION,
    Weight.SHOULD,
    practice("a working day ends with the gear off, gloves last, and hands washed"),
    memory("29 CFR 1910.132", "(a)", "protective equipment is kept in a sanitary condition"),
    memory("29 CFR 1910.141", "(d)", "there is water and soap, so that chemicals are washed off hands"),
)
def wear_not_taken_off(audited: Audited) -> Iterator[Found]:
    """Each working day takes off again what it puts on, and hands are washed after the last gloves.

    Looked at are the days of `book.yaml`, and each checklist of steps that stands in none of them as a day of its own.
    The dry run knows what is still on at the end. After the last step that takes gloves off, a step must say to wash
    hands (in a book whose first language is English; a word for washing and one for hands or soap in one sentence).
    What is on the outside of a glove otherwise goes home on a person.

    Fails:
        # checklists/make-a-batch.yaml
        items:
          - procedure: protective-equipment
            section: put-on
          - procedure: rinse-tank

    Passes:
        # checklists/make-a-batch.yaml
        items:
          - procedure: protective-equipment
            section: put-on
          - procedure: rinse-tank
          - procedure: protective-equipment
            section: take-off
    """
    is_read = audited.plant.facts.languages[0] == LANGUAGE
    for day in working_days(audited):
        yield from _left_on(day)
        unwashed = day.unwashed(audited) if is_read else None
        if unwashed is not None:
            message = "gloves come off here, and no step after that says to wash hands"
            yield _found(unwashed, message, "let a step after the last gloves say 'Wash your hands'")


def _left_on(day: WorkingDay) -> Iterator[Found]:
    for item, names in day.left_on():
        message = f"what is put on here may still be on when the day ends: {', '.join(names)}"
        yield _found(item, message, "add an item that takes it off to a later checklist of the day")


def _found(item: Item, message: str, hint: str) -> Found:
    place = item.reference.section or item.reference.procedure
    return Found(str(item.checklist.checklist), place.span, message, hint)

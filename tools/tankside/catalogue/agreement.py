"""What must agree inside a file, and between a file and its place."""

import re
from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from pathlib import PurePosixPath

from tankside.catalogue.characters import undrawn
from tankside.catalogue.links import caution_problems
from tankside.catalogue.questions import question_problems
from tankside.loading.values import Text
from tankside.memory import remembered
from tankside.model.facts import BookFacts, Equipment, Materials, Plant
from tankside.model.procedures import Checklist, Procedure
from tankside.model.steps import Section, Step, every
from tankside.problems import Problem, Severity

#: a popular rule of thumb, so only a remark
MOST_STEPS = 9
#: what looks like a day; whether there is such a day is another question
DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


def disagreements(procedures: Mapping[str, Procedure], checklists: Mapping[str, Checklist]) -> Iterator[Problem]:
    """Return what does not agree in the procedures and checklists."""
    for procedure in procedures.values():
        yield from _in_procedure(procedure)
    for checklist in checklists.values():
        yield from _same_as_file(checklist.checklist)
        yield from _revision_and_dates(checklist)
        yield from undrawn(checklist)


@remembered
def _in_procedure(procedure: Procedure) -> tuple[Problem, ...]:
    return (
        *_same_as_file(procedure.procedure),
        *_same_as_folder(procedure),
        *_revision_and_dates(procedure),
        *_names_once(procedure),
        *caution_problems(procedure),
        *question_problems(procedure),
        *_long_sections(procedure),
        *_unconfirmed(procedure.unconfirmed, f"the cautions of '{procedure.procedure}'"),
        *undrawn(procedure),
    )


def _same_as_file(own_id: Text) -> Iterator[Problem]:
    stem = PurePosixPath(own_id.span.path).stem
    if own_id != stem:
        message = f"id '{own_id}' is not the name of its file, '{stem}'"
        yield Problem(own_id.span, "id-differs-from-file", message, "make the two the same")


def _same_as_folder(procedure: Procedure) -> Iterator[Problem]:
    folder = PurePosixPath(procedure.span.path).parent.name
    if procedure.family != folder:
        message = f"family '{procedure.family}' is not the folder it stands in, '{folder}'"
        yield Problem(
            procedure.family.span, "family-differs-from-folder", message, "move the file or correct the family"
        )


def _revision_and_dates(written: Procedure | Checklist) -> Iterator[Problem]:
    dates = (written.effective, written.review, *(change.date for change in written.history))
    impossible = tuple(_impossible_days(dates))
    yield from impossible
    if not impossible and written.is_complete and written.review <= written.effective:
        message = f"review '{written.review}' is not after effective '{written.effective}'"
        yield Problem(written.review.span, "dates-out-of-order", message, "a review lies a year or two ahead")
    newest = written.history[-1].revision if written.history else written.revision
    if newest != written.revision and written.is_complete:
        message = f"revision '{written.revision}' is not that of the newest entry of the history, '{newest}'"
        yield Problem(written.revision.span, "history-differs", message, "add what changed to the history, at its end")


def plant_disagreements(plant: Plant) -> Iterator[Problem]:
    """Return the days in the plant files that are not in the calendar, and the materials that are not confirmed."""
    equipment, materials = plant.equipment, plant.materials
    yield from _impossible_days(day for day in _days(plant) if day is not None)
    yield from _unconfirmed_materials(materials)
    yield from _places_once(equipment)


def _days(plant: Plant) -> Iterator[Text | None]:
    for piece in plant.equipment.equipment.values():
        yield from (piece.calibration_due, piece.inspection_due)
        if piece.lockout_exemption is not None:
            yield piece.lockout_exemption.date
    yield from (material.data_sheet for material in plant.materials.materials.values())
    facts = plant.facts
    yield from (assessment.date for assessment in facts.hazard_assessments.values())
    yield from (day for drill in facts.drills for day in (drill.last, drill.next))
    yield from (inspection.date for inspection in facts.inspections)
    yield from (day for exception in facts.exceptions for day in (exception.since, exception.until))


def day_disagreements(facts: BookFacts, checklists: Mapping[str, Checklist]) -> Iterator[Problem]:
    """Return the checklists of a day that nobody follows step by step."""
    for day, names in facts.days.items():
        for name in names:
            if name in checklists and not checklists[name].is_followed:
                message = f"checklist '{name}' lists titles only, and day '{day}' cannot be rehearsed with it"
                yield Problem(name.span, "day-of-titles", message, "take it out of the day, or let it list steps")


def _places_once(equipment: Equipment) -> Iterator[Problem]:
    taken: dict[tuple[str, ...], Text] = {}
    for tag, piece in equipment.equipment.items():
        if piece.at and taken.setdefault(tuple(map(str, piece.at)), tag) is not tag:
            other = taken[tuple(map(str, piece.at))]
            where = f"column {piece.at[0]}, row {piece.at[1]}"
            message = f"'{tag}' stands where '{other}' stands on the line diagram, at {where}"
            yield Problem(piece.at[0].span, "place-taken", message, "give one of the two a place of its own")


def _impossible_days(texts: Iterable[Text]) -> Iterator[Problem]:
    for text in texts:
        # The schema has spoken of what does not even look like a day.
        if DAY.fullmatch(text) and not _is_in_calendar(text):
            message = f"'{text}' is not a day of the calendar"
            yield Problem(text.span, "date-impossible", message, "write the day as year-month-day")


def _is_in_calendar(text: Text) -> bool:
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True


def _names_once(procedure: Procedure) -> Iterator[Problem]:
    seen: dict[str, Text] = {}
    for item in every(procedure.steps):
        name = item.name if isinstance(item, Step) else item.section if isinstance(item, Section) else None
        if name is None:
            continue
        if name in seen:
            message = f"'{name}' is already the name of what stands at line {seen[name].span.line}"
            yield Problem(name.span, "step-name-twice", message, "give one of them a name of its own: 'step: ...'")
        seen.setdefault(str(name), name)


def _unconfirmed(said: Text | None, what: str) -> Iterator[Problem]:
    if said is not None:
        message = f"{what} are not confirmed for this workshop"
        hint = "compare with the dated data sheets, then delete 'unconfirmed'"
        yield Problem(said.span, "text-unconfirmed", message, hint, Severity.REMARK)


def _unconfirmed_materials(materials: Materials) -> Iterator[Problem]:
    for name, material in materials.materials.items():
        yield from _unconfirmed(material.unconfirmed, f"hazards and first aid of '{name}'")


def _long_sections(procedure: Procedure) -> Iterator[Problem]:
    heading, count = procedure.procedure, 0
    for item in procedure.steps:
        if isinstance(item, Section):
            heading, count = item.section, 0
        elif isinstance(item, Step):
            count += 1
            if count == MOST_STEPS + 1:
                message = f"more than {MOST_STEPS} steps follow without a section heading, from '{heading}'"
                yield Problem(item.span, "section-long", message, "break it with a heading", Severity.REMARK)

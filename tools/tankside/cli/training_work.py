"""`tankside training work`: work that somebody did who was not competent in it that day."""

from collections.abc import Iterator, Mapping
from datetime import datetime
from pathlib import Path

import click

from tankside.cli.records_words import clean
from tankside.cli.training_reading import Given, Opened, looking_at, opened
from tankside.cli.training_report import CLAIMS, Report, grouped, tell
from tankside.cli.training_words import standing_in_words
from tankside.model.training import ALONE
from tankside.problems import Problem
from tankside.quantities.portable import Portable
from tankside.records.shape import name_of
from tankside.schema.records import EVENTS
from tankside.training.asking import Asked, stands
from tankside.training.competence import Competence, initials, is_same
from tankside.training.goals import goal
from tankside.training.lapsing import DEFAULT
from tankside.training.people import Person
from tankside.training.standing import SHOW_FIRST, VALID, WATCHED, day_of
from tankside.training.taught import Taught
from tankside.training.uses import Use

COLUMNS = ("working_copy", "file", "lot", "day", "person", "procedure", "standing", "says")
NO_FILE = "no-file"
EPILOG = """
\b
Who was shown something and then does it under the eyes of another one is listed too: these files cannot know who stood
beside. The words say how far the person had come.

Example:  tankside training work competences/ --records records/
"""


@click.command(epilog=EPILOG)
@looking_at
@click.pass_context
def work(
    ctx: click.Context, files: tuple[Path, ...], folder: Path, records: tuple[Path, ...], on: datetime | None, form: str
) -> None:
    """List work in --records that was done by somebody who was not valid in it on that day.

    What counts is what had been entered before the first step was marked, and the edition that was followed. A remark
    is made of each assessor who was not competent in what they assessed, as far as their file is among FILES.
    """
    if not records:
        raise click.UsageError("name the files of working copies with --records")
    found = opened(ctx, Given(files, folder, records, on))
    rows = [row for use in found.uses if use.day <= found.day for row in _rows(found, use)]
    lines = grouped([*map(_headed, rows)], "head", "{person}, {procedure}: {says}")
    found = found.with_remarks(_assessors(found))
    said = lines or ["all who did steps were valid in them on that day"]
    tell(ctx, Report(found.day, COLUMNS, rows, [CLAIMS, "", *said], found.problems), form)


def _headed(row: Mapping[str, str]) -> Mapping[str, str]:
    lot = f", lot {row['lot']}" if row["lot"] else ""
    return {**row, "head": f"{row['day']}, working copy {row['working_copy']}{lot} ({row['file']})"}


def _rows(found: Opened, use: Use) -> Iterator[Mapping[str, str]]:
    person = found.person(use.written)
    day = day_of(use.first)
    if person is None:
        yield _row(use, NO_FILE, "no competence file of theirs is among those named")
        return
    taught = _followed(found, person, use)
    own = found.book.procedures.get(use.procedure)
    if taught is None:
        yield _row(use, "never", "never")
        return
    to = goal(found.book.plant.training, person.roles(day), use.procedure)
    rules = DEFAULT if own is None else own.rules
    stood = stands(person, Asked(taught, rules, day, to, use.first), _before(found, use))
    if stood.word != VALID:
        unsure = (
            "" if taught.content == use.content else "; what changed up to the edition that was followed is not known"
        )
        steps = {} if own is None or own.taught.content != taught.content else own.steps
        yield _row(use, stood.word, f"{standing_in_words(stood, steps)}{unsure}")


def _row(use: Use, word: str, says: str) -> Mapping[str, str]:
    return {
        "working_copy": clean(use.record.name),
        "file": use.record.path,
        "lot": clean(use.record.lot),
        "day": day_of(use.first),
        "person": clean(use.written),
        "procedure": clean(use.procedure),
        "standing": word,
        "says": says,
    }


def _followed(found: Opened, person: Person, use: Use) -> Taught | None:
    """Return the edition that was followed as it is taught; where nobody knows it, what the person knew of it last."""
    own = found.book.procedures.get(use.procedure)
    if own is not None and own.taught.content == use.content:
        return own.taught
    known = next((each for each in person.taught.values() if each.content == use.content), None)
    if known is not None:
        return known
    signed = [each for each in person.about(use.procedure) if each["kind"] == "signed" and each["at"] < use.first["at"]]
    return person.taught[signed[-1]["taught"]] if signed else None


def _before(found: Opened, use: Use) -> frozenset[str]:
    """Return the days on which the person had done it in other working copies by then."""
    others = (each for each in found.uses if (each.who, each.procedure) == (use.who, use.procedure))
    return frozenset(each.day for each in others if each.record is not use.record and each.day <= day_of(use.first))


def _assessors(found: Opened) -> Iterator[Problem]:
    for person in found.people:
        for record in person.records:
            for place, event in record.places:
                if place in record.counting and _is_assessment(event) and day_of(event) <= found.day:
                    yield from _assessor(found, record, place, event)


def _is_assessment(event: Portable) -> bool:
    return event["kind"] == "drill" or (event["kind"] == "signed" and event["method"] in WATCHED)


def _assessor(found: Opened, record: Competence, place: int, event: Portable) -> Iterator[Problem]:
    other = found.person(event["assessor"])
    own = found.book.procedures.get(event["procedure"])
    if other is None or is_same(other.initials, record.person):
        return
    rules = DEFAULT if own is None else own.rules
    asked = Asked(record.taught[event["taught"]], rules, day_of(event), ALONE, event)
    worked = found.days.get((initials(other.initials), event["procedure"]), frozenset())
    stood = stands(other, asked, worked)
    if stood.word not in (VALID, SHOW_FIRST):
        message = f"{name_of(event, place)} was attested by {clean(other.initials)}, who stood in it on that day:"
        message = f"{message} {standing_in_words(stood, {})}"
        hint = "whoever knew it first could learn it from nobody here; else have somebody look at it who is competent"
        yield record.document.remark("competence-assessor", message, hint, EVENTS, place)

"""`tankside training holds` and `gaps`: who may release what, and what nobody can do."""

from collections.abc import Iterator, Mapping
from datetime import datetime
from pathlib import Path

import click

from tankside.cli.records_words import clean
from tankside.cli.showing import counted
from tankside.cli.training_reading import Given, Opened, looking_at, opened
from tankside.cli.training_report import CLAIMS, Report, grouped, tell
from tankside.cli.training_words import standing_in_words
from tankside.model.steps import Hold, every
from tankside.training.people import Person
from tankside.training.standing import NEVER, SHOW_FIRST, VALID

HOLDS = ("procedure", "title", "step", "name", "words", "role", "people", "says")
GAPS = ("procedure", "title", "nearest", "says")
#: standings with which somebody may go on
STANDS = (VALID, SHOW_FIRST)
NOBODY = "nobody today"


@click.command(epilog="Example:  tankside training holds competences/ --records records/")
@looking_at
@click.pass_context
def holds(
    ctx: click.Context, files: tuple[Path, ...], folder: Path, records: tuple[Path, ...], on: datetime | None, form: str
) -> None:
    """Say by whom each hold point may be released on a day.

    That is who was appointed to the role that releases it and is competent to do the procedure alone on that day, also
    where something is to be shown first. Where there is none, it says so.
    """
    found = opened(ctx, Given(files, folder, records, on))
    rows = list(_holds(found))
    lines = grouped(rows, "procedure", "step {step} ({words}), by {role}: {says}")
    tell(ctx, Report(found.day, HOLDS, rows, [CLAIMS, "", *lines], found.problems), form)


def _holds(found: Opened) -> Iterator[Mapping[str, str]]:
    for name, own in found.book.procedures.items():
        for item in every(own.procedure.steps):
            if isinstance(item, Hold):
                number, words = own.step(str(item.name))
                people = [clean(each.initials) for each in _releasing(found, name, str(item.released_by))]
                yield {
                    "procedure": name,
                    "title": own.title,
                    "step": number,
                    "name": str(item.name),
                    "words": words,
                    "role": str(item.released_by),
                    "people": " ".join(people),
                    "says": ", ".join(people) or NOBODY,
                }


def _releasing(found: Opened, procedure: str, role: str) -> Iterator[Person]:
    for person in found.people:
        if role in {each.role for each in person.appointed(found.day)} and _can(found, person, procedure):
            yield person


def _can(found: Opened, person: Person, procedure: str) -> bool:
    return found.stands(person, procedure).word in STANDS


@click.command(epilog="Example:  tankside training gaps competences/ --records records/")
@looking_at
@click.pass_context
def gaps(
    ctx: click.Context, files: tuple[Path, ...], folder: Path, records: tuple[Path, ...], on: datetime | None, form: str
) -> None:
    """List the procedures that nobody is competent to do alone on a day, and who comes nearest."""
    found = opened(ctx, Given(files, folder, records, on))
    rows = list(_gaps(found))
    lines = [f"{row['procedure']} ({row['title']}): {row['says']}" for row in rows]
    all_, missing = counted(len(found.book.procedures), "procedure"), len(rows)
    summed = f"nobody is competent in {missing} of {all_}" if missing else f"somebody is competent in each of {all_}"
    tell(ctx, Report(found.day, GAPS, rows, [CLAIMS, "", *lines, summed], found.problems), form)


def _gaps(found: Opened) -> Iterator[Mapping[str, str]]:
    for name, own in found.book.procedures.items():
        stand = [(person, found.stands(person, name)) for person in found.people]
        if any(each.word in STANDS for _, each in stand):
            continue
        begun = [(person, each) for person, each in stand if each.word != NEVER]
        says = "; ".join(f"{clean(person.initials)}: {standing_in_words(each, own.steps)}" for person, each in begun)
        near = " ".join(clean(person.initials) for person, _ in begun)
        yield {"procedure": name, "title": own.title, "nearest": near, "says": says or "nobody has begun"}

"""`tankside training due`: what lapses, and which drills are due."""

from collections.abc import Iterator, Mapping
from datetime import datetime
from pathlib import Path

import click

from tankside.cli.records_words import clean
from tankside.cli.training_reading import Given, Opened, looking_at, opened
from tankside.cli.training_report import CLAIMS, Report, tell
from tankside.cli.training_standing import Narrowed, listed
from tankside.cli.training_words import standing_in_words
from tankside.model.training import ALONE
from tankside.training.competence import initials
from tankside.training.people import Person
from tankside.training.standing import COMPETENT, LAPSED, SHOW_FIRST, VALID, WATCHED, day_of, later

COLUMNS = ("kind", "day", "person", "procedure", "title", "says")
EPILOG = """
\b
Kinds of lines:
  lapsed    a competence does not stand any more
  lapses    it lapses within these days
  show      something is to be shown before the next time
  drill     a drill of the book is due within these days, or overdue
  practise  somebody has not practised an emergency for too long

Example:  tankside training due competences/ --records records/ --within 60
"""
#: days; a year and a day would list everything
USUAL = 30


@click.command(epilog=EPILOG)
@looking_at
@click.option("--within", type=click.IntRange(0, 3650), default=USUAL, show_default=True, help="So many days ahead.")
@click.pass_context
def due(
    ctx: click.Context,
    files: tuple[Path, ...],
    folder: Path,
    records: tuple[Path, ...],
    on: datetime | None,
    form: str,
    within: int,
) -> None:
    """List what has lapsed or lapses soon, what is to be shown, and the drills that are due."""
    found = opened(ctx, Given(files, folder, records, on))
    until = later(found.day, within)
    rows = sorted(_rows(found, until), key=lambda row: (row["day"], row["kind"], row["person"], row["procedure"]))
    lines = [_line(row) for row in rows] or [f"nothing until {until}"]
    tell(ctx, Report(found.day, COLUMNS, rows, [CLAIMS, "", *lines], found.problems), form)


def _line(row: Mapping[str, str]) -> str:
    who = f"{row['person']}, " if row["person"] else ""
    return f"{row['day'] or '          '}  {row['kind']:8}  {who}{row['procedure']}: {row['says']}"


def _rows(found: Opened, until: str) -> Iterator[Mapping[str, str]]:
    yield from _drills(found, until)
    for person in found.people:
        wanted = found.goals(person)
        for name in listed(found, person, Narrowed()):
            yield from _of_person(found, person, (name, wanted.get(name, ALONE)), until)
        for name, own in found.book.procedures.items():
            if own.procedure.is_emergency:
                yield from _unpractised(found, person, name, until)


def _of_person(found: Opened, person: Person, to: tuple[str, str], until: str) -> Iterator[Mapping[str, str]]:
    name, goal = to
    stands = found.stands(person, name, goal)
    says = standing_in_words(stands, found.book.procedures[name].steps)
    if stands.word == LAPSED:
        day = min((each.day for each in stands.reasons if each.day), default="")
        yield _row(found, "lapsed", day, person, name, says)
    elif stands.word == SHOW_FIRST:
        yield _row(found, "show", "", person, name, says)
    if stands.word in (VALID, SHOW_FIRST) and stands.lapses_on and stands.lapses_on <= until:
        says = f"lapses on {stands.lapses_on}"
        yield _row(found, "lapses", stands.lapses_on, person, name, says)


def _drills(found: Opened, until: str) -> Iterator[Mapping[str, str]]:
    for drill in found.book.plant.facts.drills:
        day, name = str(drill.next), str(drill.procedure)
        if day <= until:
            says = "the drill of the book is overdue" if day < found.day else "the next drill of the book"
            yield _row(found, "drill", day, None, name, says)


def _unpractised(found: Opened, person: Person, name: str, until: str) -> Iterator[Mapping[str, str]]:
    """Return that somebody has not practised an emergency for as long as the book allows, or soon will not have."""
    own = found.book.procedures[name]
    last = max((each for each in _done(found, person, name) if each <= found.day), default="")
    if not last:
        yield _row(found, "practise", found.day, person, name, "nothing is entered that practised it")
        return
    day = later(last, own.rules.unused_for)
    if day <= until:
        yield _row(found, "practise", day, person, name, f"last practised on {last}")


def _done(found: Opened, person: Person, name: str) -> frozenset[str]:
    """Return the days on which somebody did a procedure: in earnest, as a drill, or watched."""
    seen = (each for each in person.about(name) if each["kind"] == "signed" and each["method"] in WATCHED)
    watched = {day_of(each) for each in seen if each["result"] == COMPETENT}
    worked = found.days.get((initials(person.initials), name), frozenset())
    return person.drills(name) | watched | worked


def _row(found: Opened, kind: str, day: str, person: Person | None, name: str, says: str) -> Mapping[str, str]:
    who = "" if person is None else clean(person.initials)
    title = found.book.procedures[name].title
    return {"kind": kind, "day": day, "person": who, "procedure": name, "title": title, "says": says}

"""`tankside training standing`: who may do what."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import click

from tankside.cli.records_words import clean
from tankside.cli.training_reading import Given, Opened, looking_at, opened
from tankside.cli.training_report import CLAIMS, Report, grouped, tell
from tankside.cli.training_words import PLAIN, standing_in_words
from tankside.model.training import ALONE
from tankside.problems import meant
from tankside.training.goals import goals
from tankside.training.people import Person

COLUMNS = ("person", "procedure", "title", "goal", "standing", "since", "lapses_on", "says")
EPILOG = """
\b
Examples:
  tankside training standing competences/ --records records/
  tankside training standing TA.json --procedure splash --on 2027-05-25

\b
A competence is
  never, read, shown, under supervision   on the way
  needs more                              tried, and not there yet
  valid                                   until the day that is said
  to be shown before the next time        it stands; something changed
  lapsed                                  somebody is seen at it again

\b
The JSON has:
  on        the day
  rows      person, procedure, title, goal, standing, since, lapses_on,
            says
  problems  as 'check --format json' has them
"""


@dataclass(frozen=True)
class Narrowed:
    """What is listed of all."""

    person: str | None = None
    procedure: str | None = None
    role: str | None = None
    is_all: bool = False


@click.command(epilog=EPILOG)
@looking_at
@click.option("--person", metavar="INITIALS", help="Only this person.")
@click.option("--procedure", metavar="ID", help="Only this procedure.")
@click.option("--role", metavar="ID", help="Only who is trained for or appointed to a role, and what its paths hold.")
@click.option("--all", "is_all", is_flag=True, help="Also the procedures that no path of a person holds.")
@click.pass_context
def standing(
    ctx: click.Context,
    files: tuple[Path, ...],
    folder: Path,
    records: tuple[Path, ...],
    on: datetime | None,
    form: str,
    person: str | None,
    procedure: str | None,
    role: str | None,
    is_all: bool,
) -> None:
    """Say how the competence of each person in each procedure stands on a day, and why.

    FILES are competence files, or folders with them. What is wanted of somebody is the furthest that the paths of their
    roles lead to; else to do it alone. To have read something never equals being competent. A lapse stops no work in
    the middle, and no emergency waits for a competence.
    """
    found = opened(ctx, Given(files, folder, records, on))
    narrowed = Narrowed(person, procedure, role, is_all)
    _require_known(found, narrowed)
    rows = list(_rows(found, narrowed))
    lines = grouped(rows, "person", "{procedure}: {says}") or ["nobody"]
    tell(ctx, Report(found.day, COLUMNS, rows, [CLAIMS, "", *lines], found.problems), form)


def _require_known(found: Opened, narrowed: Narrowed) -> None:
    roles = [str(each) for each in found.book.plant.roles.roles]
    for what, given, known in (
        ("person in these files", narrowed.person, [each.initials for each in found.people]),
        ("procedure", narrowed.procedure, [*found.book.procedures]),
        ("role", narrowed.role, roles),
    ):
        names = {each.strip().lower() for each in known}
        if given is not None and given.strip().lower() not in names:
            raise click.UsageError(f"'{clean(given)}' is no {what}; {meant(given, known, 'see without this option')}")


def _rows(found: Opened, narrowed: Narrowed) -> Iterator[Mapping[str, str]]:
    chosen = None if narrowed.person is None else found.person(narrowed.person)
    for person in found.people:
        if chosen not in (None, person) or narrowed.role not in (None, *person.roles(found.day)):
            continue
        wanted = found.goals(person)
        for name in listed(found, person, narrowed):
            if narrowed.procedure in (None, name):
                yield row(found, person, name, wanted.get(name, ALONE))


def listed(found: Opened, person: Person, narrowed: Narrowed) -> tuple[str, ...]:
    """Return the procedures that are listed for a person: those of the paths, those with entries, or all."""
    if narrowed.role is not None:
        named = [*goals(found.book.plant.training, (narrowed.role,))]
    else:
        named = [*found.goals(person), *person.procedures]
    named += [*found.book.procedures] if narrowed.is_all else []
    return tuple(name for name in dict.fromkeys(named) if name in found.book.procedures)


def row(found: Opened, person: Person, name: str, goal: str) -> Mapping[str, str]:
    """Return how somebody's competence in a procedure stands."""
    own = found.book.procedures[name]
    stands = found.stands(person, name, goal)
    return {
        "person": clean(person.initials),
        "procedure": name,
        "title": own.title,
        "goal": PLAIN[goal],
        "standing": stands.word,
        "since": stands.since,
        "lapses_on": stands.lapses_on,
        "says": standing_in_words(stands, own.steps),
    }

"""`tankside training print`: who may do what, as a sheet."""

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import click

from tankside.cli.sheets_book import cannot_print
from tankside.cli.showing import show_problems
from tankside.cli.training_reading import Given, Opened, book_records_on, opened
from tankside.cli.training_standing import Narrowed, listed, row
from tankside.model.training import ALONE
from tankside.problems import has_errors
from tankside.publish.building import OUTPUT
from tankside.render_print.drawer import put_new
from tankside.render_print.engine import Engine, PrintUnavailableError, SheetFailedError
from tankside.render_print.standings import NAME, standings
from tankside.texts import words
from tankside.views.training.standings import StandingRow, StandingsView

EPILOG = "Example:  tankside training print competences/ --records records/ --to office/today.pdf"


@click.command("print", epilog=EPILOG)
@book_records_on
@click.option(
    "--to",
    "target",
    type=click.Path(dir_okay=False, path_type=Path),
    help="The file that is written.  [default: build/training/who-may-do-what-DAY.pdf of the book]",
)
@click.pass_context
def print_standings(
    ctx: click.Context,
    files: tuple[Path, ...],
    folder: Path,
    records: tuple[Path, ...],
    on: datetime | None,
    target: Path | None,
) -> None:
    """Make a list of who may do what on a day, to hang where work is given out.

    It holds initials, no names, and is out of date when anything happens. Nothing is ever overwritten.
    """
    found = opened(ctx, Given(files, folder, records, on))
    show_problems(found.problems, err=True)
    path = target or folder / OUTPUT / "training" / f"{NAME}-{found.day}.pdf"
    if path.exists():
        raise click.UsageError(f"{path} is there already, and nothing is overwritten; name another with --to")
    facts, language = found.book.plant.facts, str(found.book.plant.facts.languages[0])
    view = StandingsView(found.day, tuple(_people(found)))
    try:
        data = Engine().pdf(standings(view, facts, words(language), language))
        put_new(path, data)
    except (PrintUnavailableError, SheetFailedError) as error:
        cannot_print(ctx, error)
    except OSError as error:
        raise click.UsageError(f"{path} cannot be written: {error.strerror or error}; name another --to") from error
    click.echo(str(path))
    ctx.exit(1 if has_errors(found.problems) else 0)


def _people(found: Opened) -> Iterator[tuple[str, tuple[StandingRow, ...]]]:
    for person in found.people:
        wanted = found.goals(person)
        rows = [row(found, person, name, wanted.get(name, ALONE)) for name in listed(found, person, Narrowed())]
        if rows:
            shown = (StandingRow(each["title"], each["goal"], each["says"]) for each in rows)
            yield rows[0]["person"], tuple(shown)

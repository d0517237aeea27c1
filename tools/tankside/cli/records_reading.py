"""`tankside records list`, `show` and `csv`: what stands in records, for people and for spreadsheets."""

from collections.abc import Iterator
from pathlib import Path

import click

from tankside.cli.records_check import FILE, files_argument
from tankside.cli.records_show import shown
from tankside.cli.records_tables import COLUMNS, as_csv
from tankside.cli.records_words import clean, moment, state_of
from tankside.cli.showing import show_problems
from tankside.problems import Severity, has_errors
from tankside.records.checking import Checked, check_files
from tankside.records.examining import SHORT
from tankside.records.record import Record

#: two of them stand between columns
GAP = "  "


def read(files: tuple[Path, ...]) -> Checked:
    """Read records; print what is wrong with them where it is not taken for their content."""
    checked = check_files(files)
    errors = tuple(each for each in checked.problems if each.severity is Severity.ERROR)
    show_problems(errors, err=True)
    if errors:
        said = "What can be told is shown." if checked.records else "Nothing can be told."
        click.echo(f"{said} For the remarks see 'tankside records check'.", err=True)
    return checked


def leave(ctx: click.Context, checked: Checked) -> None:
    """Leave with the exit code for what was found."""
    ctx.exit(1 if has_errors(checked.problems) else 0)


@click.command("list", epilog="Example:  tankside records list records/*.json")
@files_argument
@click.pass_context
def list_records(ctx: click.Context, files: tuple[Path, ...]) -> None:
    """List working copies, one a line, the first one begun first.

    A line has the working copy, what was followed, lot, revision and edition, start, state, last event and by whom.
    """
    checked = read(files)
    for line in _aligned([_row(record) for record in checked.records]):
        click.echo(line)
    leave(ctx, checked)


def _row(record: Record) -> tuple[str, ...]:
    script, last = record.copy.script, record.last
    return (
        record.name,
        clean(script.id),
        clean(record.title),
        f"lot {clean(record.lot)}" if record.lot else "no lot",
        f"revision {record.revision} {script.hash[:SHORT]}",
        f"begun {_time(record.first['at'])}",
        state_of(record),
        f"last {last['kind']} {_time(last['at'])}",
        clean(last["who"]),
    )


def _time(at: str) -> str:
    return moment(at, "")


def _aligned(rows: list[tuple[str, ...]]) -> Iterator[str]:
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    for row in rows:
        yield GAP.join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()


@click.command(epilog="Example:  tankside records show records/bleed-cleaner-line-L-7.json")
@click.argument("file", type=FILE)
@click.pass_context
def show(ctx: click.Context, file: Path) -> None:
    """Show the whole of a record: deviations first, then each step with its state, who, when, values and limits.

    What was corrected is still shown. Events are counted from 1. Initials and roles are claims, no signatures.
    """
    checked = read((file,))
    if checked.records:
        click.echo("\n\n\n".join(map(shown, checked.records)))
    leave(ctx, checked)


@click.command("csv", epilog="Example:  tankside records csv --what readings records/*.json > readings.csv")
@files_argument
@click.option("--what", type=click.Choice([*COLUMNS]), default="events", help="What there is a line for.")
@click.pass_context
def csv_of_records(ctx: click.Context, files: tuple[Path, ...], what: str) -> None:
    """Write records as comma-separated values, for a spreadsheet.

    A ' stands before a text that a spreadsheet would take for a formula (one that begins with = + - or @), and before
    one that it would make a number or a date of (a lot 007 or 12-10). Values, limits and counts are left as they are.
    """
    checked = read(files)
    click.echo(as_csv(checked.records, what), nl=False)
    leave(ctx, checked)

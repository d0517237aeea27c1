"""`tankside sheets issue`: a record sheet, to carry a procedure or checklist out with a pen."""

import json
from dataclasses import replace
from pathlib import Path

import click

from tankside.checkup import Checkup
from tankside.cli.sheets_book import cannot_print, sheet_book
from tankside.cli.showing import Progress, book_option
from tankside.edition import Edition
from tankside.model.procedures import Checklist, Procedure
from tankside.problems import meant
from tankside.publish.building import OUTPUT
from tankside.records.issuing import CannotIssueError, Wanted, issue_for
from tankside.records.script import Script
from tankside.records.serials import ALPHABET, WHOLE, fault, grouped, new_serial, plain
from tankside.render_print.drawer import put_new
from tankside.render_print.engine import PrintUnavailableError, SheetFailedError
from tankside.render_print.paper import SIZES_MM
from tankside.render_print.record_sheets import RecordSheetMaker
from tankside.views.record_sheets import SheetOrder

#: where sheets are put, below the output of the book
SHEETS = "record-sheets"
#: sheets that one call makes at most
MOST_COPIES = 50
EPILOG = """
Without --lot it is a blank for the drawer: lot, size and date are written by hand, the amounts stand as a table. With
--lot it is issued for that lot only. Exit codes: 0 made, 1 problems in the book, 2 wrong usage.

Example:  tankside sheets issue blend-milk-line-cleaner --lot L-7 --set batch="150 L"
"""
#: what is wrong with a serial -> what to do
FAULTS = {
    "length": f"it has {WHOLE} characters; type it as it stands on the sheet, or leave --serial away for a new one",
    "character": f"only these stand in one: {ALPHABET}; look at the sheet again",
    "check": "its last character does not fit the others; compare it with the sheet, one character is wrong",
}


@click.command(epilog=EPILOG)
@click.argument("name", metavar="NAME")
@book_option
@click.option("--lot", help="The lot that it is issued for.")
@click.option("--set", "settings", multiple=True, metavar='INPUT="VALUE UNIT"', help="What is chosen for the lot.")
@click.option("--bottle", metavar="SIZE", help="The size of the bottles, where labels are changed to.")
@click.option("--copies", type=click.IntRange(1, MOST_COPIES), default=1, help="How many, each with its own serial.")
@click.option("--serial", help="A given serial, to make the same sheet again.  [default: a new one]")
@click.option("--paper", type=click.Choice(sorted(SIZES_MM)), help="The paper.  [default: that of the book]")
@click.option(
    "--to", "target", type=click.Path(file_okay=False, path_type=Path), help="Where to.  [default: build/record-sheets]"
)
@click.pass_context
def issue(
    ctx: click.Context,
    name: str,
    folder: Path,
    lot: str | None,
    settings: tuple[str, ...],
    bottle: str | None,
    copies: int,
    serial: str | None,
    paper: str | None,
    target: Path | None,
) -> None:
    """Make a sheet on which NAME is carried out with a pen, when there is no tablet.

    It is a record, and is typed into a working copy afterwards. Nothing is ever overwritten.
    """
    serials = _serials(serial, copies)
    book = sheet_book(ctx, folder)
    edition = _edition(book.checkup, name)
    order = _order(edition, Wanted(lot, settings, bottle))
    places = {each: (target or folder / OUTPUT / SHEETS) / f"record-{each}.pdf" for each in serials}
    _refuse_taken(places)
    try:
        _make(RecordSheetMaker(book.maker(paper)), order, places)
    except (PrintUnavailableError, SheetFailedError) as error:
        cannot_print(ctx, error)


def _serials(given: str | None, copies: int) -> tuple[str, ...]:
    if given is None:
        return tuple(new_serial() for _ in range(copies))
    if copies > 1:
        raise click.UsageError("one serial is for one sheet; leave --copies or --serial away")
    serial = plain(given)
    if found := fault(serial):
        raise click.UsageError(f"'{given}' is no serial of a record sheet: {FAULTS[found]}")
    return (serial,)


def _edition(checkup: Checkup, name: str) -> Edition:
    if name not in checkup.editions:
        way_out = meant(name, checkup.editions, "see tankside check")
        raise click.UsageError(f"'{name}' is no procedure or checklist; {way_out}")
    edition = checkup.editions[name]
    written = edition.written
    if isinstance(written, Procedure) and written.is_emergency:
        raise click.UsageError(
            f"'{name}' is for an emergency: nobody writes first. Print its sheet with 'tankside sheets {name}', act by "
            "it, and write down afterwards what happened"
        )
    if isinstance(written, Checklist) and not written.is_followed:
        raise click.UsageError(_only_titles(checkup, edition))
    return edition


def _only_titles(checkup: Checkup, edition: Edition) -> str:
    """Return why there is no sheet of a checklist that lists no steps, with those of its procedures that have one."""
    procedures = (checkup.editions[part.procedure].written for part in edition.parts)
    named = dict.fromkeys(
        str(each.procedure) for each in procedures if isinstance(each, Procedure) and not each.is_emergency
    )
    return (
        f"'{edition.id}' lists titles only, so there are no steps to mark; make a sheet for each that is followed: "
        f"{', '.join(named)}"
    )


def _order(edition: Edition, wanted: Wanted) -> SheetOrder:
    script = Script(json.loads(edition.canonical))
    try:
        return SheetOrder(edition, script, issue_for(script, wanted), "")
    except CannotIssueError as error:
        raise click.UsageError(str(error)) from error


def _refuse_taken(places: dict[str, Path]) -> None:
    for serial, path in places.items():
        if path.exists():
            raise click.UsageError(
                f"{path} is there already, and nothing is overwritten; print that one, or leave --serial away for a "
                f"sheet with another serial than {grouped(serial)}"
            )


def _make(maker: RecordSheetMaker, order: SheetOrder, places: dict[str, Path]) -> None:
    progress = Progress()
    for serial, path in places.items():
        progress(f"sheet {grouped(serial)}")
        try:
            data = maker.pdf(replace(order, serial=serial))
            put_new(path, data)
        except OSError as error:
            raise click.UsageError(f"{path} cannot be written: {error.strerror or error}; name another --to") from error
        finally:
            progress.done()
        click.echo(str(path))

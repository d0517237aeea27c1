"""`tankside sheets list`: the posted-copy list."""

import json
from pathlib import Path

import click

from tankside.cli.sheets_book import SheetBook, sheet_book
from tankside.cli.showing import book_option
from tankside.cli.spreadsheets import as_text, table
from tankside.edition.sheets import SheetEdition, hanging
from tankside.posted import COLUMNS, copies

EPILOG = """
Carry it from wall to wall: write what is printed on each copy behind 'Content' into the column 'found', or - where
there is no copy. Then give it to 'tankside sheets posted'.

Example:  tankside sheets list --format csv > walls.csv
"""


@click.command("list", epilog=EPILOG)
@book_option
@click.option("--place", help="Only what hangs at a place.")
@click.option("--format", "form", type=click.Choice(["text", "csv", "json"]), default="text", show_default=True)
@click.pass_context
def list_sheets(ctx: click.Context, folder: Path, place: str | None, form: str) -> None:
    """List which sheet hangs where, with its revision and content.

    As text, also the sheets for which no place is named.
    """
    book = sheet_book(ctx, folder)
    if place is not None and place not in book.book.plant.sheets.places:
        raise click.UsageError(f"'{place}' is no place of this book; see tankside sheets list")
    rows = [_row(each.place, each.sheet) for each in copies(book.sheets.values()) if place in (None, each.place)]
    if form == "csv":
        click.echo(table(COLUMNS, ([as_text(cell) for cell in row] for row in rows)), nl=False)
    elif form == "json":
        click.echo(json.dumps([dict(zip(COLUMNS, row, strict=True)) for row in rows], indent=2, ensure_ascii=False))
    else:
        _as_text(book, rows, place)


def _row(place: str, sheet: SheetEdition) -> tuple[str, ...]:
    return place, sheet.id, sheet.kind, sheet.revision, sheet.short_hash, ""


def _as_text(book: SheetBook, rows: list[tuple[str, ...]], place: str | None) -> None:
    lines = {name: [row for row in rows if row[0] == name] for name in dict.fromkeys(row[0] for row in rows)}
    width = max((len(each) for each in book.sheets), default=0)
    for name, found in lines.items():
        words = next(text for key, text in book.book.plant.sheets.places.items() if key == name)
        click.secho(f"{name}: {words}", bold=True)
        for row in found:
            click.echo(_line(row, width))
    if place is None:
        click.secho("no place is named", bold=True)
        for sheet in hanging(book.sheets.values()):
            if not sheet.entry.hangs:
                click.echo(_line(_row("", sheet), width))


def _line(row: tuple[str, ...], width: int) -> str:
    _, name, kind, revision, short_hash, _ = row
    return f"  {name:{width}}  {kind:15}  revision {revision:>2}  {short_hash}"

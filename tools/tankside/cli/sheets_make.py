"""`tankside sheets make`."""

import shutil
from dataclasses import replace
from pathlib import Path

import click

from tankside.cli.sheets_book import SheetBook, audience_option, cannot_print, sheet_book
from tankside.cli.showing import Progress, book_option, counted, show_problems
from tankside.edition import Audience
from tankside.edition.sheets import SheetEdition, hanging
from tankside.history import is_known, sheets_changed
from tankside.loading.values import Text
from tankside.model.sheets import SHEET_KINDS
from tankside.problems import Span, meant
from tankside.publish.building import OUTPUT, SHELF
from tankside.render_print.engine import PrintUnavailableError
from tankside.render_print.paper import SIZES_MM
from tankside.render_print.shelf import Shelf

EPILOG = """
Print at actual size. Cut along the dashed line before laminating, so that film meets film all around.

Example:  tankside sheets make splash splash-banner
"""


@click.command(epilog=EPILOG)
@click.argument("ids", nargs=-1, metavar="[ID]...")
@book_option
@click.option("--family", help="Only those of the procedures of a family.")
@click.option("--place", help="Only those that hang at a place.")
@click.option("--kind", type=click.Choice(SHEET_KINDS), help="Only those of a kind.")
@click.option("--paper", type=click.Choice(sorted(SIZES_MM)), help="Only those on this paper.")
@click.option("--changed", is_flag=True, help="Only those that show something else than at the last commit.")
@click.option("--against", default="HEAD", show_default=True, help="The commit that --changed compares with.")
@click.option("--on", "other", type=click.Choice(sorted(SIZES_MM)), help="Lay them out on other paper than declared.")
@audience_option
@click.option(
    "--into", type=click.Path(file_okay=False, path_type=Path), help="Where to write.  [default: BOOK/build/sheets]"
)
@click.pass_context
def make(
    ctx: click.Context,
    ids: tuple[str, ...],
    folder: Path,
    family: str | None,
    place: str | None,
    kind: str | None,
    paper: str | None,
    changed: bool,
    against: str,
    other: str | None,
    audience: str,
    into: Path | None,
) -> None:
    """Make sheets, by their ids or by what they are; all that hang when nothing is said.

    One PDF each. A training sheet is made when it is asked for, by its id or by --kind.
    """
    if changed and not is_known(folder, against):
        raise click.UsageError(f"git knows no commit '{against}' in {folder}")
    book = sheet_book(ctx, folder, audience)
    chosen = _named(book, ids) if ids else list(book.sheets.values() if kind else hanging(book.sheets.values()))
    chosen = [each for each in chosen if _is_of(book, each, family, place, kind, paper)]
    if changed:
        found = sheets_changed(folder, book.sheets, against, Audience(audience))
        if found is None:
            way_out = "name a commit at which 'tankside check' was clean with --against"
            raise click.UsageError(f"the book had problems at '{against}', so nothing can be compared; {way_out}")
        chosen = [each for each in chosen if each.id in found]
    if not chosen:
        click.echo("No sheet is meant by this; 'tankside sheets list' shows them all.", err=True)
        return
    _make(ctx, book, [_on(each, other) for each in chosen], folder, into)


def _named(book: SheetBook, ids: tuple[str, ...]) -> list[SheetEdition]:
    for name in ids:
        if name not in book.sheets:
            raise click.UsageError(f"'{name}' is no sheet; {meant(name, book.sheets, 'see tankside sheets list')}")
    return [book.sheets[name] for name in ids]


def _is_of(
    book: SheetBook, sheet: SheetEdition, family: str | None, place: str | None, kind: str | None, paper: str | None
) -> bool:
    own_paper = str(sheet.entry.paper or book.book.plant.facts.paper)
    own_family = str(getattr(sheet.edition.written, "family", "")) if sheet.edition else ""
    wanted = ((family, (own_family,)), (place, sheet.entry.hangs), (kind, (sheet.kind,)), (paper, (own_paper,)))
    _refuse_unknown(book, family, place)
    return all(one is None or one in known for one, known in wanted)


def _refuse_unknown(book: SheetBook, family: str | None, place: str | None) -> None:
    families = {str(each.family) for each in book.book.procedures.values()}
    for option, value, known in (("family", family, families), ("place", place, book.book.plant.sheets.places)):
        if value is not None and value not in known:
            way_out = meant(value, known, f"known are: {', '.join(sorted(known)) or 'none'}")
            raise click.UsageError(f"'{value}' is no {option} of this book; {way_out}")


def _on(sheet: SheetEdition, paper: str | None) -> SheetEdition:
    if paper is None:
        return sheet
    return replace(sheet, entry=replace(sheet.entry, paper=Text(paper, Span(""))))


def _make(ctx: click.Context, book: SheetBook, sheets: list[SheetEdition], folder: Path, into: Path | None) -> None:
    progress = Progress()
    try:
        made = book.maker().make_all(sheets, Shelf(folder / OUTPUT / SHELF), progress)
    except PrintUnavailableError as error:
        progress.done()
        cannot_print(ctx, error)
    progress.done()
    target = into or folder / OUTPUT / "sheets"
    target.mkdir(parents=True, exist_ok=True)
    for name, path in made.places.items():
        click.echo(str(shutil.copyfile(path, target / f"{name}.pdf")))
    if made.problems:
        show_problems(made.problems, err=True)
        failed = counted(len(sheets) - len(made.places), "sheet")
        click.echo(f"{failed} could not be made.", err=True)
        ctx.exit(1)

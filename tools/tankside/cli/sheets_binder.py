"""`tankside sheets binder`."""

from pathlib import Path

import click

from tankside.cli.sheets_book import audience_option, cannot_print, sheet_book
from tankside.cli.showing import Progress, book_option
from tankside.edition.sheets import hanging
from tankside.publish.building import OUTPUT
from tankside.render_print.binder import binder as bound
from tankside.render_print.engine import PrintUnavailableError, SheetFailedError
from tankside.render_print.paper import SIZES_MM
from tankside.render_print.shelf import put_whole
from tankside.views.audit import audit_view

EPILOG = """
Print it on both sides, flipped at the long edge, and punch it at the wide margin.

Example:  tankside sheets binder
"""


@click.command(epilog=EPILOG)
@book_option
@click.option("--paper", type=click.Choice(sorted(SIZES_MM)), help="The paper.  [default: that of the book]")
@audience_option
@click.option("--to", "target", type=click.Path(dir_okay=False, path_type=Path), help="[default: build/binder.pdf]")
@click.pass_context
def binder(ctx: click.Context, folder: Path, paper: str | None, audience: str, target: Path | None) -> None:
    """Make one PDF of everything, with contents and the statement of the audit."""
    book = sheet_book(ctx, folder, audience)
    progress = Progress()
    try:
        maker = book.maker(paper)
        hashes = (each.hash for each in book.checkup.editions.values())
        view = audit_view(book.audit, book.book, hashes, maker.say("audit-workshop"))
        data = bound(maker, list(hanging(book.sheets.values())), view, progress)
    except (PrintUnavailableError, SheetFailedError) as error:
        progress.done()
        cannot_print(ctx, error)
    progress.done()
    path = target or folder / OUTPUT / "binder.pdf"
    put_whole(path, data)
    click.echo(str(path))

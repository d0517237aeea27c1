"""`tankside sheets`."""

import shutil
from pathlib import Path

import click

from tankside.audit import audit_of
from tankside.audit.day import today
from tankside.checkup import check_book
from tankside.cli.showing import Progress, book_option, show_problems, summary
from tankside.loading.sources import picture_data
from tankside.problems import meant
from tankside.publish.building import OUTPUT, SHELF
from tankside.render_print.engine import Engine, PrintUnavailableError, SheetFailedError
from tankside.render_print.sheets import SheetMaker
from tankside.render_print.shelf import Shelf
from tankside.views.audit import stamps


@click.command(epilog="Example:  tankside sheets splash bleed-cleaner-line")
@click.argument("ids", nargs=-1, metavar="[ID]...")
@book_option
@click.option(
    "--into", type=click.Path(file_okay=False, path_type=Path), help="Where to write.  [default: BOOK/build/sheets]"
)
@click.pass_context
def sheets(ctx: click.Context, ids: tuple[str, ...], folder: Path, into: Path | None) -> None:
    """Make the step sheets of the named procedures and checklists, or of all.

    One PDF each, to be printed and laminated.
    """
    checkup = check_book(folder)
    if checkup.book is None or checkup.rehearsal is None or not checkup.is_sound:
        show_problems(checkup.problems, err=True)
        click.echo(f"{summary(checkup)}. No sheet was made.", err=True)
        ctx.exit(1)
    for name in ids:
        if name not in checkup.editions:
            raise click.UsageError(
                f"'{name}' is no procedure or checklist; {meant(name, checkup.editions, 'see tankside check')}"
            )
    progress = Progress()
    chosen = [checkup.editions[name] for name in ids or checkup.editions]
    try:
        facts = checkup.book.plant.facts
        audit = audit_of(checkup.rehearsal, today())
        maker = SheetMaker(Engine(), picture_data(folder), facts, str(facts.languages[0]), stamps(audit))
        shelf = Shelf(folder / OUTPUT / SHELF)
        made = maker.make_all(chosen, shelf, progress)
    except (PrintUnavailableError, SheetFailedError) as error:
        progress.done()
        click.echo(f"Error: {error}", err=True)
        ctx.exit(1)
    progress.done()
    target = into or folder / OUTPUT / "sheets"
    target.mkdir(parents=True, exist_ok=True)
    for name, path in made.items():
        click.echo(str(shutil.copyfile(path, target / f"{name}.pdf")))

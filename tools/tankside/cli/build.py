"""`tankside build`."""

from pathlib import Path

import click

from tankside.checkup import check_book
from tankside.cli.showing import Progress, folder_argument, show_problems, summary
from tankside.edition import Audience
from tankside.publish.building import Build, OutsideAddressError, build_site
from tankside.publish.policy import UnsafePageError
from tankside.render_print.engine import Engine, PrintUnavailableError, SheetFailedError
from tankside.render_print.sheets import SheetMaker
from tankside.render_site.theme import CONFIG, ThemeFailedError

NO_SHEETS = """
ATTENTION: the sheets are NOT made, because this computer lacks the print libraries.
The site is complete without them. To make them, install Pango
(Debian: apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0), then build again.
"""


@click.command(epilog="Example:  tankside build .  then open build/site/index.html")
@folder_argument
@click.option(
    "--audience",
    type=click.Choice([each.value for each in Audience]),
    default=Audience.FLOOR.value,
    help="Who it is for.",
)
@click.pass_context
def build(ctx: click.Context, folder: Path, audience: str) -> None:
    """Build the offline site and the step sheets into BOOK/build.

    Nothing is published while the book has errors or a sheet does not fit; the last good site stays.
    """
    if not (folder / CONFIG).is_file():
        raise click.UsageError(f"{folder} has no {CONFIG}; a book needs one beside its procedures/")
    progress = Progress()
    progress("book")
    checkup = check_book(folder, Audience(audience))
    if checkup.book is None or not checkup.is_sound:
        progress.done()
        show_problems(checkup.problems, err=True)
        click.echo(f"{summary(checkup)}. Nothing was built; the last good site stays.", err=True)
        ctx.exit(1)
    show_problems(checkup.problems, err=True)
    language = str(checkup.book.facts.languages[0])
    try:
        maker = SheetMaker(Engine(), folder, checkup.book.facts, language)
    except PrintUnavailableError:
        maker = None
    try:
        site = build_site(Build(folder.resolve(), checkup.book, checkup.editions, language, maker, progress))
    except (ThemeFailedError, UnsafePageError, OutsideAddressError, SheetFailedError) as error:
        progress.done()
        click.echo(f"{error}\nNothing was published; the last good site stays.", err=True)
        ctx.exit(1)
    progress.done()
    if maker is None:
        click.secho(NO_SHEETS, err=True, bold=True)
    click.echo(f"{summary(checkup)}. Open {(site / 'index.html').as_uri()}")

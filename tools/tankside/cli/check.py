"""`tankside check`."""

from pathlib import Path

import click

from tankside.checkup import Checkup, check_book
from tankside.cli.showing import folder_argument, show_problems, summary
from tankside.history import is_known
from tankside.problem_formats import FORMATS


@click.command(epilog="Example:  tankside check .  or  tankside check --format json ../book")
@folder_argument
@click.option("--format", "form", type=click.Choice(["text", *FORMATS]), default="text", help="How they are printed.")
@click.option("--against", metavar="REVISION", help="The git commit to compare editions with.  [default: HEAD]")
@click.pass_context
def check(ctx: click.Context, folder: Path, form: str, against: str | None) -> None:
    """Find what is wrong with a book, with file, line and column.

    Reads data only: whether a sheet fits its paper is found by 'tankside build'. Writes nothing.
    """
    if against is not None and not is_known(folder, against):
        raise click.UsageError(f"git knows no commit '{against}' in {folder}")
    checkup = check_book(folder, against=against or "HEAD")
    if form in FORMATS:
        click.echo(FORMATS[form](checkup.problems))
    else:
        show_problems(checkup.problems)
        if checkup.count:
            click.echo(summary(checkup))
    ctx.exit(_exit_code(checkup))


def _exit_code(checkup: Checkup) -> int:
    if checkup.is_sound:
        return 0
    # A folder that holds no book was named by mistake.
    return 1 if checkup.count else 2

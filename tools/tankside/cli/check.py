"""`tankside check`."""

from pathlib import Path

import click

from tankside.checkup import check_book
from tankside.cli.showing import folder_argument, show_problems, summary
from tankside.problems import problems_as_json


@click.command(epilog="Example:  tankside check .  or  tankside check --format json ../book")
@folder_argument
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", help="How problems are printed.")
@click.option("--against", metavar="REVISION", default="HEAD", help="The git commit to compare editions with.")
@click.pass_context
def check(ctx: click.Context, folder: Path, form: str, against: str) -> None:
    """Find what is wrong with a book, with file, line and column.

    Reads data only: whether a sheet fits its paper is found by 'tankside build'. Writes nothing.
    """
    checkup = check_book(folder, against=against)
    if form == "json":
        click.echo(problems_as_json(checkup.problems))
    else:
        show_problems(checkup.problems)
        click.echo(summary(checkup))
    ctx.exit(0 if checkup.is_sound else 1)

"""`tankside build`."""

from pathlib import Path

import click

from tankside.cli.outcome import require_config, say_outcome
from tankside.cli.showing import Progress, folder_argument
from tankside.edition import Audience
from tankside.publish.making import make_site


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

    The site for the office shows what is confidential, and stands in BOOK/build/site-office.
    Nothing is published while the book has errors or a sheet does not fit; the last good site stays.
    """
    require_config(folder)
    progress = Progress()
    outcome = make_site(folder, Audience(audience), progress)
    progress.done()
    say_outcome(outcome, (outcome.site / "index.html").as_uri() if outcome.site else "")
    if outcome.site is None:
        ctx.exit(1)

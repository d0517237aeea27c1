"""What `build` and `serve` say of a book that was checked and built."""

from pathlib import Path

import click

from tankside.cli.showing import counted, show_problems, summary
from tankside.problems import Severity
from tankside.publish.making import Outcome
from tankside.render_site.theme import CONFIG

NO_SHEETS = """
ATTENTION: the sheets are NOT made, because this computer lacks the print libraries.
The site is complete without them. To make them, install Pango
(Debian: apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0), then build again.
"""


def require_config(folder: Path) -> None:
    """Refuse a folder that the theme cannot make a site of."""
    if not (folder / CONFIG).is_file():
        raise click.UsageError(f"{folder} has no {CONFIG}; a book needs one beside its procedures/")


def say_outcome(outcome: Outcome, address: str) -> None:
    """Print the errors that were found and what became of the site, which is to be opened at `address`."""
    problems = outcome.checkup.problems
    errors = tuple(each for each in problems if each.severity is Severity.ERROR)
    show_problems(errors, err=True)
    if len(errors) < len(problems):
        click.echo("For the remarks see 'tankside check'.", err=True)
    if outcome.failure:
        click.echo(f"{outcome.failure}\nNothing was published; the site stays as it was.", err=True)
    elif outcome.site is None:
        click.echo(f"{summary(outcome.checkup)}. Nothing was built; the site stays as it was.", err=True)
    else:
        if not outcome.has_sheets:
            click.secho(NO_SHEETS, err=True, bold=True)
        _say_drafts(outcome)
        click.echo(f"{summary(outcome.checkup)}. Open {address}")


def _say_drafts(outcome: Outcome) -> None:
    if outcome.audit is not None and outcome.audit.has_must:
        count = counted(len(outcome.audit.drafts), "procedure or checklist", "procedures and checklists")
        click.echo(f"Audit: {count} not for use, each stamped so. For the reasons see 'tankside audit'.", err=True)

"""The command `tankside`: one verb a file."""

import gc
import io
import os
import sys
import traceback
from pathlib import Path

import click

from tankside.cli.audit import audit
from tankside.cli.build import build
from tankside.cli.calc import calc
from tankside.cli.check import check
from tankside.cli.dry_run import dry_run
from tankside.cli.new import new
from tankside.cli.records import records
from tankside.cli.schema import schema
from tankside.cli.serve import serve
from tankside.cli.sheets import sheets
from tankside.cli.training import training
from tankside.memory import Memory

EPILOG = """
A book is a folder with procedures/, checklists/, site_src/ and mkdocs.yml. Start with 'tankside check', then
'tankside build', and open build/site/index.html.

Exit codes: 0 clean, 1 problems in the book, 2 wrong usage, 3 a fault of ours, 130 interrupted.
"""


@click.group(epilog=EPILOG, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="tankside")
def tankside() -> None:
    """Check, work out and publish a workshop's book of procedures."""


for verb in (check, dry_run, audit, build, serve, sheets, records, training, calc, new, schema):
    tankside.add_command(verb)


def main() -> None:
    """Run the command and leave with its exit code; a fault of ours is a sentence, not a traceback."""
    # A book is many small objects that live to the end; to look through them as often as usual takes a fifth longer.
    gc.set_threshold(100_000, 20, 20)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            # A terminal that lacks a character shows its number rather than ending the run.
            stream.reconfigure(errors="backslashreplace")
    try:
        # What several rules ask of one procedure is worked out once.
        with Memory().in_use():
            code = tankside.main(standalone_mode=False)
    except click.exceptions.Exit as leaving:
        code = leaving.exit_code
    except click.ClickException as error:
        error.show()
        code = 2
    except (click.Abort, KeyboardInterrupt):
        click.echo("Interrupted. The site stays as it was.", err=True)
        code = 130
    except Exception as error:
        code = 3
        _own_fault(error)
    sys.exit(code)


def _own_fault(error: Exception) -> None:
    where = traceback.extract_tb(error.__traceback__)[-1]
    place = f"{Path(where.filename).name}:{where.lineno}"
    click.echo(f"This is a fault in tankside, not in your book: {type(error).__name__}: {error} ({place})", err=True)
    if os.environ.get("TANKSIDE_TRACE"):
        traceback.print_exception(error)
    else:
        click.echo("Run it again with TANKSIDE_TRACE=1 set to see where, and please report it.", err=True)

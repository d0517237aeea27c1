"""`tankside sheets`: what hangs on the wall."""

import click

from tankside.cli.sheets_binder import binder
from tankside.cli.sheets_issue import issue
from tankside.cli.sheets_list import list_sheets
from tankside.cli.sheets_make import make
from tankside.cli.sheets_posted import posted

EPILOG = """
What is no command is the id of a sheet: 'tankside sheets splash' is 'tankside sheets make splash'.

Example:  tankside sheets --place eyewash
"""


class MakeByDefault(click.Group):
    """A group in which what is no command belongs to `make`."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Put `make` before what is neither a command nor asks for help."""
        if not args or (args[0] not in self.commands and args[0] not in ctx.help_option_names):
            args = ["make", *args]
        return super().parse_args(ctx, args)


@click.group(cls=MakeByDefault, epilog=EPILOG)
def sheets() -> None:
    """Make, list and issue sheets; compare what hangs on the walls with the book."""


for verb in (make, list_sheets, posted, issue, binder):
    sheets.add_command(verb)

"""`tankside training`: who may do what, and what is still to be learnt."""

import click

from tankside.cli.training_changes import changes
from tankside.cli.training_due import due
from tankside.cli.training_duties import duties
from tankside.cli.training_gaps import gaps, holds
from tankside.cli.training_print import print_standings
from tankside.cli.training_standing import standing
from tankside.cli.training_work import work


@click.group()
def training() -> None:
    """Say who may do what, from the competence files that a device saves.

    These commands read such files and change none. Initials and roles in them are claims, no signatures. Names live
    only there, never in the book. A lapse stops no work in the middle, and no emergency waits for a competence.
    """


for verb in (standing, due, holds, gaps, work, changes, duties, print_standings):
    training.add_command(verb)

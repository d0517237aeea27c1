"""`tankside records`: what was carried out."""

import click

from tankside.cli.records_board import board_of_records
from tankside.cli.records_check import check
from tankside.cli.records_reading import csv_of_records, list_records, show
from tankside.cli.records_redlines import redlines


@click.group()
def records() -> None:
    """Read and judge what was carried out.

    A device saves each working copy as a file; these commands read such files and change none. Initials and roles in
    them are claims, no signatures. The chain of hashes shows accidental or casual change; who has the device could
    write all of it anew. No compliance with any regulation is claimed.
    """


for verb in (check, list_records, show, redlines, csv_of_records, board_of_records):
    records.add_command(verb)

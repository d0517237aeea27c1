"""`tankside schema`."""

from pathlib import Path

import click

from tankside.schema.shapes import file_name
from tankside.starting.schemas import NAMES, schema_text, write_schemas


@click.command(epilog="Example:  tankside schema procedure  or  tankside schema --into .schema")
@click.argument("name", required=False, type=click.Choice(NAMES), metavar="[NAME]")
@click.option(
    "--into",
    type=click.Path(file_okay=False, path_type=Path),
    help="Write all of them into this folder, over those of an earlier version.",
)
def schema(name: str | None, into: Path | None) -> None:
    """List the schemas of a book's files and of what a device saves, print one, or write them all for your editor."""
    if name is not None and into is not None:
        raise click.UsageError("give a NAME to print one, or --into to write all, not both")
    if into is not None:
        _write(into)
    else:
        click.echo("\n".join(NAMES) if name is None else schema_text(name), nl=name is None)


def _write(folder: Path) -> None:
    try:
        paths = write_schemas(folder)
    except OSError as error:
        raise click.UsageError(f"nothing can be written into {folder}: {error.strerror}") from error
    click.echo(f"{len(paths)} schemas written into {folder}; {file_name('common')} is what the others refer to")

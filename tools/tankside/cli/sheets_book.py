"""A sound book with all its sheets, for the verbs that print them."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import NoReturn

import click

from tankside.audit import Audit, audit_of
from tankside.audit.day import today
from tankside.catalogue import Book
from tankside.checkup import Checkup, check_book
from tankside.cli.showing import show_problems, summary
from tankside.edition import Audience
from tankside.edition.sheets import SheetEdition, sheet_editions
from tankside.loading.sources import PICTURES, picture_data
from tankside.loading.values import Text
from tankside.problems import Span
from tankside.publish.withheld import SecretToldError, refuse_secrets
from tankside.render_print.engine import Engine, PrintUnavailableError
from tankside.render_print.sheets import SheetMaker
from tankside.views.audit import stamps

audience_option = click.option(
    "--audience",
    type=click.Choice([each.value for each in Audience]),
    default=Audience.FLOOR.value,
    help="Who they are for; only for the office do confidential recipes stand on them.",
)


@dataclass(frozen=True)
class SheetBook:
    """A sound book with all its sheets."""

    checkup: Checkup
    book: Book
    #: every sheet that is declared or goes without saying, by id
    sheets: Mapping[str, SheetEdition]
    #: name -> data of every picture
    pictures: Mapping[str, bytes]

    @property
    def audit(self) -> Audit:
        """Its audit of today."""
        assert self.checkup.rehearsal is not None
        return audit_of(self.checkup.rehearsal, today())

    def maker(self, paper: str | None = None) -> SheetMaker:
        """Return what makes its sheets, on another paper than the book's where one is named.

        Raises:
            PrintUnavailableError: the print libraries are not there.
        """
        plant = self.book.plant
        if paper is not None:
            plant = replace(plant, facts=replace(plant.facts, paper=Text(paper, Span(""))))
        language = str(plant.facts.languages[0])
        return SheetMaker(Engine(), self.pictures, plant, language, stamps(self.audit))


def sheet_book(ctx: click.Context, folder: Path, audience: str = Audience.FLOOR.value) -> SheetBook:
    """Return a book with its sheets; leave with its problems when it is not sound."""
    checkup = check_book(folder, Audience(audience))
    if not checkup.is_sound or checkup.book is None or checkup.rehearsal is None:
        show_problems(checkup.problems, err=True)
        click.echo(f"{summary(checkup)}. No sheet was made.", err=True)
        ctx.exit(1)
    pictures = picture_data(folder)
    try:
        # The texts of the floor are made without what is confidential; pictures are as they were drawn.
        refuse_secrets({f"{PICTURES}/{name}": data for name, data in pictures.items()}, folder, checkup.secrets)
    except SecretToldError as error:
        cannot_print(ctx, error)
    sheets = sheet_editions(checkup.book.plant, checkup.editions)
    return SheetBook(checkup, checkup.book, sheets, pictures)


def cannot_print(ctx: click.Context, error: PrintUnavailableError | Exception) -> NoReturn:
    """Leave because nothing could be laid out."""
    click.echo(f"Error: {error}", err=True)
    ctx.exit(1)

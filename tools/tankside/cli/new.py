"""`tankside new`: the only verb that writes into a book."""

import sys
from datetime import date
from pathlib import Path

import click

from tankside.catalogue import Book, load
from tankside.cli.showing import book_option, show_problems
from tankside.loading.sources import Folder
from tankside.problems import Severity
from tankside.starting.books import write_book
from tankside.starting.procedures import NO_TITLE, Wanted, refuse_unfit, usual_role, write_procedure
from tankside.starting.refusals import CannotStartError

BEGUN = """\
{folder} is a new book: {procedures} procedures, {checklists} checklist, the facts of a small plant.
It is a starter. What concerns safety in it is marked as not confirmed, until you have rewritten it.

Next:
  tankside check {quoted}
  tankside build {quoted}"""


def is_terminal() -> bool:
    """Return whether somebody is there to answer."""
    return sys.stdin.isatty()


@click.group()
def new() -> None:
    """Begin a book, or a procedure in one. Nothing is ever overwritten."""


@new.command("book", epilog="Example:  tankside new book our-book")
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
def new_book(folder: Path) -> None:
    """Write a small book into the new folder DIR, to be rewritten for your own workshop."""
    try:
        written = write_book(folder, date.today())
    except CannotStartError as error:
        raise click.UsageError(str(error)) from error
    except OSError as error:
        raise click.UsageError(f"{folder} cannot be written: {error.strerror}") from error
    procedures = [path for path in written if path.startswith("procedures/") and "/plant/" not in path]
    checklists = [path for path in written if path.startswith("checklists/")]
    counts = {"procedures": len(procedures), "checklists": len(checklists)}
    click.echo(BEGUN.format(folder=folder, quoted=_quoted(folder), **counts))


@new.command("procedure", epilog="Example:  tankside new procedure filling check-the-nozzle")
@click.argument("family")
@click.argument("name", metavar="ID")
@book_option
@click.option("--title", help="Its title.  [default: asked for on a terminal]")
@click.option("--done-by", metavar="ROLE", help="The role that does it.  [default: asked for on a terminal]")
@click.pass_context
def new_procedure(
    ctx: click.Context, family: str, name: str, folder: Path, title: str | None, done_by: str | None
) -> None:
    """Write procedures/FAMILY/ID.yaml, with each key explained and names of the book filled in.

    The families lockout and safety have templates of their own.
    """
    book = _book(ctx, folder)
    try:
        refuse_unfit(book, family, name)
        wanted = Wanted(family, name, _title(title), _role(done_by, book, family))
        path = write_procedure(folder, book, wanted, date.today())
    except CannotStartError as error:
        raise click.UsageError(str(error)) from error
    except OSError as error:
        raise click.UsageError(f"{error.filename or folder} cannot be written: {error.strerror}") from error
    click.echo(f"{path} is there. Write it out, then:\n  tankside check {_quoted(folder)}")
    click.echo(f"  tankside sheets --book {_quoted(folder)} {name}")


def _book(ctx: click.Context, folder: Path) -> Book:
    loaded = load(Folder(folder))
    if loaded.book is None:
        show_problems(tuple(each for each in loaded.problems if each.severity is Severity.ERROR), err=True)
        click.echo("Nothing was written: a new procedure takes its names from the facts of the plant.", err=True)
        # A folder that holds no book was named by mistake.
        ctx.exit(1 if loaded.count else 2)
    return loaded.book


def _title(given: str | None) -> str:
    if given is not None or not is_terminal():
        return NO_TITLE if given is None else given
    return str(click.prompt("Title, verb first", default=NO_TITLE))


def _role(given: str | None, book: Book, family: str) -> str:
    usual = usual_role(book, family)
    if given is not None or not is_terminal():
        return usual if given is None else given
    roles = [str(role) for role in book.plant.roles.roles]
    return str(click.prompt("Done by", type=click.Choice(roles), default=usual))


def _quoted(folder: Path) -> str:
    return f'"{folder}"' if " " in str(folder) else str(folder)

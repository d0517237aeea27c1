"""How verbs talk: problems in place order, progress on a terminal, colour only where it is wanted."""

import os
import sys
from pathlib import Path

import click

from tankside.checkup import Checkup
from tankside.problems import Problem, Severity

COLOURS = {Severity.ERROR: "red", Severity.REMARK: "yellow"}
folder_argument = click.argument(
    "folder", type=click.Path(exists=True, file_okay=False, path_type=Path), default=Path(), metavar="[BOOK]"
)

book_option = click.option(
    "--book",
    "folder",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    default=Path(),
    help="The book.  [default: this folder]",
)


def has_colour() -> bool:
    """Return whether the terminal wants colour (no-color.org)."""
    return sys.stdout.isatty() and not os.environ.get("NO_COLOR")


def show_problems(problems: tuple[Problem, ...], *, err: bool = False) -> None:
    """Print problems as text."""
    for problem in problems:
        text = problem.as_text()
        if has_colour():
            word = f" {problem.severity.value}: "
            text = text.replace(word, click.style(word, fg=COLOURS[problem.severity], bold=True), 1)
        click.echo(text, err=err)


def summary(checkup: Checkup) -> str:
    """Return one line on a book."""
    counts = {severity: sum(each.severity is severity for each in checkup.problems) for severity in Severity}
    files = counted(checkup.count, "file")
    found = [counted(count, severity.value) for severity, count in counts.items() if count]
    if checkup.book is None:
        return f"{files}: {', '.join(found)}"
    procedures = counted(len(checkup.book.procedures), "procedure")
    what = f"{procedures}, {counted(len(checkup.book.checklists), 'checklist')} in {files}"
    return f"{what}: {', '.join(found) or 'no problems'}"


def counted(count: int, noun: str, many: str = "") -> str:
    """Return a number of things in words; `many` is the plural where an s does not make it."""
    return f"{count} {noun if count == 1 else many or f'{noun}s'}"


class Progress:
    """Says what is being done: over the same line on a terminal, line by line elsewhere."""

    def __init__(self) -> None:
        """Begin with nothing said."""
        self._is_live = sys.stderr.isatty()

    def __call__(self, doing: str) -> None:
        """Say what is being done now."""
        if self._is_live:
            click.echo(f"\r\033[K{doing} ...", err=True, nl=False)
        else:
            click.echo(f"{doing} ...", err=True)

    def done(self) -> None:
        """Clear the line."""
        if self._is_live:
            click.echo("\r\033[K", err=True, nl=False)

"""`tankside records board`: what is in each piece of the plant, as far as records say."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import zip_longest
from pathlib import Path
from textwrap import wrap

import click

from tankside.checkup import on_the_floor, read_book
from tankside.cli.records_check import files_argument
from tankside.cli.records_reading import leave, read
from tankside.cli.records_show import wrapped
from tankside.cli.records_words import clean
from tankside.cli.showing import show_problems, summary
from tankside.plant.rehearsal import Rehearsal
from tankside.plant.state import State
from tankside.plant.volumes import Interval
from tankside.records.board import Board, board
from tankside.records.checking import Checked
from tankside.records.deeds import Reference
from tankside.texts import words
from tankside.views.states import StateWords

#: what is told of a piece, in this order
TOLD = (
    *("contents", "label", "wash", "is_open", "is_running", "is_locked", "joined_to", "is_under_pressure"),
    *("is_in_order", "is_proved", "dissipated", "verified"),
)
HEADS = ("Piece", "What was recorded of it", "Since", "Lot", "By")
#: characters of the columns
WIDTHS = (20, 30, 16, 10, 16)
GAP = "  "
#: what this is worth
AS_RECORDED = "As far as these records say. Somebody entered it; it never replaces looking."


@click.command("board", epilog="Example:  tankside records board records/*.json --book our-book")
@files_argument
@click.option(
    "--book",
    "folder",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    required=True,
    help="The book whose plant it is.",
)
@click.pass_context
def board_of_records(ctx: click.Context, files: tuple[Path, ...], folder: Path) -> None:
    """Show what is in each tank, line and drum, since when and by which lot, as far as records say.

    All records of a plant are wanted: what one of them leaves out, this does not know. It never replaces looking.
    """
    book = read_book(folder)
    if book.rehearsal is None:
        show_problems(book.problems, err=True)
        click.echo(f"{summary(book)}. There is no plant to show.", err=True)
        ctx.exit(1 if book.count else 2)
    checked = read(files)
    # What is recorded on the floor names what the floor is told.
    for line in _lines(on_the_floor(book.rehearsal), checked):
        click.echo(line)
    leave(ctx, checked)


def _lines(rehearsal: Rehearsal, checked: Checked) -> Iterator[str]:
    facts = rehearsal.facts.facts
    own = [each for each in checked.records if each.copy.script.edition["book"] == facts.book]
    setting = rehearsal.rehearsing.setting
    found = board(setting.at_rest, (record.copy for record in own))
    showing = _Board(found, StateWords(setting, words(str(facts.languages[0]))))
    yield AS_RECORDED
    yield ""
    yield from showing.table()
    left = [record.path for record in checked.records if record not in own]
    if left:
        yield from wrapped(f"Of another book, and left out: {', '.join(left)}")


class _Board:
    def __init__(self, found: Board, said: StateWords) -> None:
        self.board, self.words = found, said
        self.parts = said.setting.plant.parts
        self.names = said.setting.facts.equipment.equipment

    def table(self) -> Iterator[str]:
        """Return the lines of the table, and what is left to say below it."""
        yield from _row([(head,) for head in HEADS])
        yield GAP.join("-" * width for width in WIDTHS)
        for tag in self.parts:
            yield from self._piece(tag)
        silent = [tag for tag in self.parts if not self._is_told(tag)]
        gone = [tag for tag in self.board.since if tag not in self.parts]
        yield ""
        if silent:
            yield from wrapped(f"Nothing is recorded of: {', '.join(silent)}")
        if gone:
            yield from wrapped(f"No longer in the book: {', '.join(map(clean, gone))}")

    def _is_told(self, tag: str) -> bool:
        return any(self.board.known(tag, field) for field in TOLD) or tag in self.board.unsure

    def _piece(self, tag: str) -> Iterator[str]:
        title = f"{tag} ({self._name(tag)})"
        unsure = self.board.unsure.get(tag)
        if unsure is not None:
            yield from self._fact(title, "NOT SURE: look at it", unsure)
            title = ""
        for field in TOLD:
            since = self.board.known(tag, field)
            said = "" if since is None else self.words.fact(tag, field, self._inside(tag))
            if since is not None and said:
                yield from self._fact(title, said, since)
                title = ""

    def _name(self, tag: str) -> str:
        return next(str(piece.name) for name, piece in self.names.items() if name == tag)

    def _fact(self, title: str, said: str, since: Reference) -> Iterator[str]:
        at = f"{since.at[:10]} {since.at[11:16]}"
        by = [line for each in (since.id, since.step) for line in wrap(clean(each), WIDTHS[4])]
        return _row([wrap(title, WIDTHS[0]), wrap(said, WIDTHS[1]), [at], wrap(clean(since.lot), WIDTHS[3]), by])

    def _inside(self, tag: str) -> State:
        """Return the state with no more in a piece than it can hold: who saw "at least" said nothing of the most."""
        state, piece, capacity = self.board.state, self.board.state[tag], self.parts[tag].capacity
        if piece.contents is None or capacity is None or piece.contents.volume.low > capacity:
            return state
        low, high = piece.contents.volume.low, min(piece.contents.volume.high, capacity)
        held = replace(piece.contents, volume=Interval(low, high))
        return State({**state.pieces, tag: replace(piece, contents=held)}, state.worn)


def _row(cells: Sequence[Sequence[str]]) -> Iterator[str]:
    """Return the lines of a row."""
    for line in zip_longest(*cells, fillvalue=""):
        yield GAP.join(part.ljust(width) for part, width in zip(line, WIDTHS, strict=True)).rstrip()

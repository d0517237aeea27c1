"""What surrounds every page of a record sheet: title, serial and lot in the head, control items in the foot."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from tankside.model.reading import LEAST_POINTS, MM_PER_POINT
from tankside.render_print.frame import BOLD, LINE, PLAIN, TITLE_POINTS, Frame, Paragraph, around, frame
from tankside.render_print.measuring import line_count
from tankside.render_print.paper import Paper
from tankside.texts import Words
from tankside.views.record_sheets import RecordSheetView

#: the strip of title, serial and lot, as record.css has it: never lower than what a pen needs, and its paddings
STRIP_MM, STRIP_RULES_MM = 13, 3
#: the cells of serial and lot, and what a cell keeps free at its sides
SERIAL_MM, LOT_MM, CELL_MM = 38, 60, 4


@dataclass(frozen=True)
class RecordFrame(Frame):
    """The head and foot of a record sheet: the same on each page, the first one too."""

    #: what stands in the cell of the lot
    lot: Paragraph

    @property
    def strip_mm(self) -> int:
        """The height of the strip, for whatever is longest in it."""
        cells = ((self.title, self.paper.text_mm - SERIAL_MM - LOT_MM), (self.lot, Fraction(LOT_MM)))
        lines = max(line_count(words, TITLE_POINTS, width - CELL_MM) for words, width in cells)
        return max(STRIP_MM, ceil(lines * TITLE_POINTS * LINE * MM_PER_POINT + STRIP_RULES_MM))

    @property
    def first_top_mm(self) -> int:
        """The upper margin of the first page."""
        return super().first_top_mm + self.strip_mm + 1

    @property
    def top_mm(self) -> int:
        """The upper margin of every other page."""
        return self.first_top_mm

    @property
    def style(self) -> str:
        """The style that only this sheet has."""
        return f"{super().style} .strip td {{ height: {self.strip_mm}mm; }}"


def record_frame(view: RecordSheetView, paper: Paper, say: Words, *, is_draft: bool) -> RecordFrame:
    """Return the frame of a record sheet."""
    usual = frame(around(view.shown, is_draft=is_draft), paper, LEAST_POINTS, say)
    lot = ((say("paper-valid", lot=view.lot), BOLD),) if view.lot else ()
    return RecordFrame(paper, usual.points, usual.title, usual.stops, tuple(_foot(view, say)), usual.page_of, lot)


def _foot(view: RecordSheetView, say: Words) -> Iterator[Paragraph]:
    control = view.shown.control
    shown = (
        ("revision", control.revision),
        ("effective", control.effective),
        ("review", control.review),
        ("approved", control.approved),
        ("hash", control.short_hash),
    )
    # The number of the page floats beside the first line and is a little larger.
    page = say("page", page="0000", pages="00000")
    words = "".join(f" · {say(key)} {text}" for key, text in shown)
    yield ((f"{page} {control.id}{words}", BOLD),)
    yield ((say("paper-is-record"), BOLD), (f" {say('law')} {view.shown.scenario or ''}".rstrip(), PLAIN))

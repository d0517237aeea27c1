"""What surrounds the text on every page: room for the head and the foot is worked out from what stands in them."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import chain
from math import ceil

from tankside.model.facts import BookFacts
from tankside.render_print.measuring import WeightedText, line_count
from tankside.render_print.reading import MM_PER_POINT, STEP_SHEET_MM, WALL_SHEET_MM, type_size
from tankside.texts import Words
from tankside.views.procedures import ChecklistView, Control, ProcedureView
from tankside.views.wording import Sentence

#: width of the paper (A4 as in ISO 216, Letter as in ANSI Y14.1)
PAPER_WIDTH_MM = {"A4": Fraction(210), "Letter": Fraction(2159, 10)}
#: clear on every side: 10 for the seal of the laminate, the rest for a printer that pulls the paper askew
CLEAR_MM = 12
#: between the head or the foot and the text
GAP_MM = 2
#: rules and paddings of the head and of the foot
HEAD_RULES_MM = 4
FOOT_RULES_MM = 3
#: type sizes and line heights as sheet.css has them
TITLE_POINTS = 12
FOOT_POINTS = 9
LINE = Fraction(125, 100)


#: the two weights of the type
PLAIN, BOLD = 400, 700

#: what stands in one paragraph
Paragraph = tuple[WeightedText, ...]


@dataclass(frozen=True)
class Frame:
    """The paragraphs of the head and the foot of one sheet."""

    paper: str
    title: Paragraph
    #: of each procedure on the sheet: how to stop safely
    stops: tuple[Paragraph, ...]
    foot: tuple[Paragraph, ...]
    #: the page's number as the content of a style
    page_of: str

    @property
    def _width(self) -> Fraction:
        return PAPER_WIDTH_MM[self.paper] - 2 * CLEAR_MM

    def _height(self, paragraphs: Iterable[Paragraph], points: int) -> Fraction:
        lines = sum(line_count(each, points, self._width) for each in paragraphs)
        return lines * points * LINE * MM_PER_POINT

    @property
    def first_top_mm(self) -> int:
        """The upper margin of the first page, where the title stands in the text."""
        if not self.stops:
            return CLEAR_MM
        tallest = max(self._height((stop,), type_size(STEP_SHEET_MM)) for stop in self.stops)
        return ceil(CLEAR_MM + tallest + HEAD_RULES_MM + GAP_MM)

    @property
    def top_mm(self) -> int:
        """The upper margin of every other page."""
        title = self._height((self.title,), TITLE_POINTS)
        rules = 0 if self.stops else HEAD_RULES_MM + GAP_MM
        return ceil(self.first_top_mm + title + rules)

    @property
    def bottom_mm(self) -> int:
        """The lower margin."""
        return ceil(CLEAR_MM + self._height(self.foot, FOOT_POINTS) + FOOT_RULES_MM + GAP_MM)

    def style(self, first_mm: int = WALL_SHEET_MM) -> str:
        """Return the style that only this sheet has; what comes first in an emergency is read from `first_mm`."""
        return (
            f"@page {{ size: {self.paper}; margin: {self.top_mm}mm {CLEAR_MM}mm {self.bottom_mm}mm; }} "
            f"@page :first {{ margin-top: {self.first_top_mm}mm; }} "
            f":root {{ font-size: {type_size(STEP_SHEET_MM)}pt; }} "
            f".far {{ font-size: {type_size(first_mm)}pt; }} "
            f'.page-of::before {{ content: "{self.page_of}"; }}'
        )


def frame(view: ProcedureView | ChecklistView, facts: BookFacts, say: Words, stamp: str = "") -> Frame:
    """Return the frame of a sheet; `stamp` may stand before its title."""
    views = (view,) if isinstance(view, ProcedureView) else (part.view for part in view.parts)
    label = (f"{say('stop-safely-short')}: ", BOLD)
    stops = ((label, *_weighted(each.stop_safely)) for each in views if each is not None)
    return Frame(
        paper=str(facts.paper),
        title=((f"{stamp}{view.control.title}", BOLD),),
        stops=tuple(dict.fromkeys(stops)),
        foot=tuple(_foot(view.control, view.scenario, say)),
        page_of=say("page", page='" counter(page) "', pages='" counter(pages) "'),
    )


def _weighted(words: Sentence) -> Paragraph:
    return tuple((run.text, PLAIN if run.kind == "plain" else BOLD) for run in words)


def _foot(control: Control, scenario: str | None, say: Words) -> Iterator[Paragraph]:
    dated = (
        ("revision", control.revision),
        ("effective", control.effective),
        ("review", control.review),
        ("approved", control.approved),
        ("hash", control.short_hash),
    )
    pairs = (((f" · {say(key)} ", PLAIN), (text, BOLD)) for key, text in dated)
    yield ((control.id, BOLD), *chain.from_iterable(pairs))
    # The number of the page floats beside this one and is a little larger.
    page = say("page", page="000", pages="0000")
    yield ((f"{page} {say('live-copy')}: {control.live_copy}. ", PLAIN), (say("marks-no-record"), BOLD))
    yield ((f"{say('law')} {scenario or ''}".rstrip(), PLAIN),)

"""What surrounds the text on every page: room for the head and the foot is worked out from what stands in them."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import chain
from math import ceil

from tankside.model.reading import LEAST_POINTS, MM_PER_POINT
from tankside.render_print.measuring import WeightedText, line_count
from tankside.render_print.paper import CLEAR_MM, Paper
from tankside.texts import Words
from tankside.views.procedures import ChecklistView, Control, ProcedureView
from tankside.views.wording import Sentence

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
class Around:
    """What stands on every page of a sheet, beside its text."""

    control: Control
    scenario: str | None
    #: of each procedure on the sheet: how to stop safely
    stops: tuple[Sentence, ...] = ()
    #: what marks on the sheet are: the key of a sentence
    marks: str = "marks-no-record"
    is_draft: bool = False

    @property
    def title(self) -> str:
        """The title."""
        return self.control.title


@dataclass(frozen=True)
class Frame:
    """The paragraphs of the head and the foot of one sheet."""

    paper: Paper
    #: the type size of the text
    points: int
    title: Paragraph
    #: of each procedure on the sheet: how to stop safely
    stops: tuple[Paragraph, ...]
    foot: tuple[Paragraph, ...]
    #: the page's number as the content of a style
    page_of: str

    def _height(self, paragraphs: Iterable[Paragraph], points: int) -> Fraction:
        lines = sum(line_count(each, points, self.paper.text_mm) for each in paragraphs)
        return lines * points * LINE * MM_PER_POINT

    @property
    def first_top_mm(self) -> int:
        """The upper margin of the first page, where the title stands in the text."""
        if not self.stops:
            return CLEAR_MM
        tallest = max(self._height((stop,), LEAST_POINTS) for stop in self.stops)
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

    @property
    def style(self) -> str:
        """The style that only this sheet has."""
        return (
            f"{self.paper.style(self.top_mm, self.first_top_mm, self.bottom_mm)}"
            f":root {{ font-size: {self.points}pt; }} "
            f'.page-of::before {{ content: "{self.page_of}"; }}'
        )


def around(view: ProcedureView | ChecklistView, *, is_draft: bool) -> Around:
    """Return what stands on every page of a sheet of a procedure or checklist."""
    views = (view,) if isinstance(view, ProcedureView) else (part.view for part in view.parts)
    stops = dict.fromkeys(each.stop_safely for each in views if each is not None)
    # The sheet of an emergency is used all the same.
    is_used = isinstance(view, ProcedureView) and view.is_emergency
    return Around(view.control, view.scenario, tuple(stops), is_draft=is_draft and not is_used)


def frame(shown: Around, paper: Paper, points: int, say: Words) -> Frame:
    """Return the frame of a sheet."""
    label = (f"{say('stop-safely-short')}: ", BOLD)
    stamp = f"{say('stamp')}: " if shown.is_draft else ""
    return Frame(
        paper=paper,
        points=points,
        title=((f"{stamp}{shown.title}", BOLD),),
        stops=tuple((label, *_weighted(each)) for each in shown.stops),
        foot=tuple(_foot(shown, say)),
        page_of=say("page", page='" counter(page) "', pages='" counter(pages) "'),
    )


def _weighted(words: Sentence) -> Paragraph:
    return tuple((run.text, PLAIN if run.kind == "plain" else BOLD) for run in words)


def _foot(shown: Around, say: Words) -> Iterator[Paragraph]:
    control = shown.control
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
    yield ((f"{page} {say('live-copy')}: {control.live_copy}. ", PLAIN), (say(shown.marks), BOLD))
    yield ((f"{say('law')} {shown.scenario or ''}".rstrip(), PLAIN),)

"""Sheets of procedures that no sensible book holds: they hold together, or a problem says what does not fit."""

from __future__ import annotations

import io
import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from demo_book import replace as replace_text
from sheet_blocks import Block, blocks
from sheet_holding import assert_edges_are_clear, assert_numbered, assert_pages_hold, placed
from sheet_inventor import Inventor, caution, invented_view, step, words
from sheet_making import PAPERS, SAY, engine, maker, plant, sheets, stops_of
from sheet_reading import Sheet
from test_invalid import BASE, FLUSH

from tankside.checkup import check_book
from tankside.render_print.drafting.steps import sheet_view, step_sheet_of
from tankside.render_print.engine import SheetMisfitError
from tankside.views.procedures import ProcedureView
from tankside.views.steps import Entry
from tankside.views.wording import Run

#: a word that is longer than a line
LONG = "Polyoxyethylenealkylbenzenesulfonateneutralisation" * 4
#: a step of three lines on A4
THREE_LINES = "word " * 36


def base_view(name: str = "bleed-cleaner-line") -> ProcedureView:
    view = sheet_view(sheets()[name].edition, plant().facts, SAY)  # type: ignore[arg-type]
    assert isinstance(view, ProcedureView)
    return replace(view, hazards=(), first_aid=(), energy=(), remedies=view.remedies[:1])


def laid(view: ProcedureView, paper: str = "A4") -> Sheet:
    """Lay a step sheet of a view out, and read it back."""
    made, like = maker(paper), sheets()["bleed-cleaner-line"]
    sheet = replace(like, id=view.control.id)
    data = engine().pdf(step_sheet_of(made.setting(sheet), sheet, view))
    return Sheet(data, stops_of(view), view.control.id)


def assert_holds(view: ProcedureView, paper: str = "A4") -> Sheet:
    sheet = laid(view, paper)
    wanted = blocks(view)
    assert_pages_hold(sheet, wanted)
    assert_numbered(sheet)
    assert_edges_are_clear(sheet, f"{view.control.id} on {paper}")
    assert_each_once(sheet, wanted)
    return sheet


def assert_each_once(sheet: Sheet, wanted: list[Block]) -> None:
    """No step stands there twice."""
    for block, place in placed(sheet, wanted):
        if block.form == "step":
            with pytest.raises(AssertionError, match="not found"):
                sheet.place(block.text, place.end)


def steps(count: int, text: str = "Turn the handle of valve {}.") -> list[Entry]:
    return [step(str(number), text.format(f"A{number}")) for number in range(1, count + 1)]


def with_title(view: ProcedureView, title: str) -> ProcedureView:
    return replace(view, control=replace(view.control, title=title))


def unusual(name: str) -> ProcedureView:
    base = base_view()
    one = steps(1)
    made = {
        "forty-steps": invented_view(base, *steps(40)),
        "long-words": invented_view(base, *steps(12, LONG + " {}."), scope=words(LONG)),
        "long-word-in-a-caution": invented_view(
            base, Entry("caution", "danger", words(LONG), details=caution("danger", 3).details), *one
        ),
        "no-steps-but-one": invented_view(base, *one),
        "three-cautions": invented_view(base, *(caution("warning", 8) for _ in range(3)), *one),
        "long-title": with_title(invented_view(base, *steps(30)), "A title that goes on and on " * 20),
        "long-word-as-a-title": with_title(invented_view(base, *steps(30)), LONG),
        "long-stop": invented_view(base, *steps(30), stop_safely=(Run("Shut it. " * 60),)),
        "nothing-around": invented_view(base, *one, wear=(), prerequisites=(), needs=(), remedies=(), waste=()),
    }
    return made[name]


UNUSUAL = (
    "forty-steps",
    "long-words",
    "long-word-in-a-caution",
    "no-steps-but-one",
    "three-cautions",
    "long-title",
    "long-word-as-a-title",
    "long-stop",
    "nothing-around",
)


@pytest.mark.requirement(number=17)
@pytest.mark.requirement(number=21)
@pytest.mark.parametrize("name", UNUSUAL)
def test_sheet_of_an_unusual_procedure_holds_together(name: str) -> None:
    assert_holds(unusual(name))


@pytest.mark.requirement(number=17)
@pytest.mark.parametrize("count", range(0, 16, 3))
def test_step_of_three_lines_at_the_end_of_a_page_goes_over_whole(count: int) -> None:
    view = invented_view(
        base_view(), *steps(count), *(step(f"{count + each}", f"{THREE_LINES}of {each}.") for each in range(1, 12))
    )
    assert len(assert_holds(view).pages) >= 2


@pytest.mark.requirement(number=17)
@pytest.mark.parametrize("count", range(1, 12, 2))
def test_caution_at_the_end_of_a_page_goes_over_with_its_step(count: int) -> None:
    inside = [caution("danger", 10), step("98", THREE_LINES), caution("notice", 4), step("99", "Go on.")]
    assert_holds(invented_view(base_view(), *steps(count), *inside))


@pytest.mark.requirement(number=17)
def test_twelve_cautions_in_a_row_stay_together_or_are_a_problem_that_says_so() -> None:
    short = [replace(caution("notice", 0), details=(), words=words(f"Hot {each}.")) for each in range(12)]
    assert_holds(invented_view(base_view(), *steps(4), *short, step("5", "Go on.")), "A3")
    with pytest.raises(SheetMisfitError, match=r"caution \d+ does not fit on a page with what it stands before"):
        laid(invented_view(base_view(), *(caution("danger", 30) for _ in range(12)), *steps(1)))


def test_text_that_the_type_has_no_characters_for_is_a_problem_that_says_so(tmp_path: Path) -> None:
    book = Path(shutil.copytree(BASE, tmp_path / "book"))
    # "danger" in Hebrew, which is written from right to left; the type has Latin letters only.
    replace_text(book / FLUSH, "purpose: Rinse water", "purpose: \u05e1\u05db\u05e0\u05d4 Rinse water")
    (problem, *_) = [each for each in check_book(book).problems if each.code == "character-not-drawn"]
    assert "(U+05" in problem.message
    assert problem.span.path == FLUSH


def test_reading_back_tells_a_split_step_from_a_whole_one() -> None:
    import weasyprint

    loose = "<style>@page {size: 10cm 10cm} p {font-size: 15pt}</style>" + "<p>word</p>" * 10 + "<p>" + "word " * 80
    sheet = Sheet(io.BytesIO(weasyprint.HTML(string=loose).write_pdf()).getvalue(), [])
    with pytest.raises(AssertionError, match="split"):
        assert_pages_hold(sheet, [Block("step", "word " * 80)])


def bare(view: ProcedureView) -> ProcedureView:
    return replace(view, wear=(), prerequisites=(), needs=(), waste=(), leave_if=(), amounts=(), table=None)


#: invented procedures, and from which procedures of the demonstration what stands around their steps is taken
COUNT, AROUND = 300, ("bleed-cleaner-line", "splash", "lock-out-mixer")
PARTS = 6


@pytest.mark.requirement(number=17)
@pytest.mark.requirement(number=18)
@pytest.mark.requirement(number=21)
@pytest.mark.parametrize("part", range(PARTS))
def test_17_18_and_21_hold_for_invented_procedures(part: int) -> None:
    bases, papers = [base_view(each) for each in AROUND], list(PAPERS)
    for seed in range(part, COUNT, PARTS):
        base = bases[seed % 3]
        # What stands around the steps takes most of the time: one in five has it.
        view = Inventor(seed).view(base if seed % 5 == 0 else bare(base))
        assert_holds(view, papers[seed % 4])

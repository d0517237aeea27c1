"""What does not fit on a sheet is a problem of the book, with its place and a number that is right."""

from __future__ import annotations

import io
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pdfplumber
import pytest
from demo_book import copy_book
from sheet_inventor import caution, invented_view, step
from sheet_making import ROOT, demo, engine, entry, maker, sheets, text
from test_sheets_stress import base_view

from tankside.checkup import check_book
from tankside.edition.sheets import SheetEdition
from tankside.loading.values import Text
from tankside.model.procedures import Procedure
from tankside.model.steps import Step, every
from tankside.problems import Problem, Span
from tankside.render_print.drafting.steps import step_sheet_of
from tankside.render_print.engine import SheetFailedError, SheetMisfitError
from tankside.render_print.fit import Misfit, misfits
from tankside.render_print.press import Failure
from tankside.render_print.shelf import Shelf
from tankside.render_print.trouble import sheet_problems
from tankside.views.steps import Entry


def problems_of(sheet: SheetEdition, folder: Path, paper: str = "Letter") -> tuple[Problem, ...]:
    made = maker(paper).make_all([sheet], Shelf(folder), print)
    assert made.places.keys() == (set() if made.problems else {sheet.id})
    return made.problems


def declared(kind: str, of: str, *names: str, **more: str) -> SheetEdition:
    """A sheet that stands in a file."""
    span = Span("procedures/plant/sheets.yaml", 7, 11)
    written = replace(entry(kind, of, *names, **more), kind=Text(kind, span))
    return SheetEdition("this-one", written, demo().editions[of])


def names_of(procedure: str) -> list[str]:
    written = demo().editions[procedure].written
    assert isinstance(written, Procedure)
    return [str(item.name) for item in every(written.steps) if isinstance(item, Step)]


# a wall sheet, a banner

TOO_LONG = ("sheet-too-long",)


def too_many(problem: Problem) -> int:
    """How many steps too many a problem says."""
    return int(problem.message.rpartition(", ")[2].split()[0])


@pytest.mark.parametrize(
    ("kind", "of"),
    [
        ("wall-sheet", "splash"),
        ("wall-sheet", "small-spill"),
        ("wall-sheet", "bleed-descaler-line"),
        ("banner", "splash"),
        ("banner", "leave-now"),
    ],
)
@pytest.mark.parametrize("paper", ["A4", "Tabloid"])
def test_sheet_with_too_many_steps_says_how_many_and_without_them_it_fits(
    tmp_path: Path, kind: str, of: str, paper: str
) -> None:
    names = names_of(of)
    # A caution may be parted as well while there are too many pages.
    (problem,) = [each for each in problems_of(declared(kind, of, *names), tmp_path, paper) if each.code in TOO_LONG]
    assert (problem.span.path, problem.span.line) == ("procedures/plant/sheets.yaml", 7)
    over = too_many(problem)
    assert 0 < over < len(names), problem.message
    kept = names[: len(names) - over]
    assert problems_of(declared(kind, of, *kept), tmp_path, paper) == (), (problem.message, kept)
    # One more, and it is too long again: the number is not merely large enough.
    assert problems_of(declared(kind, of, *names[: len(names) - over + 1]), tmp_path, paper) != (), problem.message


def test_banner_has_seven_lines_and_no_more(tmp_path: Path) -> None:
    (problem,) = problems_of(declared("banner", "leave-now", *names_of("leave-now")), tmp_path)
    assert problem.message.startswith("sheet 'this-one': it takes ")
    assert " lines, " in problem.message
    assert problem.hint.startswith("take steps out of 'steps'")


# a drawing


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_plant_sheet_whose_lettering_is_too_small_is_a_problem(tmp_path: Path, paper: str) -> None:
    (problem,) = problems_of(sheets()["tags"], tmp_path, paper)
    assert problem.code == "sheet-too-small"
    assert problem.hint == "choose a larger 'paper' or a nearer 'read_from'"


def test_plant_sheet_read_from_further_away_needs_larger_paper(tmp_path: Path) -> None:
    tags = sheets()["tags"]
    further = replace(tags, entry=replace(tags.entry, read_from=text("2 m")))
    assert [each.code for each in problems_of(further, tmp_path, "A3")] == ["sheet-too-small"]


# a step sheet


def trouble(*entries: Entry) -> list[Problem]:
    """The problems of a step sheet that shows other entries than its procedure."""
    sheet, made = sheets()["bleed-cleaner-line"], maker("A4")
    shown = invented_view(base_view(), *entries)
    with pytest.raises(SheetMisfitError) as failed:
        engine().pdf(step_sheet_of(made.setting(sheet), sheet, shown))
    return list(sheet_problems(sheet, Failure(failed.value.misfits, str(failed.value))))


def test_step_that_is_longer_than_a_page_is_a_problem_at_that_step() -> None:
    (problem,) = trouble(step("1", "Go."), step("2", "word " * 3000))
    assert problem.code == "sheet-step-too-long"
    assert problem.message == "sheet 'bleed-cleaner-line': step 2 is longer than a page"
    # The second step of the file.
    path = ROOT / problem.span.path
    assert problem.span.path.endswith("bleed-cleaner-line.yaml")
    assert (
        "- check: The sight tube stands at 40 L or higher."
        in path.read_text(encoding="utf-8").splitlines()[problem.span.line - 1]
    )


def test_caution_that_cannot_stay_with_its_step_is_a_problem() -> None:
    (problem,) = trouble(caution("danger", 300), step("1", "word " * 300))
    assert problem.code == "sheet-caution-parted"
    assert problem.message.endswith("caution 1 does not fit on a page with what it stands before")


def test_missing_picture_is_a_problem_and_other_sheets_are_made_all_the_same(tmp_path: Path) -> None:
    wanted = [sheets()[name] for name in ("bleed-cleaner-line", "first-day")]
    made = maker(pictures={}).make_all(wanted, Shelf(tmp_path), print)
    (problem,) = made.problems
    assert problem.code == "sheet-failed"
    assert "picture 'nozzle-over-pail.svg' cannot be read" in problem.message
    assert problem.span.path.endswith("bleed-cleaner-line.yaml")
    assert list(made.places) == ["first-day"]
    assert made.places["first-day"].read_bytes().startswith(b"%PDF")


@pytest.mark.requirement(number=22)
def test_22_a_missing_picture_fails_the_sheet() -> None:
    with pytest.raises(SheetFailedError, match=r"'bleed-cleaner-line': picture 'nozzle-over-pail\.svg' cannot be read"):
        maker(pictures={}).pdf(sheets()["bleed-cleaner-line"])


@pytest.mark.requirement(number=22)
def test_22_a_picture_that_cannot_be_drawn_fails_the_sheet() -> None:
    broken: Mapping[str, bytes] = dict.fromkeys(maker().pictures, b"no drawing")
    with pytest.raises(SheetFailedError, match="bleed-cleaner-line"):
        maker(pictures=broken).pdf(sheets()["bleed-cleaner-line"])


# what is looked at on laid-out pages

#: a step, a caution and a step that stand on two pages: id -> where it begins
STEP, NEXT, WARNS = "step-a_1", "step-a_2", "caution-a_1"


@pytest.mark.parametrize(
    ("pages", "most", "expected"),
    [
        ([{STEP: (0, 1)}, {NEXT: (0, 1)}], None, []),
        ([{STEP: (0, 1)}, {STEP: (0, 0), NEXT: (0, 1)}], None, [Misfit("split", STEP)]),
        ([{STEP: (0, 1)}, {STEP: (0, 0)}, {STEP: (0, 0)}], None, [Misfit("split", STEP)]),
        ([{STEP: (0, 1), WARNS: (0, 2)}, {NEXT: (0, 1)}], None, [Misfit("parted", WARNS)]),
        ([{WARNS: (0, 1), STEP: (0, 2)}, {NEXT: (0, 1)}], None, []),
        ([{STEP: (0, 1)}, {NEXT: (0, 1)}], 1, [Misfit("pages", takes=2, too_many=1)]),
        ([{STEP: (0, 1), NEXT: (0, 2)}], 1, []),
    ],
)
def test_places_on_pages_tell_what_does_not_fit(
    pages: list[dict[str, tuple[float, float]]], most: int | None, expected: list[Misfit]
) -> None:
    assert list(misfits(pages, most)) == expected


@pytest.mark.parametrize("paper", ["A3", "Letter", "Tabloid"])
def test_a_banner_that_is_let_pass_has_no_more_than_seven_lines_on_paper(paper: str) -> None:
    looked_at = 0
    for of in ("leave-now", "splash", "small-spill", "caught-or-shock"):
        names = names_of(of)
        for chosen in ([*names[at : at + count]] for at in range(len(names)) for count in (1, 2, 3)):
            draft = maker(paper).draft(declared("banner", of, *chosen))
            if draft.misfits:
                continue
            with pdfplumber.open(io.BytesIO(engine().pdf(draft))) as pdf:
                (page,) = pdf.pages
                # 43 pt is the size for 2 m; nothing else on a banner is as large
                tops = {round(each["bottom"]) for each in page.chars if each["size"] > 40}
            assert len(tops) <= 7, (of, chosen)
            looked_at += 1
    assert looked_at >= 10


def test_a_place_that_no_list_names_is_a_problem(tmp_path: Path) -> None:
    book = copy_book(tmp_path / "book")
    path = book / "procedures/plant/sheets.yaml"
    whole = path.read_text(encoding="utf-8")
    path.write_text(whole[: whole.index("places:")] + whole[whole.index("sheets:") :], encoding="utf-8", newline="\n")
    found = check_book(book).problems
    assert {each.code for each in found} == {"name-unknown"}
    assert "'eyewash' is not a known place where sheets hang" in {each.message for each in found}

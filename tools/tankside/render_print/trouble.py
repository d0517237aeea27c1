"""Sheets that could not be laid out, as problems of the book."""

from collections.abc import Iterator

from tankside.edition.sheets import SheetEdition
from tankside.model.procedures import Procedure
from tankside.problems import Problem, Span
from tankside.render_print.fit import STEP, Misfit, said
from tankside.render_print.press import Failure
from tankside.views.steps import numbered


def sheet_problems(sheet: SheetEdition, failure: Failure) -> Iterator[Problem]:
    """Return why a sheet could not be laid out, each with its place and what to do."""
    if not failure.misfits:
        yield Problem(sheet.span, "sheet-failed", failure.message, "mend what it names, then build again")
    for misfit in failure.misfits:
        yield _problem(sheet, misfit)


def _problem(sheet: SheetEdition, misfit: Misfit) -> Problem:
    message = f"sheet '{sheet.id}': {said(misfit)}"
    if misfit.what == "split":
        hint = "make it shorter: one action a step, what explains it in a note or on another page"
        return Problem(_place(sheet, misfit), "sheet-step-too-long", message, hint)
    if misfit.what == "parted":
        hint = "make the cautions or the step shorter, or let a caution stand before fewer steps"
        return Problem(_place(sheet, misfit), "sheet-caution-parted", message, hint)
    if misfit.what == "small":
        hint = "choose a larger 'paper' or a nearer 'read_from'"
        return Problem(sheet.span, "sheet-too-small", message, hint)
    hint = "choose a larger 'paper' or a nearer 'read_from'"
    if misfit.too_many:
        hint = f"take steps out of 'steps', or {hint}"
    return Problem(sheet.span, "sheet-too-long", f"{message} for a {sheet.kind}", hint)


def _place(sheet: SheetEdition, misfit: Misfit) -> Span:
    written = None if sheet.edition is None else sheet.edition.written
    if misfit.place.startswith(STEP) and isinstance(written, Procedure):
        steps = dict(numbered(written.steps))
        if misfit.number in steps:
            return steps[misfit.number].span
    return sheet.span

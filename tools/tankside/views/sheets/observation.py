"""A training sheet: what a trainee is shown, does under supervision and does alone, with places to sign."""

from dataclasses import dataclass, replace

from tankside.edition.sheets import SheetEdition
from tankside.model.facts import Plant
from tankside.model.procedures import Procedure
from tankside.texts import Words
from tankside.views.procedures import ProcedureView
from tankside.views.sheets.control import own_control
from tankside.views.sheets.listing import sheet_title
from tankside.views.training.observation import ObservedLine, observed_lines
from tankside.views.training.teaching import watched_steps


@dataclass(frozen=True)
class TrainingView:
    """What a training sheet shows."""

    shown: ProcedureView
    lines: tuple[ObservedLine, ...]


def training_view(sheet: SheetEdition, shown: ProcedureView, plant: Plant, say: Words) -> TrainingView:
    """Return the training sheet of a procedure."""
    assert sheet.edition is not None
    assert isinstance(sheet.edition.written, Procedure)
    titled = replace(own_control(shown.control, sheet), title=sheet_title(sheet, plant, say))
    lines = observed_lines(shown, watched_steps(sheet.edition.written), say)
    return TrainingView(replace(shown, control=titled), lines)

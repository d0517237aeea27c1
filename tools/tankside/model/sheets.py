"""Which sheets a book has beside its step sheets, and where copies hang."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Final

from tankside.loading.values import Text
from tankside.model.references import BOOKKEEPING, measures, refers

STEP_SHEET: Final = "step-sheet"
WALL_SHEET: Final = "wall-sheet"
BANNER: Final = "banner"
LOCKOUT_SHEET: Final = "lockout-sheet"
CHART_SHEET: Final = "chart-sheet"
CONTAINER_LABEL: Final = "container-label"
TRAINING_SHEET: Final = "training-sheet"
PLANT_SHEET: Final = "plant-sheet"
PLAN_SHEET: Final = "plan-sheet"
INDUCTION_SHEET: Final = "induction-sheet"
VISITOR_SHEET: Final = "visitor-sheet"
BINDER: Final = "binder"
#: the kinds that are laid out one by one
SHEET_KINDS: Final = (
    STEP_SHEET,
    WALL_SHEET,
    BANNER,
    LOCKOUT_SHEET,
    CHART_SHEET,
    CONTAINER_LABEL,
    TRAINING_SHEET,
    PLANT_SHEET,
    PLAN_SHEET,
    INDUCTION_SHEET,
    VISITOR_SHEET,
)


@dataclass(frozen=True)
class SheetEntry:
    """A sheet of procedures/plant/sheets.yaml."""

    kind: Text
    #: what it shows: id of a procedure or checklist, tag of a machine, id of a chart or path, material; by its kind
    of: Text | None = None
    #: of a lockout sheet: the procedure
    by: Annotated[Text | None, refers("procedure")] = None
    #: of a wall sheet or banner: the steps that are shown
    steps: tuple[Text, ...] = ()
    hangs: Annotated[tuple[Text, ...], refers("wall"), BOOKKEEPING] = ()
    paper: Annotated[Text | None, BOOKKEEPING] = None
    read_from: Annotated[Text | None, measures("length", sign="above 0"), BOOKKEEPING] = None
    #: of a sheet of the plant, as a procedure has them
    revision: Text | None = None
    effective: Text | None = None
    review: Text | None = None
    approved: Annotated[Text | None, refers("role")] = None


@dataclass(frozen=True)
class Sheets:
    """procedures/plant/sheets.yaml."""

    sheets: Mapping[Text, SheetEntry] = field(default_factory=dict)
    #: id -> words by which it is found
    places: Mapping[Text, Text] = field(default_factory=dict)

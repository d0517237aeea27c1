"""The lockout sheet of a machine."""

from dataclasses import dataclass, replace

from tankside.edition.sheets import SheetEdition
from tankside.edition.shown import key
from tankside.model.facts import Plant
from tankside.texts import Words
from tankside.views.line_diagram import LineDiagram, line_diagram
from tankside.views.procedures import Control, ProcedureView
from tankside.views.sheets.control import own_control
from tankside.views.sheets.key_steps import section_holding
from tankside.views.sheets.listing import sheet_title
from tankside.views.steps import SectionView
from tankside.views.wording import Sentence


@dataclass(frozen=True)
class SourceView:
    """A source of energy, and how it is made safe."""

    source: str
    magnitude: str
    isolate_at: str
    #: where the isolation point is found
    where: str
    release: str
    verify: str


@dataclass(frozen=True)
class LockoutView:
    """What a lockout sheet shows."""

    control: Control
    scenario: str | None
    stop_safely: Sentence
    done_by: str
    is_unconfirmed: bool
    sources: tuple[SourceView, ...]
    #: the machine and its isolation points, which are emphasised in the drawing
    points: tuple[str, ...]
    #: without its key: what is emphasised is said above it, and the symbols stand on the plant sheet
    diagram: LineDiagram
    not_drawn: tuple[str, ...]
    #: the way back into service
    back: tuple[SectionView, ...]


def lockout_view(sheet: SheetEdition, shown: ProcedureView, plant: Plant, say: Words) -> LockoutView:
    """Return the lockout sheet of a machine; `shown` is the procedure by which it is locked out."""
    assert sheet.machine is not None
    tag = str(sheet.entry.of)
    equipment = plant.equipment.equipment
    points = tuple(dict.fromkeys((tag, *(str(each.isolate_at) for each in sheet.machine.energy_sources))))
    diagram = line_diagram(plant.equipment, plant.materials, say, only=points, changed=points)
    drawn = {piece.tag for piece in diagram.pieces}
    return LockoutView(
        control=replace(own_control(shown.control, sheet), title=sheet_title(sheet, plant, say)),
        scenario=shown.scenario,
        stop_safely=shown.stop_safely,
        done_by=shown.done_by,
        is_unconfirmed=shown.is_unconfirmed,
        sources=tuple(
            SourceView(
                source=str(each.source),
                magnitude=str(each.magnitude),
                isolate_at=str(each.isolate_at),
                where=str(equipment[key(each.isolate_at)].where or ""),
                release=str(each.release),
                verify=str(each.verify),
            )
            for each in sheet.machine.energy_sources
        ),
        points=points,
        diagram=replace(diagram, legend=()),
        not_drawn=tuple(each for each in points if each not in drawn),
        back=section_holding(shown, "unlock"),
    )

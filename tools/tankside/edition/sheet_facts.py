"""Facts of the plant that stand on its sheets: they are counted in their hashes."""

from collections.abc import Container, Mapping
from dataclasses import dataclass

from tankside.compute.charts import Chart, DilutionChart, FillChart
from tankside.edition.shown import key
from tankside.model.facts import Material, Piece, Plant, Product
from tankside.model.training import Path, Visitor


@dataclass(frozen=True)
class PieceDrawn:
    """What a sheet shows of a piece of equipment: its name, where it is found, and all that its drawing depends on."""

    #: "" where only the drawing is shown
    name: str
    where: str | None
    kind: str
    connects: tuple[str, ...]
    joins: tuple[str, ...]
    at: tuple[str, ...]
    rest: str | None
    #: the form of a tank
    form: str | None
    #: what an instrument shows follows from it
    graduation: str | None


def drawn(plant: Plant, tags: Container[str]) -> Mapping[str, PieceDrawn]:
    return {str(tag): _piece(each) for tag, each in plant.equipment.equipment.items() if str(tag) in tags}


def _piece(piece: Piece) -> PieceDrawn:
    form = None if piece.shape is None else piece.shape.form
    return PieceDrawn(
        name=str(piece.name),
        where=piece.where,
        kind=str(piece.kind),
        connects=tuple(map(str, piece.connects)),
        joins=tuple(map(str, piece.joins)),
        at=tuple(map(str, piece.at)),
        rest=piece.rest,
        form=form,
        graduation=piece.graduation,
    )


def chart_facts(plant: Plant, chart: Chart) -> Mapping[str, str]:
    """Return what a chart says beside its numbers: of what it is, in which units, under which law."""
    match chart:
        case DilutionChart():
            named: Material | Product | Piece = plant.materials.materials[key(chart.material)]
        case FillChart():
            named = plant.products.products[key(chart.product)]
        case _:
            named = plant.equipment.equipment[key(chart.tag)]
    return {"name": named.name, "units": plant.facts.units, "jurisdiction": plant.facts.jurisdiction}


def label_facts(plant: Plant, material: str) -> Mapping[str, str]:
    at = plant.materials.materials[key(material)].data_sheet_at
    return {} if at is None else {"data_sheet_at": at}


def path_facts(plant: Plant, path: Path, titles: Mapping[str, str]) -> Mapping[str, str]:
    """Return what a sheet says of a path beside its own words: titles of procedures, the role, what must never meet."""
    named = {str(each) for item in path.items for each in (item.learn, *item.after) if each is not None}
    pairs = plant.materials.never_meet if any(item.pairs for item in path.items) else ()
    before = {} if path.builds_on is None else {"builds_on": plant.training.paths[path.builds_on].title}
    return {
        **before,
        **{name: titles[name] for name in sorted(named)},
        "role": plant.roles.roles[key(str(path.role))].name,
        **{" and ".join(each.groups): each.consequence for each in pairs},
    }


def visitor_facts(plant: Plant, visitor: Visitor) -> Mapping[str, str]:
    """Return what a visitor's sheet says beside its own words: what is worn, the number to call, where one meets."""
    worn = {str(each): plant.equipment.protective_equipment[key(str(each))].name for each in visitor.wear}
    return {**worn, "number": plant.facts.emergency_number, "meeting_point": plant.facts.meeting_point}

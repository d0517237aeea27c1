"""What the page of a working copy shows of an edition, as JSON: it is kept with each record, so that a working copy is
shown ever after as it was when it was begun.
"""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from typing import Any

from tankside.edition import Edition
from tankside.memory import remembered
from tankside.model.facts import Plant
from tankside.quantities.portable import Portable
from tankside.texts import Words
from tankside.views.procedures import ChecklistView, ProcedureView
from tankside.views.steps import SectionView

#: names the layout of what is shown
LAYOUT = "tankside-shown-1"


@remembered
def shown(edition: Edition, view: ProcedureView | ChecklistView) -> Portable:
    """Return what is shown of a working copy of an edition.

    ``{"layout", "id", "title", "revision", "effective", "hash", "language", "scenario", "parts": [...]}``; what is
    empty is left out of sections, entries, details and runs.
    """
    control = view.control
    return {
        "layout": LAYOUT,
        "id": control.id,
        "title": control.title,
        "revision": control.revision,
        "effective": control.effective,
        "hash": edition.hash,
        "language": edition.language,
        "scenario": edition.scenario or "",
        "parts": list(_parts(view)),
    }


def _parts(view: ProcedureView | ChecklistView) -> list[Portable]:
    if isinstance(view, ProcedureView):
        return [_part(view, view.control.title, "", view.sections)]
    parts = ((each.view, each.title, each.why or "", each.sections) for each in view.parts)
    return [_part(inner, title, why, sections) for inner, title, why, sections in parts if inner is not None]


def _part(view: ProcedureView, title: str, why: str, sections: tuple[SectionView, ...]) -> Portable:
    return {
        "procedure": view.control.id,
        "title": title,
        "why": why,
        "purpose": _plain(view.purpose),
        "stop_safely": _plain(view.stop_safely),
        "second_person": view.second_person,
        "done_by": view.done_by,
        "wear": _plain(view.wear),
        "prerequisites": _plain(view.prerequisites),
        "needs": _plain(view.needs),
        "hazards": _plain(view.hazards),
        "remedies": _plain(view.remedies),
        "waste": _plain(view.waste),
        "live": None if view.live is None else view.live.data,
        "sections": [_plain(each) for each in view.sections],
        "begins_in": [each.name for each in sections],
    }


def _plain(value: Any) -> Portable:
    """Return a view as JSON, without what is empty in it."""
    if is_dataclass(value) and not isinstance(value, type):
        found = {each.name: _plain(getattr(value, each.name)) for each in fields(value)}
        return {name: each for name, each in found.items() if each not in (None, "", [], False)}
    if isinstance(value, (tuple, list)):
        return [_plain(each) for each in value]
    return value


@remembered
def surroundings(plant: Plant) -> Portable:
    """Return the facts of the workshop that change without a new revision, and that a working copy asks for.

    ``{"book", "title", "roles": {id: name}, "instruments": {tag: {"name", "due"}}, "materials": {id: name},
    "kinds": {material: kind}, "products": {id: name}}``
    """
    pieces = plant.equipment.equipment.items()
    return {
        "book": str(plant.facts.book),
        "title": str(plant.facts.title),
        "roles": {str(name): str(role.name) for name, role in plant.roles.roles.items()},
        "instruments": {
            str(tag): {"name": str(piece.name), "due": str(piece.calibration_due or "")}
            for tag, piece in pieces
            if piece.kind in ("instrument", "scale", "measure")
        },
        "materials": {str(name): str(each.name) for name, each in plant.materials.materials.items()},
        "kinds": {str(name): str(each.kind) for name, each in plant.materials.materials.items()},
        "products": {str(name): str(each.name) for name, each in plant.products.products.items()},
    }


#: words that scripts say: all whose keys begin so
SCRIPT_WORDS = ("work-", "refused-", "signal-", "train-")
#: and these, which pages and sheets say, too
SHARED_WORDS = ("alt-alert", "needs", "note", "stop-safely", "wear")


def script_words(say: Words) -> Mapping[str, str]:
    """Return the words that the scripts of a working copy say."""
    return {key: text for key, text in sorted(say.table.items()) if key.startswith(SCRIPT_WORDS) or key in SHARED_WORDS}

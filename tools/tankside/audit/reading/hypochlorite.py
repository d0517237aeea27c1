"""Where procedures add hypochlorite."""

from collections.abc import Iterator

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.substances import HYPOCHLORITE, is_of
from tankside.model.procedures import Procedure
from tankside.model.steps import Add


def hypochlorite_added(audited: Audited, procedure: Procedure) -> Iterator[Add]:
    """Return the steps that add hypochlorite, a raw material, to a vessel."""
    materials = audited.plant.materials
    for each in placed(procedure):
        if isinstance(each.step, Add):
            added = materials.materials[each.step.material]
            if added.kind == "raw" and is_of(materials, added, HYPOCHLORITE):
                yield each.step

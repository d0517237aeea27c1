"""What measures: the instruments of a book, and the procedures that rely on their readings."""

from collections.abc import Callable, Iterator, Mapping

from tankside.audit.audited import Audited
from tankside.loading.values import Text
from tankside.model.facts import Piece
from tankside.model.procedures import Procedure
from tankside.model.steps import Measure, every

#: kinds of equipment whose reading drifts; the marks on a pail stay where they are
DRIFTING = ("instrument", "scale", "measure")


def instruments(audited: Audited) -> Iterator[tuple[Text, Piece]]:
    """Return the instruments, scales and meters of a book with their tags; a measure that can be full is a jug."""
    for tag, piece in audited.plant.equipment.equipment.items():
        if piece.kind in DRIFTING and piece.capacity is None:
            yield tag, piece


def deciding(audited: Audited) -> Mapping[str, tuple[str, ...]]:
    """Return the tags whose readings `measure` steps compare with limits, each with the procedures that do so."""
    return _used(audited, lambda each: (item.instrument for item in every(each.steps) if isinstance(item, Measure)))


def measuring_out(audited: Audited) -> Mapping[str, tuple[str, ...]]:
    """Return the tags that amounts are measured out with, each with the procedures that do so."""
    return _used(audited, lambda each: (one.measure_in for one in each.amounts.values() if one.measure_in is not None))


def _used(audited: Audited, by: Callable[[Procedure], Iterator[Text]]) -> Mapping[str, tuple[str, ...]]:
    found: dict[str, list[str]] = {}
    for procedure in audited.procedures:
        for tag in dict.fromkeys(by(procedure)):
            found.setdefault(str(tag), []).append(str(procedure.procedure))
    return {tag: tuple(names) for tag, names in found.items()}

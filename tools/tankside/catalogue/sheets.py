"""Sheets of a book: whether each can be made of what it names."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass

from tankside.catalogue.names import Names
from tankside.loading.values import Text
from tankside.model.facts import Plant
from tankside.model.procedures import Procedure
from tankside.model.sheets import (
    BANNER,
    BINDER,
    CHART_SHEET,
    CONTAINER_LABEL,
    INDUCTION_SHEET,
    LOCKOUT_SHEET,
    PLAN_SHEET,
    PLANT_SHEET,
    STEP_SHEET,
    TRAINING_SHEET,
    VISITOR_SHEET,
    WALL_SHEET,
    SheetEntry,
)
from tankside.model.steps import Isolate, Step, every
from tankside.problems import Problem, Span, meant, quoted

#: what a sheet of the plant is controlled by; a sheet of a procedure takes it from the procedure
CONTROL = ("revision", "effective", "review", "approved")
#: kind -> the keys that it needs beside its kind
NEEDED: Mapping[str, tuple[str, ...]] = {
    STEP_SHEET: ("of",),
    WALL_SHEET: ("of", "steps"),
    BANNER: ("of", "steps"),
    LOCKOUT_SHEET: ("of", "by"),
    CHART_SHEET: ("of", *CONTROL),
    CONTAINER_LABEL: ("of", *CONTROL),
    TRAINING_SHEET: ("of",),
    PLANT_SHEET: CONTROL,
    PLAN_SHEET: ("of", *CONTROL),
    INDUCTION_SHEET: ("of", *CONTROL),
    VISITOR_SHEET: CONTROL,
    BINDER: (),
}
#: the keys that any kind may have
ANYWHERE = ("kind", "hangs", "paper", "read_from")
KEYS = ("of", "by", "steps", *CONTROL)


def sheet_disagreements(plant: Plant, procedures: Mapping[str, Procedure], names: Names) -> Iterator[Problem]:
    """Return what keeps a sheet from being made, as far as its book tells without working anything out.

    Of what is named but could not be read, others have spoken.
    """
    known = _Known(plant, procedures, names)
    steps_of: dict[str, str] = {}
    for name, entry in plant.sheets.sheets.items():
        yield from _keys(name, entry)
        yield from known.problems(name, entry)
        if entry.kind == VISITOR_SHEET and plant.training.visitor is None:
            message = "nothing says what a visitor is told"
            hint = "write it under 'visitor' in procedures/plant/training.yaml"
            yield Problem(name.span, "sheet-of-unknown", message, hint)
        if entry.kind == STEP_SHEET and entry.of is not None:
            other = steps_of.setdefault(str(entry.of), str(name))
            if other != name:
                message = f"'{entry.of}' has its step sheet in '{other}' already"
                yield Problem(
                    entry.of.span, "sheet-twice", message, "delete one of the two; list all places under 'hangs'"
                )


def _keys(name: Text, entry: SheetEntry) -> Iterator[Problem]:
    needed = NEEDED.get(entry.kind, KEYS)
    for key in KEYS:
        value = getattr(entry, key)
        if value and key not in needed:
            span = (value[0] if isinstance(value, tuple) else value).span
            listed = ", ".join((*needed, *ANYWHERE))
            yield Problem(span, "sheet-key", f"a {entry.kind} has no '{key}'", f"delete it; known here: {listed}")
        elif not value and key in needed and entry.kind in NEEDED:
            yield Problem(name.span, "sheet-key", f"the {entry.kind} '{name}' has no '{key}'", f"add '{key}: ...'")


@dataclass(frozen=True)
class _Known:
    """What sheets may be of."""

    plant: Plant
    procedures: Mapping[str, Procedure]
    names: Names

    def problems(self, name: Text, entry: SheetEntry) -> Iterator[Problem]:
        """Return what is wrong with the things that a sheet names."""
        own = name in self._named("procedure", "checklist")
        if own and (entry.kind != STEP_SHEET or entry.of != name):
            message = f"'{name}' is what the step sheet of that procedure or checklist is called"
            yield Problem(name.span, "sheet-name-taken", message, "give this sheet another name")
        if entry.of is None:
            return
        what, known = self._of(entry)
        if known is not None and entry.of not in known:
            message = f"{quoted(entry.of)} is no {what}"
            hint = meant(entry.of, known, f"known are: {', '.join(sorted(known)[:8]) or 'none'}")
            yield Problem(entry.of.span, "sheet-of-unknown", message, hint)
            return
        yield from self._fitting(entry)

    def _of(self, entry: SheetEntry) -> tuple[str, Collection[str] | None]:
        """Return what a kind of sheet is of, and the names of such things; None where they are not known yet."""
        procedures = self._named("procedure")
        match str(entry.kind):
            case "step-sheet":
                return "procedure or checklist", self._named("procedure", "checklist")
            case "banner":
                return "emergency procedure", list(filter(self._may_be_emergency, procedures))
            case "wall-sheet" | "training-sheet":
                return "procedure", procedures
            case "lockout-sheet":
                return "machine with sources of energy", list(filter(self._may_have_energy, self._named("tag")))
            case "container-label":
                return "material", self._named("material")
            case "plan-sheet" | "induction-sheet":
                return "path of training", list(map(str, self.plant.training.paths))
        return "chart", None

    def _named(self, *sorts: str) -> list[str]:
        """Return the names of some sorts, those included that could not be read whole."""
        return [name for sort in sorts for name in self.names.of(sort)]

    def _may_be_emergency(self, name: str) -> bool:
        return name not in self.procedures or self.procedures[name].is_emergency

    def _may_have_energy(self, tag: str) -> bool:
        piece = self.plant.equipment.equipment.get(Text(tag, Span("")))
        return piece is None or bool(piece.energy_sources)

    def _fitting(self, entry: SheetEntry) -> Iterator[Problem]:
        assert entry.of is not None
        if entry.kind == LOCKOUT_SHEET and entry.by is not None and entry.by in self.procedures:
            yield from self._locked(entry.of, self.procedures[entry.by], entry.by.span)
        elif entry.steps and entry.of in self.procedures:
            yield from _steps(entry, self.procedures[entry.of])

    def _locked(self, tag: Text, procedure: Procedure, span: Span) -> Iterator[Problem]:
        locked = {str(item.target) for item in every(procedure.steps) if isinstance(item, Isolate)}
        piece = self.plant.equipment.equipment.get(tag)
        for source in () if piece is None else piece.energy_sources:
            if source.isolate_at not in locked:
                where = f"{source.isolate_at}, where '{tag}.{source.name}' is isolated"
                message = f"'{procedure.procedure}' does not lock {where}"
                yield Problem(
                    span, "sheet-not-locked", message, "name the procedure that locks every source of the machine"
                )


def _steps(entry: SheetEntry, procedure: Procedure) -> Iterator[Problem]:
    order = [str(item.name) for item in every(procedure.steps) if isinstance(item, Step)]
    last = -1
    for name in entry.steps:
        if name not in order:
            if procedure.is_complete:
                hint = meant(name, order, f"its steps are named: {', '.join(order[:8])}")
                message = f"{quoted(name)} is no step of '{procedure.procedure}'"
                yield Problem(name.span, "sheet-step-unknown", message, hint)
            continue
        at = order.index(str(name))
        if at <= last:
            message = f"step '{name}' stands after a later one"
            yield Problem(name.span, "sheet-step-order", message, "list each step once, in the order of the procedure")
        last = max(at, last)

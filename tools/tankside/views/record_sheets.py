"""A procedure or checklist as a record sheet shows it: what the step sheet shows, and what is written beside it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from tankside.edition import Edition
from tankside.model.facts import BookFacts
from tankside.model.procedures import Procedure
from tankside.model.steps import Measure, every
from tankside.quantities.portable import Portable
from tankside.records.issuing import Issue
from tankside.records.script import DECIDES, Script
from tankside.records.serials import grouped
from tankside.texts import Words
from tankside.units import parse_quantity
from tankside.views.issued import for_lot
from tankside.views.numbers import exact_text
from tankside.views.procedures import ChecklistView, ProcedureView, checklist_view, procedure_view
from tankside.views.record_fields import LONG, MIDDLE, PRINTED, RING, SHORT, Field, StepWriting
from tankside.views.record_writing import Writer


@dataclass(frozen=True)
class AskedView:
    """What is chosen before the start."""

    asks: str
    #: what was chosen; empty on a blank
    value: str
    #: on a blank: the values for which its tables give the amounts
    to_ring: Field | None


@dataclass(frozen=True)
class RecordSheetView:
    """All that is shown of a record sheet."""

    #: what the step sheet shows; the amounts are those of the lot where it is issued for one
    shown: ProcedureView | ChecklistView
    #: in groups, as it is read out
    serial: str
    #: empty on a blank
    lot: str
    #: whether it is about a lot: something is added or labelled
    needs_lot: bool
    #: date, and the size of the bottles where there is one to choose
    form: tuple[Field, ...]
    asked: tuple[AskedView, ...]
    #: tags with names, of everything that a value is read from
    instruments: tuple[str, ...]
    #: whether one may be sent away from the order of the steps
    sends_away: bool
    #: the roles that may allow what the procedures do not foresee
    approvers: tuple[str, ...]
    #: procedure -> step -> what is written there
    writing: Mapping[str, Mapping[str, StepWriting]]
    #: who says that it has come to its end, and who typed it in
    end: tuple[Field, ...]
    taken_over: tuple[Field, ...]


@dataclass(frozen=True)
class SheetOrder:
    """Which sheet is made."""

    edition: Edition
    #: the same edition as it is read from a file
    script: Script
    issue: Issue
    serial: str


def record_sheet_view(order: SheetOrder, facts: BookFacts, say: Words) -> RecordSheetView:
    """Return what a record sheet shows."""
    edition, script, issue = order.edition, order.script, order.issue
    filled = edition if issue.is_blank else for_lot(edition, issue.inputs)
    procedures = {each.id: each for each in _procedures(filled)}
    return RecordSheetView(
        shown=_shown(edition, filled, facts, say),
        serial=grouped(order.serial),
        lot=issue.lot,
        needs_lot=script.needs_lot,
        form=tuple(_form(script, issue, say)),
        asked=tuple(_asked(script, issue, say)),
        instruments=tuple(dict.fromkeys(name for each in procedures.values() for name in _instruments(each))),
        sends_away=any(_leads_away(part.program) for part in script.parts),
        approvers=tuple(dict.fromkeys(each.roles[each.written.approved] for each in procedures.values())),
        writing={name: Writer(each, issue.bottle, say).writings() for name, each in procedures.items()},
        end=_fields(say, ("paper-end-reason", LONG), *_SIGNED, ("paper-role", MIDDLE)),
        taken_over=_fields(say, *_SIGNED, ("paper-date", MIDDLE), ("paper-copy", LONG), ("paper-compared", SHORT)),
    )


#: who and when
_SIGNED = (("paper-initials", SHORT), ("paper-time", SHORT))


def _fields(say: Words, *asked: tuple[str, str]) -> tuple[Field, ...]:
    return tuple(Field(size, say(key)) for key, size in asked)


def _form(script: Script, issue: Issue, say: Words) -> Iterator[Field]:
    yield Field(MIDDLE, say("paper-date"))
    if issue.bottle:
        yield Field(PRINTED, say("paper-size"), text=issue.bottle)
    elif script.sizes:
        yield Field(RING, say("paper-size"), answers=script.sizes)


def _procedures(edition: Edition) -> Iterator[Edition]:
    if isinstance(edition.written, Procedure):
        yield edition
    yield from (part.edition for part in edition.parts if part.edition is not None)


def _shown(edition: Edition, filled: Edition, facts: BookFacts, say: Words) -> ProcedureView | ChecklistView:
    """Return what is shown, with the control items of the edition itself: amounts for one lot change no hash."""
    if isinstance(edition.written, Procedure):
        own = procedure_view(edition, facts, say, is_laminated=True)
        return replace(procedure_view(filled, facts, say, is_laminated=True), control=own.control)
    checklist = checklist_view(edition, facts, say, is_laminated=True)
    return replace(checklist_view(filled, facts, say, is_laminated=True), control=checklist.control)


def _asked(script: Script, issue: Issue, say: Words) -> Iterator[AskedView]:
    for procedure, name, asked in script.inputs():
        chosen = issue.inputs.get(procedure, {}).get(name, "")
        if issue.is_blank:
            listed = tuple(exact_text(parse_quantity(each)) for each in asked["table"])
            yield AskedView(asked["asks"], "", Field(RING, say("paper-ring"), answers=listed))
        else:
            yield AskedView(asked["asks"], exact_text(parse_quantity(chosen)), None)


def _instruments(edition: Edition) -> Iterator[str]:
    items = every(getattr(edition.written, "steps", ()))
    for step in (item for item in items if isinstance(item, Measure)):
        yield f"{step.instrument}: {edition.equipment[step.instrument].name}"


def _leads_away(program: Portable) -> bool:
    """Return whether a way of a program ends in another procedure, or where somebody decides what follows."""
    return any("away" in way or way["to"] == DECIDES for node in program["nodes"] for way in node["exits"])

"""Chosen steps of a procedure, with the cautions that cover them."""

from collections.abc import Collection, Iterator
from dataclasses import replace

from tankside.edition.sheets import SheetEdition
from tankside.texts import Words
from tankside.views.procedures import ProcedureView
from tankside.views.sheets.control import own_control
from tankside.views.steps import BranchView, Detail, Entry, SectionView
from tankside.views.wording import Sentence

#: details that say how a step is judged
JUDGED_BY = (
    "detail-amount",
    "detail-limits",
    "detail-tolerance",
    "detail-outside",
    "detail-if-not",
    "detail-at-most",
    "detail-released",
)


def judged_by(entry: Entry, say: Words) -> tuple[Detail, ...]:
    """Return what is to be seen under a step: amounts and limits, and what to do when they do not hold."""
    labels = {say(key) for key in JUDGED_BY}
    return tuple(each for each in entry.details if each.label in labels)


def key_steps_view(view: ProcedureView, sheet: SheetEdition, say: Words) -> ProcedureView:
    """Return a procedure with the steps that its sheet chooses, numbered as in the procedure, and their limits."""
    names = set(map(str, sheet.entry.steps))
    sections = (replace(each, entries=tuple(_chosen(each.entries, names, say))) for each in view.sections)
    kept = tuple(each for each in sections if each.entries)
    return replace(view, control=own_control(view.control, sheet), sections=kept)


def _chosen(entries: Collection[Entry], names: Collection[str], say: Words) -> Iterator[Entry]:
    for entry in entries:
        if entry.form == "caution":
            if not set(names).isdisjoint(entry.covers):
                yield entry
        elif entry.form == "step":
            inner = replace(
                entry,
                details=judged_by(entry, say),
                entries=tuple(_chosen(entry.entries, names, say)),
                branches=tuple(
                    replace(each, entries=tuple(_chosen(each.entries, names, say))) for each in entry.branches
                ),
            )
            if entry.name in names or inner.entries or any(each.entries for each in inner.branches):
                yield inner


def actions(view: ProcedureView) -> tuple[Sentence, ...]:
    """Return the actions of all steps, one after the other."""
    return tuple(_actions(entry for section in view.sections for entry in section.entries))


def _actions(entries: Iterator[Entry] | Collection[Entry]) -> Iterator[Sentence]:
    for entry in entries:
        if entry.form == "step":
            yield entry.words
            yield from _actions(entry.entries)
            for branch in entry.branches:
                yield from _actions(branch.entries)


def section_holding(view: ProcedureView, kind: str) -> tuple[SectionView, ...]:
    """Return the sections with a step of a kind, and the one that stands before the first of them."""
    found = [at for at, each in enumerate(view.sections) if _has(each.entries, kind)]
    if not found:
        return ()
    return view.sections[max(found[0] - 1, 0) : found[-1] + 1]


def _has(entries: Collection[Entry], kind: str) -> bool:
    return any(
        each.kind == kind or _has(each.entries, kind) or any(_in(branch, kind) for branch in each.branches)
        for each in entries
    )


def _in(branch: BranchView, kind: str) -> bool:
    return _has(branch.entries, kind)

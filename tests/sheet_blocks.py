"""What must stand on a sheet, block by block, in the words of the views."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from tankside.render_print.grouping import part_groups
from tankside.views.procedures import ChecklistView, ProcedureView
from tankside.views.steps import Entry, SectionView
from tankside.views.wording import Sentence


@dataclass(frozen=True)
class Block:
    """Something that is kept together."""

    #: heading, note, caution, answer or step
    form: str
    text: str
    name: str = ""


def said(words: Sentence) -> str:
    """The words of a sentence."""
    return "".join(run.text for run in words)


def blocks(view: ProcedureView | ChecklistView) -> list[Block]:
    """The blocks of the steps of a sheet, in reading order."""
    if isinstance(view, ProcedureView):
        return section_blocks(view.sections)
    if not view.lists_steps:
        titles = ((number, part) for number, part in enumerate(view.parts, 1))
        return [Block("step", f"{number} {part.title} {part.why or ''}") for number, part in titles]
    return [block for group in part_groups(view.parts) for block in section_blocks(_shown(group.parts, group.sent_to))]


def _shown(parts: Iterable[ChecklistView], sent_to: Iterable[SectionView]) -> Iterator[SectionView]:
    for part in parts:
        yield from part.sections
    yield from sent_to


def section_blocks(sections: Iterable[SectionView]) -> list[Block]:
    """The blocks of some sections, in reading order."""
    return list(_sections(sections))


def _sections(sections: Iterable[SectionView]) -> Iterator[Block]:
    for section in sections:
        if section.title:
            yield Block("heading", section.title)
        yield from _entries(section.entries)


def _entries(entries: Iterable[Entry]) -> Iterator[Block]:
    for entry in entries:
        if entry.form == "step":
            yield from _step(entry)
        elif entry.form == "caution":
            yield Block("caution", f"{entry.kind.upper()} {said(entry.words)} {_details(entry)}")
        else:
            yield Block("note", f"Note: {said(entry.words)}")


def _step(entry: Entry) -> Iterator[Block]:
    amounts = ("How much", *(at for at, _ in entry.by_input), *(value for _, value in entry.by_input))
    table = " ".join(amounts) if entry.by_input else ""
    codes = " ".join(f"Code for {size}: {code}" for size, code in entry.codes)
    yield Block("step", f"{entry.number} {said(entry.words)} {table} {codes} {_details(entry)}", entry.name)
    for branch in entry.branches:
        go_to = f": {said(branch.go_to)}" if branch.go_to else ""
        yield Block("answer", f"{entry.number}{branch.letter} {said(branch.answer)}{go_to}")
        yield from _entries(branch.entries)
    yield from _entries(entry.entries)


def _details(entry: Entry) -> str:
    return " ".join(f"{detail.label}: {said(detail.words)}" for detail in entry.details)

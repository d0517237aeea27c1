"""What a trainee is shown and watched at: the lines of a procedure that matter."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from tankside.edition.sheets import SheetEdition
from tankside.model.facts import Plant
from tankside.texts import Words
from tankside.views.procedures import ProcedureView
from tankside.views.sheets.control import own_control
from tankside.views.sheets.key_steps import judged_by
from tankside.views.sheets.listing import sheet_title
from tankside.views.steps import Detail, Entry
from tankside.views.wording import Sentence

#: steps that are always watched: what is measured out, measured, isolated, released
ALWAYS = ("add", "measure", "lock", "unlock", "hold", "choose")


@dataclass(frozen=True)
class ObservedLine:
    """A line of the list."""

    #: stop, caution or step
    kind: str
    number: str
    #: what stands before it; empty for a step
    label: str
    words: Sentence
    details: tuple[Detail, ...]


@dataclass(frozen=True)
class TrainingView:
    """What a training sheet shows."""

    shown: ProcedureView
    lines: tuple[ObservedLine, ...]


def training_view(sheet: SheetEdition, shown: ProcedureView, plant: Plant, say: Words) -> TrainingView:
    """Return the training sheet of a procedure."""
    stop = ObservedLine("stop", "", say("stop-safely-short"), shown.stop_safely, ())
    entries = (entry for section in shown.sections for entry in section.entries)
    covered = _covered(entry for section in shown.sections for entry in section.entries)
    lines = (stop, *_lines(entries, covered, say))
    titled = replace(own_control(shown.control, sheet), title=sheet_title(sheet, plant, say))
    return TrainingView(replace(shown, control=titled), lines)


def _covered(entries: Iterable[Entry]) -> frozenset[str]:
    found: set[str] = set()
    for entry in entries:
        found.update(entry.covers)
        found |= _covered(entry.entries)
        for branch in entry.branches:
            found |= _covered(branch.entries)
    return frozenset(found)


def _lines(entries: Iterable[Entry], covered: frozenset[str], say: Words) -> Iterator[ObservedLine]:
    for entry in entries:
        if entry.form == "caution":
            yield ObservedLine("caution", "", say(f"signal-{entry.kind}"), entry.words, entry.details[:2])
        elif entry.form == "step":
            details = judged_by(entry, say)
            if entry.kind in ALWAYS or entry.name in covered or details:
                yield ObservedLine("step", entry.number, "", entry.words, details)
        yield from _lines(entry.entries, covered, say)
        for branch in entry.branches:
            yield from _lines(branch.entries, covered, say)

"""What a trainee is shown and watched at: the lines of a procedure that matter."""

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass

from tankside.texts import Words
from tankside.views.procedures import ProcedureView
from tankside.views.sheets.key_steps import judged_by
from tankside.views.steps import Detail, Entry
from tankside.views.wording import Sentence


@dataclass(frozen=True)
class ObservedLine:
    """A line of the list."""

    #: stop, caution or step
    kind: str
    number: str
    #: of a step: its name
    name: str
    #: what stands before it; empty for a step
    label: str
    words: Sentence
    details: tuple[Detail, ...]

    @property
    def key(self) -> str:
        """Under what it stands in an entry of a competence file; "" of a caution, which is looked at with its steps."""
        return {"stop": "stop", "step": f"step:{self.name}"}.get(self.kind, "")


def observed_lines(shown: ProcedureView, watched: Collection[str], say: Words) -> tuple[ObservedLine, ...]:
    """Return the stop, every caution, each step that is watched, and those that say what to do when they fail."""
    stop = ObservedLine("stop", "", "", say("stop-safely-short"), shown.stop_safely, ())
    entries = (entry for section in shown.sections for entry in section.entries)
    return (stop, *_lines(entries, watched, say))


def _lines(entries: Iterable[Entry], watched: Collection[str], say: Words) -> Iterator[ObservedLine]:
    for entry in entries:
        if entry.form == "caution":
            yield ObservedLine("caution", "", "", say(f"signal-{entry.kind}"), entry.words, entry.details[:2])
        elif entry.form == "step":
            details = judged_by(entry, say)
            if entry.name in watched or details:
                yield ObservedLine("step", entry.number, entry.name, "", entry.words, details)
        yield from _lines(entry.entries, watched, say)
        for branch in entry.branches:
            yield from _lines(branch.entries, watched, say)

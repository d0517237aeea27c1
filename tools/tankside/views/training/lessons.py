"""A procedure as somebody learns it: what is taught, asked and watched, and when it lapses."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from tankside.edition import Edition
from tankside.memory import remembered
from tankside.model.facts import Plant
from tankside.model.procedures import Procedure
from tankside.quantities.portable import Portable
from tankside.texts import Words
from tankside.training.lapsing import rules_of
from tankside.training.standing import Rules
from tankside.training.taught import Taught
from tankside.views.procedures import ProcedureView
from tankside.views.steps import Entry
from tankside.views.training.observation import ObservedLine, observed_lines
from tankside.views.training.question import Question
from tankside.views.training.questions.asking import questions_of
from tankside.views.training.teaching import taught_of, watched_steps


@dataclass(frozen=True)
class Lesson:
    """A procedure as it is learnt."""

    shown: ProcedureView
    taught: Taught
    rules: Rules
    questions: tuple[Question, ...]
    lines: tuple[ObservedLine, ...]
    #: keys of lines that are not on the way every time: in an answer, or in a section that one is sent to
    aside: tuple[str, ...]

    @property
    def critical(self) -> frozenset[str]:
        """The keys of what must have been looked at before somebody is competent alone."""
        return frozenset(each.key for each in self.taught.elements if each.is_critical)


@remembered
def lesson_of(edition: Edition, shown: ProcedureView, plant: Plant, say: Words) -> Lesson:
    """Return a procedure as it is learnt; `shown` is its view on a page."""
    procedure = edition.written
    assert isinstance(procedure, Procedure)
    return Lesson(
        shown=shown,
        taught=taught_of(edition, shown),
        rules=rules_of(plant.training, procedure),
        questions=questions_of(edition, shown, plant, say),
        lines=observed_lines(shown, watched_steps(procedure), say),
        aside=tuple(f"step:{name}" for name in _aside(shown)),
    )


def compared(lesson: Lesson) -> Portable:
    """Return what a page needs to say how somebody's competence stands: digests, no words.

    ``{"taught": {"procedure", "revision", "content", "same_since", "elements": [{"key", "critical", "facts",
    "words"}]}, "rules": {"after", "unused_for"}}``
    """
    taught = {name: value for name, value in lesson.taught.portable.items() if name not in ("layout", "title")}
    elements = [{name: value for name, value in each.items() if name != "says"} for each in taught["elements"]]
    return {"taught": {**taught, "elements": elements}, "rules": in_days(lesson.rules)}


def in_days(rules: Rules) -> Portable:
    """Return rules as a JSON object."""
    return {"after": rules.after, "unused_for": rules.unused_for}


def _aside(shown: ProcedureView) -> Iterator[str]:
    for section in shown.sections:
        yield from _names(section.entries, is_aside=section.is_sent_to)


def _names(entries: Iterable[Entry], *, is_aside: bool) -> Iterator[str]:
    for entry in entries:
        if entry.form == "step" and is_aside:
            yield entry.name
        yield from _names(entry.entries, is_aside=is_aside)
        for branch in entry.branches:
            yield from _names(branch.entries, is_aside=True)

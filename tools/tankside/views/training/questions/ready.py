"""What must be so before a step."""

from collections.abc import Iterator
from itertools import pairwise

from tankside.model.steps import Check, Step
from tankside.views.training.question import Question
from tankside.views.training.questions.likeness import says_the_same, stems
from tankside.views.training.questions.posing import Answer, posed
from tankside.views.training.questions.subject import Subject

#: steps before which it is worth asking
RISKY = ("open", "start", "move", "add", "lock", "unlock", "do")


def ready_questions(subject: Subject) -> Iterator[Question]:
    """Return for each risky step right after a check of its section what that check looks at."""
    checks = {
        str(step.name): before
        for run in subject.runs
        for before, step in pairwise(run)
        if isinstance(before, Check) and step.kind in RISKY and subject.is_said_once(step)
    }
    for step in subject.best_first(each for each in subject.main if str(each.name) in checks):
        check = checks[str(step.name)]
        if (step.kind != "do" or subject.covering(step)) and _is_of(subject, check, step):
            yield from _question(subject, step, check)


def _is_of(subject: Subject, check: Check, step: Step) -> bool:
    """Whether what is looked at has to do with the step, and does not only stand before it."""
    looked, done = str(check.text), subject.brief(step)
    return not subject.tags_in(looked).isdisjoint(subject.tags_in(done)) or not stems(looked).isdisjoint(stems(done))


def _question(subject: Subject, step: Step, check: Check) -> Iterator[Question]:
    asked = subject.about_step("ready", step, subject.say("ask-ready", step=subject.sentence(step)), own="ready")
    right = Answer(subject.words(check.text), subject.say("ask-ready-why", number=subject.number(check)))
    yield from posed(asked, right, _others(subject, step))


def _others(subject: Subject, step: Step) -> Iterator[Answer]:
    """Return what is looked at later only: what was looked at before must still be so."""
    at = subject.main.index(step)
    seen = [before for before in subject.main[:at] if isinstance(before, Check)]
    for each in subject.main[at + 1 :]:
        if isinstance(each, Check) and not any(says_the_same(each.text, before.text) for before in seen):
            yield Answer(subject.words(each.text), subject.say("ask-ready-other", number=subject.number(each)))

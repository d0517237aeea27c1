"""What is done first in an emergency, when one leaves, whom one calls."""

import re
from collections.abc import Iterator
from typing import Final

from tankside.model.steps import Section, Step
from tankside.views.training.question import Question
from tankside.views.training.questions.likeness import folded, reads_the_same
from tankside.views.training.questions.posing import Answer, digest, posed
from tankside.views.training.questions.subject import Subject

#: lines of the bright line that are asked
MOST_LINES: Final = 2
#: sections whose first action is asked
MOST_SECTIONS: Final = 3
#: words of a section or its first step that say that nothing may come before it
URGENT: Final = re.compile(r"\b(?:now|at once)\b", re.IGNORECASE)
#: how a step begins that is not done by everybody
CONDITION: Final = ("If ", "When ")


def emergency_questions(subject: Subject) -> Iterator[Question]:
    """Return of an emergency what is done first, when one leaves instead, the number and the meeting point."""
    if subject.procedure.is_emergency and subject.main:
        firsts = list(_first_actions(subject))
        yield from firsts[:1]
        yield from _bright_line(subject)
        yield from _number(subject)
        yield from _meeting(subject)
        yield from firsts[1:MOST_SECTIONS]


def _first_actions(subject: Subject) -> Iterator[Question]:
    """Return what is done first in the first section, and in each that is as urgent; others may be begun elsewhere."""
    title = str(subject.procedure.title)
    for at, (heading, steps) in enumerate(_headed(subject)):
        if at > 0 and not URGENT.search(f"{heading}. {subject.action(steps[0])}"):
            continue
        asks = subject.say("ask-first", title=title, section=heading)
        asked = subject.about_step("emergency", steps[0], asks, own="first")
        right = Answer(subject.action(steps[0]), subject.say("ask-first-why"))
        yield from posed(asked, right, _later(subject, steps))


def _headed(subject: Subject) -> Iterator[tuple[str, list[Step]]]:
    heading, steps = "", list[Step]()
    for item in subject.procedure.steps:
        if isinstance(item, Section):
            if steps and heading:
                yield heading, steps
            heading, steps = str(item.title) if item.entered is None else "", []
        elif isinstance(item, Step):
            steps.append(item)
    if steps and heading:
        yield heading, steps


def _later(subject: Subject, steps: list[Step]) -> Iterator[Answer]:
    after = subject.steps[subject.steps.index(steps[0]) + 1 :]
    for step in after:
        action = subject.action(step)
        if not action.startswith(CONDITION) and not reads_the_same(action, subject.action(steps[0])):
            yield Answer(action, subject.say("ask-first-later", number=subject.number(step)))


def _bright_line(subject: Subject) -> Iterator[Question]:
    line = subject.procedure.leave_if
    if line is None:
        return
    at = digest(subject.edition.id) % len(line.any_of)
    lines = (*enumerate(line.any_of, 1),)
    for number, text in (*lines[at:], *lines[:at])[:MOST_LINES]:
        asks = subject.say("ask-leave", condition=subject.words(text))
        asked = subject.about_step("emergency", subject.main[0], asks, own=f"leave-{number}")
        right = Answer(subject.words(line.then), subject.say("ask-leave-why"))
        yield from posed(asked, right, _staying(subject))


def _staying(subject: Subject) -> Iterator[Answer]:
    """Return what somebody does who stays: the steps of the later sections, those under a caution first."""
    later = [step for run in [run for run in subject.runs if run][1:] for step in run if step.kind == "do"]
    for step in sorted(later, key=lambda each: not subject.covering(each)):
        if not subject.action(step).startswith(CONDITION):
            yield Answer(subject.action(step), subject.say("ask-leave-stay"))


def _number(subject: Subject) -> Iterator[Question]:
    call = subject.edition.call
    step = None if call is None else _step_saying(subject, call.number)
    if call is None or step is None:
        return
    asked = subject.about_step("emergency", step, subject.say("ask-call"), own="number")
    right = Answer(call.number, subject.say("ask-call-why"))
    why = subject.say("ask-call-slip", number=call.number)
    yield from posed(asked, right, (Answer(slip, why) for slip in _misdialled(call.number)))


def _misdialled(number: str) -> Iterator[str]:
    """Return the number with its digits in another order, and with its last digit off by one."""
    last = number[-1]
    if last.isdigit():
        yield f"{number[:-1]}{(int(last) + 1) % 10}"
    yield number[::-1]
    yield f"{number[1:]}{number[0]}"
    yield f"{number[0]}{number}"


def _meeting(subject: Subject) -> Iterator[Question]:
    call, say = subject.edition.call, subject.say
    step = None if call is None else _step_saying(subject, call.meeting_point)
    if call is None or step is None:
        return
    asked = subject.about_step("emergency", step, say("ask-meet"), own="meet")
    right = Answer(call.meeting_point, say("ask-meet-why"))
    ways = ("door", "anywhere", "home")
    yield from posed(asked, right, (Answer(say(f"ask-meet-{way}"), say(f"ask-meet-{way}-why")) for way in ways))


def _step_saying(subject: Subject, words: str) -> Step | None:
    said = f" {folded(words)} "
    return next((step for step in subject.main if said in f" {folded(subject.action(step))} "), None)

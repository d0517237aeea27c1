"""Who releases a hold."""

import re
from collections.abc import Iterator

from tankside.edition.shown import key
from tankside.model.facts import Role
from tankside.model.steps import Hold
from tankside.views.training.question import Question
from tankside.views.training.questions.posing import Answer, posed
from tankside.views.training.questions.subject import Subject


def hold_questions(subject: Subject) -> Iterator[Question]:
    """Return for each hold of the main way who releases it."""
    for step in subject.main:
        if isinstance(step, Hold):
            yield from _question(subject, step)


def _question(subject: Subject, hold: Hold) -> Iterator[Question]:
    role = _role(subject, hold.released_by)
    asked = subject.about_step("holds", hold, subject.say("ask-hold", text=subject.words(hold.text)), own="released")
    right = Answer(str(role.name), subject.say("ask-hold-why", role=_inside(role)))
    yield from posed(asked, right, _others(subject, hold, role))


def _others(subject: Subject, hold: Hold, role: Role) -> Iterator[Answer]:
    say, done_by = subject.say, subject.procedure.done_by
    doer = _role(subject, done_by)
    if done_by != hold.released_by and not _is(doer, role):
        yield Answer(say("ask-hold-you", role=_inside(doer)), say("ask-hold-you-why"))
    yield Answer(say("ask-hold-nobody"), say("ask-hold-nobody-why", role=_inside(role)))
    for name, other in subject.plant.roles.roles.items():
        if name not in (done_by, hold.released_by) and not _may_be(other, role):
            yield Answer(str(other.name), say("ask-hold-other", role=_inside(role)))


def _is(one: Role, other: Role) -> bool:
    """Whether what one of two roles does makes it the other: "in this workshop that is the lead"."""
    return any(re.search(rf"\bis the {_last_word(second)}\b", first.does) for first, second in _both(one, other))


def _may_be(one: Role, other: Role) -> bool:
    """Whether somebody of one of two roles may be the other as well: "The lead or a signed-off operator"."""
    opening = r"\b(?:is|The|or)(?: the| a| an)?(?: [\w-]+)?"
    return any(re.search(rf"{opening} {_last_word(second)}\b", first.does) for first, second in _both(one, other))


def _both(one: Role, other: Role) -> tuple[tuple[Role, Role], tuple[Role, Role]]:
    return (one, other), (other, one)


def _last_word(role: Role) -> str:
    return re.escape(role.name.split(" ")[-1].lower())


def _role(subject: Subject, name: str) -> Role:
    return subject.plant.roles.roles[key(name)]


def _inside(role: Role) -> str:
    return role.name[:1].lower() + role.name[1:]

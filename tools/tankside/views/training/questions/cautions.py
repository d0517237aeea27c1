"""What a caution warns of, and how harm is avoided."""

import re
from collections.abc import Iterator
from itertools import zip_longest
from typing import Final

from tankside.model.steps import Caution
from tankside.views.training.question import Question
from tankside.views.training.questions.likeness import says_the_same, stems
from tankside.views.training.questions.posing import Answer, posed
from tankside.views.training.questions.subject import GRAVITY, Subject

#: what points at its own hazard, and makes no sense beside another
POINTS: Final = re.compile(r"(?:It|They)\b|.*\bdo it\b")

#: when a hazard and its harm share this many words with another hazard, both may be meant: "acid" and "chlorine"
ENOUGH_SHARED: Final = 2


def caution_questions(subject: Subject) -> Iterator[Question]:
    """Return for each caution, the gravest first, how harm is avoided; else what the step is warned of.

    Wrong answers are what other cautions say, of steps that this one does not cover and in other words.
    """
    ranked = sorted(subject.cautions, key=lambda each: GRAVITY.index(each.kind))
    avoiding = [tuple(_avoiding(subject, each)) for each in ranked]
    warned = [tuple(_warned(subject, each)) for each in ranked]
    for first, second in zip_longest(avoiding, warned, fillvalue=()):
        yield from first or second


def _avoiding(subject: Subject, caution: Caution) -> Iterator[Question]:
    if POINTS.match(caution.avoid):
        return
    asks = subject.say("ask-avoid", hazard=subject.words(caution.hazard))
    asked = subject.about_caution("cautions", caution, asks, own="avoid")
    right = Answer(subject.words(caution.avoid), subject.say("ask-avoid-why", harm=subject.words(caution.harm)))
    wrong = [
        Answer(subject.words(each.avoid), subject.say("ask-avoid-other", hazard=subject.words(each.hazard)))
        for each in _others(subject, caution)
        if not says_the_same(caution.avoid, each.avoid) and not POINTS.match(each.avoid)
    ]
    yield from posed(asked, right, _unlike(wrong))


def _warned(subject: Subject, caution: Caution) -> Iterator[Question]:
    first = subject.step(caution.covers[0])
    if not subject.is_said_once(first):
        return
    asks = subject.say("ask-warned", step=subject.sentence(first))
    asked = subject.about_caution("cautions", caution, asks, own="warned")
    right = Answer(subject.words(caution.hazard), subject.say("ask-warned-why", harm=subject.words(caution.harm)))
    said = stems(subject.brief(first))
    others = (each for each in _others(subject, caution) if said.isdisjoint(stems(each.hazard)))
    yield from posed(asked, right, _unlike([_elsewhere(subject, each) for each in others]))


def _elsewhere(subject: Subject, caution: Caution) -> Answer:
    number = subject.number(subject.step(caution.covers[0]))
    return Answer(subject.words(caution.hazard), subject.say("ask-warned-other", number=number))


def _others(subject: Subject, caution: Caution) -> list[Caution]:
    """Return the other cautions that cannot be meant, those first that lead to the same harm."""
    # A notice is about things, and nobody takes it for what keeps people from harm.
    sort = [each for each in subject.cautions if (each.kind == "notice") == (caution.kind == "notice")]
    found = [each for each in sort if _is_apart(subject, caution, each)]
    return sorted(found, key=lambda each: (each.if_it_happens != caution.if_it_happens, each.kind != caution.kind))


def _is_apart(subject: Subject, caution: Caution, other: Caution) -> bool:
    """Whether another caution covers none of the same steps, and warns of something else at something else."""
    is_elsewhere = set(caution.covers).isdisjoint(other.covers)
    is_of_other = subject.tags_in(caution.hazard).isdisjoint(subject.tags_in(other.hazard))
    shared = stems(f"{caution.hazard} {caution.harm}") & stems(other.hazard)
    is_one_danger = says_the_same(caution.hazard, other.hazard) or len(shared) >= ENOUGH_SHARED
    return is_elsewhere and is_of_other and not is_one_danger


def _unlike(answers: list[Answer]) -> Iterator[Answer]:
    """Return the answers that do not say what one before them says."""
    kept: list[Answer] = []
    for each in answers:
        if not any(says_the_same(each.says, before.says) for before in kept):
            kept.append(each)
            yield each

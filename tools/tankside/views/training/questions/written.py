"""The questions that an author wrote."""

from collections.abc import Iterator
from hashlib import sha256

from tankside.model.questions import STOP_SAFELY, WrittenQuestion
from tankside.views.training.question import Question
from tankside.views.training.questions.posing import Answer, Asked, posed
from tankside.views.training.questions.subject import Subject

DIGITS = 8


def written_questions(subject: Subject) -> Iterator[Question]:
    """Return the questions of the author, in their order; one wrong answer is enough."""
    for each in subject.procedure.questions:
        right = Answer(subject.words(each.right), subject.words(each.because))
        wrong = (Answer(subject.words(one.says), subject.words(one.because)) for one in each.wrong)
        yield from posed(_asked(subject, each), right, wrong, least=1)


def _asked(subject: Subject, question: WrittenQuestion) -> Asked:
    """Return what is asked; its id stays when questions are put before it, and changes with its words."""
    own = f"written-{sha256(question.ask.encode('utf-8')).hexdigest()[:DIGITS]}"
    asks = subject.words(question.ask)
    if question.about == STOP_SAFELY:
        return subject.about_stopping("written", asks, own=f"{STOP_SAFELY}.{own}")
    return subject.about_step("written", subject.step(question.about), asks, own=own)

"""Questions that an author wrote: whether each is about something, and whether its answers can be told apart."""

import re
from collections.abc import Iterator

from tankside.loading.values import Text
from tankside.model.procedures import Procedure
from tankside.model.questions import STOP_SAFELY, WrittenQuestion
from tankside.model.steps import Step, every
from tankside.problems import Problem, meant, quoted

_APART = re.compile(r"[^\w<>%]+")


def folded(text: str) -> str:
    """Return a text without what does not tell it apart from another: case, blanks and punctuation."""
    return _APART.sub(" ", text.casefold()).strip()


def question_problems(procedure: Procedure) -> Iterator[Problem]:
    """Return what is wrong with the questions of a procedure."""
    steps = tuple(str(item.name) for item in every(procedure.steps) if isinstance(item, Step))
    for question in procedure.questions:
        if procedure.is_complete and question.about not in (*steps, STOP_SAFELY):
            message = f"{quoted(question.about)} is no step of this procedure"
            hint = meant(question.about, steps, f"name a step, or write '{STOP_SAFELY}'")
            yield Problem(question.about.span, "question-about", message, hint)
        yield from _same_answers(question)


def _same_answers(question: WrittenQuestion) -> Iterator[Problem]:
    seen: dict[str, Text] = {folded(question.right): question.right}
    for answer in question.wrong:
        first = seen.setdefault(folded(answer.says), answer.says)
        if first is not answer.says:
            message = f"{quoted(answer.says)} is already the answer at line {first.span.line}"
            yield Problem(
                answer.says.span, "question-answer-twice", message, "write another wrong answer, or delete it"
            )

"""The questions of the demonstration book, and what is wrong with a question."""

import re
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path

from demo_book import ROOT

from tankside.checkup import Checkup, check_book
from tankside.model.procedures import Procedure
from tankside.model.steps import Step, every
from tankside.texts import words
from tankside.views.procedures import procedure_view
from tankside.views.training.question import Question
from tankside.views.training.questions.asking import questions_of
from tankside.views.training.questions.subject import Subject

Asked = Mapping[str, tuple[Question, ...]]


@cache
def checked(book: Path = ROOT) -> Checkup:
    """Return a book as the floor gets it."""
    return check_book(book)


def subject(checkup: Checkup, name: str) -> Subject:
    """Return what the questions of a procedure are made of."""
    assert checkup.book is not None, checkup.problems
    edition, plant, say = checkup.editions[name], checkup.book.plant, words("en")
    return Subject(edition, procedure_view(edition, plant.facts, say, is_laminated=False), plant, say)


def asked_of(checkup: Checkup) -> Asked:
    """Return the questions of each procedure of a book."""
    assert checkup.book is not None, checkup.problems
    parts = {name: subject(checkup, name) for name in checkup.book.procedures}
    return {name: questions_of(each.edition, each.shown, each.plant, each.say) for name, each in parts.items()}


@cache
def asked() -> Asked:
    """Return the questions of the demonstration book."""
    return asked_of(checked())


def every_question() -> Iterator[tuple[str, Question]]:
    """Return each question of the demonstration book with its procedure."""
    for name, questions in asked().items():
        for question in questions:
            yield name, question


def plain(text: str) -> str:
    """Return a text without case, blanks and punctuation."""
    return re.sub(r"[\W_]+", "", text.casefold())


def faults(question: Question, procedure: Procedure) -> list[str]:
    """Return what is wrong with a question, as far as its form tells."""
    found = []
    if [choice.is_right for choice in question.choices].count(True) != 1:
        found.append("not one right answer")
    if not 2 <= len(question.choices) <= 4:
        found.append("too few or too many answers")
    if len({plain(choice.says) for choice in question.choices}) != len(question.choices):
        found.append("two answers are alike")
    if not all(plain(text) for choice in question.choices for text in (choice.says, choice.why)):
        found.append("an answer or a reason says nothing")
    names = {str(item.name) for item in every(procedure.steps) if isinstance(item, Step)}
    if question.about not in {*names, "stop-safely"}:
        found.append("about no step")
    if not (plain(question.asks) and plain(question.place) and question.id):
        found.append("it says nothing")
    if "{" in question.asks or any("{" in f"{choice.says}{choice.why}" for choice in question.choices):
        found.append("a gap was not filled")
    return found

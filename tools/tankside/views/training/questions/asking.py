"""All questions of a procedure."""

from collections.abc import Callable, Iterable, Iterator
from itertools import zip_longest
from typing import Final

from tankside.edition import Edition
from tankside.memory import remembered
from tankside.model.facts import Plant
from tankside.texts import Words
from tankside.views.procedures import ProcedureView
from tankside.views.training.question import Question
from tankside.views.training.questions.amounts import amount_questions
from tankside.views.training.questions.cautions import caution_questions
from tankside.views.training.questions.emergencies import emergency_questions
from tankside.views.training.questions.holds import hold_questions
from tankside.views.training.questions.likeness import folded
from tankside.views.training.questions.measured import measured_questions
from tankside.views.training.questions.order import order_questions
from tankside.views.training.questions.ready import ready_questions
from tankside.views.training.questions.stopping import stopping_questions
from tankside.views.training.questions.subject import Subject
from tankside.views.training.questions.tags import tag_questions
from tankside.views.training.questions.worn import worn_questions
from tankside.views.training.questions.written import written_questions

#: automatic questions of one procedure
MOST: Final = 12
MOST_OF_A_KIND: Final = 5
#: amounts are what goes wrong most in a batch, and no two of them are learnt as one
AMOUNTS_AT_ONCE: Final = 3
#: the kinds of question, the most important first
KINDS: Final[tuple[Callable[[Subject], Iterator[Question]], ...]] = (
    stopping_questions,
    emergency_questions,
    caution_questions,
    amount_questions,
    order_questions,
    hold_questions,
    ready_questions,
    measured_questions,
    tag_questions,
    worn_questions,
)
#: of an emergency nobody is asked for amounts, order of all steps, holds or tags
EMERGENCY: Final = (emergency_questions, caution_questions, worn_questions)


@remembered
def questions_of(edition: Edition, shown: ProcedureView, plant: Plant, say: Words) -> tuple[Question, ...]:
    """Return the questions that a procedure asks of a trainee: those made of it, then those that were written.

    Each kind puts its own questions into an order, what matters most first: steps under a danger, then locks and holds,
    steps under a warning, and one of each section before a second. Of the kinds in `KINDS` the first question is taken
    in turn (of amounts the first three), then the next of each, until there are `MOST`, at most `MOST_OF_A_KIND` of
    any. What is asked twice in the same words is asked once. Nothing is left to chance. Every text comes from the
    edition and the plant given; with those of the floor no secret gets in.
    """
    subject = Subject(edition, shown, plant, say)
    kinds = EMERGENCY if subject.procedure.is_emergency else KINDS
    written = tuple(written_questions(subject))
    made = _in_turn(tuple(kind(subject)) for kind in kinds)
    taken: dict[str, Question] = {folded(each.asks): each for each in written}
    for each in made:
        if len(taken) < MOST + len(written):
            taken.setdefault(folded(each.asks), each)
    automatic = (each for each in taken.values() if each.kind != "written")
    return (*automatic, *written)


def _in_turn(kinds: Iterable[tuple[Question, ...]]) -> Iterator[Question]:
    for turn in zip_longest(*map(_turns, kinds), fillvalue=()):
        for some in turn:
            yield from some


def _turns(questions: tuple[Question, ...]) -> Iterator[tuple[Question, ...]]:
    """Return what a kind gives in each turn."""
    at_once = AMOUNTS_AT_ONCE if questions and questions[0].kind == "amounts" else 1
    for at in range(0, min(len(questions), MOST_OF_A_KIND), at_once):
        yield questions[at : at + at_once]

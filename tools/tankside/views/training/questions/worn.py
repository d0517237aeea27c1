"""What is worn."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from tankside.edition.shown import key
from tankside.views.training.question import Question
from tankside.views.training.questions.posing import Answer, posed
from tankside.views.training.questions.subject import Subject


def worn_questions(subject: Subject) -> Iterator[Question]:
    """Return what must be worn; wrong sets lack a piece, or have another in its place."""
    worn = tuple(map(str, subject.procedure.wear))
    if len(worn) < 2 or not subject.main:
        return
    first = subject.about_step("worn", subject.main[0], subject.say("ask-worn"), own="worn")
    asked = replace(first, place=subject.say("ask-place-worn", number=subject.number(subject.main[0])))
    right = Answer(_listed(subject, worn), subject.say("ask-worn-why"))
    yield from posed(asked, right, (*_replaced(subject, worn), *_missing(subject, worn)))


def _replaced(subject: Subject, worn: Sequence[str]) -> Iterator[Answer]:
    """Return the set with one piece replaced by another of its sign, such as other gloves."""
    pieces = subject.plant.equipment.protective_equipment
    for at, name in enumerate(worn):
        sign = pieces[key(name)].sign
        for other, piece in pieces.items():
            if piece.sign == sign and other not in worn:
                says = _listed(subject, (*worn[:at], str(other), *worn[at + 1 :]))
                mine = _named(subject, name)
                yield Answer(says, subject.say("ask-worn-other", other=_named(subject, str(other)), piece=mine))
                return


def _missing(subject: Subject, worn: Sequence[str]) -> Iterator[Answer]:
    for at in reversed(range(len(worn))):
        says = _listed(subject, (*worn[:at], *worn[at + 1 :]))
        yield Answer(says, subject.say("ask-worn-missing", piece=_named(subject, worn[at])))


def _named(subject: Subject, name: str) -> str:
    """Return the name of a piece as it stands inside a sentence."""
    return _lowered(str(subject.plant.equipment.protective_equipment[key(name)].name))


def _listed(subject: Subject, names: Sequence[str]) -> str:
    listed = ", ".join(_named(subject, name) for name in names)
    return listed[:1].upper() + listed[1:]


def _lowered(name: str) -> str:
    return name[:1].lower() + name[1:] if name[1:2].islower() else name

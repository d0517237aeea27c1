"""Which piece of the plant a tag names, where it is, and which valve is opened first."""

import re
from collections.abc import Iterator

from tankside.edition.shown import key
from tankside.model.facts import Piece
from tankside.model.steps import Drive, Isolate, Step, TurnValve
from tankside.views.training.question import Question
from tankside.views.training.questions.likeness import reads_the_same
from tankside.views.training.questions.posing import Answer, Asked, posed
from tankside.views.training.questions.subject import Subject


def tag_questions(subject: Subject) -> Iterator[Question]:
    """Return which valve is opened first, and of each tag that is turned, started or locked what or where it is."""
    yield from _first_opened(subject)
    first: dict[str, Step] = {}
    for step in subject.best_first(subject.main):
        if isinstance(step, (TurnValve, Drive, Isolate)):
            first.setdefault(str(step.target), step)
    for at, (tag, step) in enumerate(first.items()):
        ways = (_where, _what) if at % 2 == 0 else (_what, _where)
        found = (question for way in ways for question in way(subject, tag, step))
        yield from list(found)[:1]


def likes(subject: Subject, tag: str) -> Iterator[str]:
    """Return the pieces of the kind of a tag: those of the other sides with its number, those that are used here, all.

    The sides of a plant have tags with a first part of their own: V2, D-V2.
    """
    equipment = subject.plant.equipment.equipment
    same = [str(other) for other, piece in equipment.items() if piece.kind == equipment[key(tag)].kind and other != tag]
    number = tag.rpartition("-")[2]
    found = (
        *(each for each in same if each.rpartition("-")[2] == number),
        *(each for each in same if each in subject.edition.equipment),
        *same,
    )
    yield from dict.fromkeys(found)


def _piece(subject: Subject, tag: str) -> Piece:
    return subject.plant.equipment.equipment[key(tag)]


def _asked(subject: Subject, tag: str, step: Step, own: str) -> Asked:
    asked = subject.about_step("tags", step, subject.say(f"ask-tag-{own}", tag=tag), own=own)
    return Asked(f"{tag}.{own}", asked.kind, asked.asks, asked.about, asked.place)


def _what(subject: Subject, tag: str, step: Step) -> Iterator[Question]:
    own = _piece(subject, tag)
    if _gives_away(tag, own.name):
        return
    right = Answer(str(own.name), subject.say("ask-tag-what-why", where=own.where or own.name))
    wrong = (
        Answer(str(_piece(subject, other).name), subject.say("ask-tag-that-is", tag=other))
        for other in likes(subject, tag)
        if not reads_the_same(own.name, _piece(subject, other).name)
    )
    yield from posed(_asked(subject, tag, step, "what"), right, wrong)


def _where(subject: Subject, tag: str, step: Step) -> Iterator[Question]:
    own = _piece(subject, tag)
    if own.where is None or _gives_away(tag, own.where):
        return
    right = Answer(str(own.where), subject.say("ask-tag-where-why", tag=tag, name=_inside(own.name)))
    # The same place at another tank would be in the same words: what is near comes first.
    nearest = sorted(likes(subject, tag), key=lambda other: other not in subject.edition.equipment)
    wrong = (
        Answer(str(piece.where), subject.say("ask-tag-there-is", tag=other))
        for other in nearest
        if (piece := _piece(subject, other)).where is not None
        and not reads_the_same(own.where, piece.where)
        and not _gives_away(tag, piece.where)
    )
    yield from posed(_asked(subject, tag, step, "where"), right, wrong)


def _gives_away(tag: str, text: str) -> bool:
    """Whether a place or a name is told by the tag itself: V2-lock is on the lever of V2."""
    return any(re.search(rf"(?<![\w-]){re.escape(part)}(?![\w-])", text) for part in (tag, *_stems(tag)))


def _stems(tag: str) -> tuple[str, ...]:
    parts = tag.split("-")
    return tuple("-".join(parts[:end]) for end in range(1, len(parts)) if any(map(str.isdigit, parts[end - 1])))


def _first_opened(subject: Subject) -> Iterator[Question]:
    opened = [step for step in subject.main if isinstance(step, TurnValve) and step.kind == "open"]
    valves = [step for step in opened if _piece(subject, step.target).kind == "valve"]
    if len({step.target for step in valves}) < 2:
        return
    first = valves[0]
    asked = _asked(subject, str(first.target), first, "first")
    number = subject.number(first)
    right = Answer(_called(subject, first.target), subject.say("ask-tag-first-why", number=number))
    later = {str(step.target): step for step in reversed(valves) if step.target != first.target}
    wrong = [
        Answer(_called(subject, tag), subject.say("ask-tag-first-later", number=subject.number(step)))
        for tag, step in reversed(later.items())
    ]
    never = (tag for tag in likes(subject, str(first.target)) if tag not in later)
    wrong += [Answer(_called(subject, tag), subject.say("ask-tag-first-never")) for tag in never]
    yield from posed(asked, right, (*wrong[:1], *wrong[len(later) : len(later) + 1], *wrong[1:]))


def _called(subject: Subject, tag: str) -> str:
    return f"{tag}, {_inside(_piece(subject, tag).name)}"


def _inside(name: str) -> str:
    return name[:1].lower() + name[1:] if name[1:2].islower() else name

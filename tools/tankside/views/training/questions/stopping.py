"""What is done to stop safely."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from tankside.edition.shown import key
from tankside.model.facts import Plant
from tankside.model.steps import DRIVEN, TURNED
from tankside.views.training.question import Question
from tankside.views.training.questions.posing import Answer, posed
from tankside.views.training.questions.subject import Subject

_SENTENCE: Final = re.compile(r"(?<=\.)\s+")
_TAG: Final = re.compile(r"[A-Za-z][A-Za-z0-9]*(?:-[A-Za-z0-9]+)*")
#: a clause that begins so says no action of its own
_LEANS: Final = re.compile(r"(?:away|behind|if|when|and|or|with|by|in|at|for|to|until|nothing|nobody|dressed)\b")


def stopping_questions(subject: Subject) -> Iterator[Question]:
    """Return what one does who must stop now.

    Wrong answers are the safe stop with a part left out, in the wrong order, or with the tags of another side; to go
    on to the end of the step; to leave everything as it is. An emergency is not stopped.
    """
    if subject.procedure.is_emergency:
        return
    asked = subject.about_stopping("stopping", subject.say("ask-stop"), own="stop-safely")
    right = Answer(subject.words(subject.procedure.stop_safely), subject.say("ask-stop-why"))
    yield from posed(asked, right, _wrong(subject, right.says))


def _wrong(subject: Subject, stop: str) -> Iterator[Answer]:
    parts = _parts(stop)
    yield from _reordered(subject, parts)
    first, *rest = (*_left_out(subject, parts), None)
    yield from (each for each in (first, *_other_tags(subject, stop), _way(subject, "finish"), *rest) if each)
    if subject.procedure.stop_leaves:
        yield _way(subject, "leave")


def _way(subject: Subject, way: str) -> Answer:
    return Answer(subject.say(f"ask-stop-{way}"), subject.say(f"ask-stop-{way}-why"))


@dataclass(frozen=True)
class _Part:
    """A clause of the safe stop, and whether it begins a sentence."""

    says: str
    begins: bool


def _parts(stop: str) -> tuple[_Part, ...]:
    found = []
    for sentence in _SENTENCE.split(stop):
        for at, clause in enumerate(_clauses(sentence.rstrip("."))):
            found.append(_Part(clause, begins=at == 0))
    return tuple(found)


def _clauses(sentence: str) -> list[str]:
    """Return a sentence at its commas; what leans on the clause before stays with it, and an "if" keeps all."""
    clauses: list[str] = []
    is_one = sentence.startswith(("If ", "When "))
    for clause in sentence.split(", "):
        if clauses and (is_one or _LEANS.match(clause) or _lists_on(clauses[-1])):
            clauses[-1] += f", {clause}"
        else:
            clauses.append(clause)
    return clauses


def _lists_on(clause: str) -> bool:
    """Whether a clause is the beginning of a list of tags: "D-V1" in "D-V1, D-V2 and D-hatch shut"."""
    last = clause.split(", ")[-1]
    return re.fullmatch(r"[A-Z][A-Za-z0-9]*(?:-[A-Za-z0-9]+)*|.*\bof [A-Za-z]+-line|Pumps|valves", last) is not None


def _joined(parts: tuple[_Part, ...]) -> str:
    text = ""
    for at, part in enumerate(parts):
        begins = part.begins or at == 0
        says = part.says[:1].upper() + part.says[1:] if begins else _lowered(part.says)
        text += f"{'' if at == 0 else '. ' if begins else ', '}{says}"
    return f"{text}."


def _lowered(text: str) -> str:
    """Return a clause as it stands inside a sentence: a plain word begins small, a tag stays."""
    word = re.split(r"[\s,]", text, maxsplit=1)[0]
    return text[:1].lower() + text[1:] if word[1:].islower() and word.isalpha() else text


def _left_out(subject: Subject, parts: tuple[_Part, ...]) -> Iterator[Answer]:
    """Return the stop without the last thing that is done to the plant, and without the very last one."""
    done = [at for at, part in enumerate(parts) if _kinds(subject.plant, part.says) or "shut" in part.says]
    for at in dict.fromkeys((*done[-1:], len(parts) - 1, *(() if done else (len(parts) - 2,)))):
        rest = (*parts[:at], *parts[at + 1 :])
        if rest and at >= 0:
            left = _lowered(parts[at].says)
            yield Answer(_joined(rest), subject.say("ask-stop-missing", part=left))


def _reordered(subject: Subject, parts: tuple[_Part, ...]) -> Iterator[Answer]:
    """Return the stop with the first pump or mixer that is stopped after the valves that are shut."""
    for at, (one, two) in enumerate(pairwise(parts)):
        first, second = (_kinds(subject.plant, each.says) for each in (one, two))
        if not first.isdisjoint(DRIVEN) and "off" in one.says and not second.isdisjoint(TURNED) and "shut" in two.says:
            swapped = (*parts[:at], _Part(two.says, one.begins), _Part(one.says, two.begins), *parts[at + 2 :])
            why = subject.say("ask-stop-order", first=_lowered(one.says), second=_lowered(two.says))
            yield Answer(_joined(swapped), why)
            return


def _kinds(plant: Plant, text: str) -> set[str]:
    equipment = plant.equipment.equipment
    return {str(equipment[key(tag)].kind) for tag in _TAG.findall(text) if key(tag) in equipment}


def _other_tags(subject: Subject, stop: str) -> Iterator[Answer]:
    """Return the stop with each tag replaced by its like on another side of the plant."""
    equipment = subject.plant.equipment.equipment
    tags = [tag for tag in dict.fromkeys(_TAG.findall(stop)) if key(tag) in equipment]
    for side in ("", *dict.fromkeys(tag.partition("-")[0] for tag in map(str, equipment) if "-" in tag)):
        like = {tag: f"{side}-{tag.rpartition('-')[2]}".lstrip("-") for tag in tags}
        if tags and all(key(other) in equipment and other != tag for tag, other in like.items()):
            yield Answer(_with_tags(stop, like), subject.say("ask-stop-other", tags=", ".join(like.values())))


def _with_tags(stop: str, like: Mapping[str, str]) -> str:
    return _TAG.sub(lambda match: like.get(match.group(), match.group()), stop)

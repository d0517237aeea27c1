"""Reading the English of a book: texts that somebody follows, their sentences, their words, and what is an order."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.verbs import (
    CLEAR_VERBS,
    DETERMINERS,
    FINITE,
    LEADS,
    NO_VERBS,
    OPENERS,
    SUBORDINATING,
    VERBS,
)
from tankside.loading.values import Text
from tankside.model.procedures import Procedure
from tankside.model.steps import Caution, Choose, Do, Item, Note, Section, Step, every

#: the language that the words of the rules are written in
LANGUAGE = "en"
#: the fields of the kinds of step that hold sentences
SENTENCES = ("text", "how", "until", "for_", "if_late", "about", "where")
#: a full stop inside a short form is followed by a small letter
SENTENCE_END = re.compile(r"(?<=[.!?])[\"')]*\s+(?![a-z])")
#: an amount in its brackets is one word, and so is a tag
WORD = re.compile(r"<[^<>\s]+>|[^\s]+")
AROUND = ".,;:!?\"'()"
TAG = re.compile(r"[A-Z]+[0-9]+|[A-Z]-[A-Za-z0-9]+|<.+>|[0-9]+(\.[0-9]+)?")


@dataclass(frozen=True)
class Said:
    """A text of a procedure, with the id of the procedure."""

    at: str
    text: Text


def sentences(text: str) -> tuple[str, ...]:
    """Return the sentences of a text, each with its own full stop."""
    return tuple(part for part in SENTENCE_END.split(text.strip()) if part)


def words(sentence: str) -> tuple[str, ...]:
    """Return the words of a sentence without the marks around them; a number, a unit and a tag are a word each."""
    stripped = (word if word.startswith("<") else word.strip(AROUND) for word in WORD.findall(sentence))
    return tuple(word for word in stripped if any(character.isalnum() or character in "%°" for character in word))


def in_english(audited: Audited) -> tuple[Procedure, ...]:
    """Return the procedures of a book that is written in English, none of another book."""
    return audited.procedures if audited.plant.facts.languages[0] == LANGUAGE else ()


def texts_of(step: Step) -> Iterator[Text]:
    """Return what a step says in sentences."""
    for name in SENTENCES:
        said = getattr(step, name, None)
        if said is not None:
            yield said
    if isinstance(step, Choose):
        yield from (branch.if_ for branch in step.branches)


def said_in_steps(audited: Audited) -> Iterator[Said]:
    """Return every text of the steps of a book, of what is done when it goes wrong, and of the safe stop."""
    for procedure in in_english(audited):
        at = str(procedure.procedure)
        for each in placed(procedure):
            yield from (Said(at, text) for text in texts_of(each.step))
        yield from (Said(at, remedy.do) for remedy in procedure.if_it_goes_wrong)
        yield Said(at, procedure.stop_safely)


def orders(audited: Audited) -> Iterator[Said]:
    """Return the texts that tell what to do: steps, how they are done, what is done when it goes wrong, the stop."""
    for procedure in in_english(audited):
        at = str(procedure.procedure)
        for each in placed(procedure):
            told = (each.step.text if isinstance(each.step, Do) else None, getattr(each.step, "how", None))
            yield from (Said(at, text) for text in told if text is not None)
        yield from (Said(at, remedy.do) for remedy in procedure.if_it_goes_wrong)
        yield Said(at, procedure.stop_safely)


def cautions(audited: Audited) -> Iterator[tuple[str, Caution]]:
    """Return the cautions of all procedures, each with the id of its procedure."""
    for procedure in in_english(audited):
        found = (item for item in every(procedure.steps) if isinstance(item, Caution))
        yield from ((str(procedure.procedure), item) for item in found)


def read_by_people(procedure: Procedure) -> tuple[Text, ...]:
    """Return all that a procedure says in words, without its sources, its history and the names of its parts."""
    told = (procedure.title, procedure.purpose, procedure.scope, procedure.stop_safely, *_at_the_ends(procedure))
    return (*told, *(text for item in every(procedure.steps) for text in _of_item(item)))


def _at_the_ends(procedure: Procedure) -> Iterator[Text]:
    if procedure.leave_if is not None:
        yield from (*procedure.leave_if.any_of, procedure.leave_if.then)
    for remedy in procedure.if_it_goes_wrong:
        yield from (remedy.sign, remedy.do)
    if procedure.waste is not None:
        yield procedure.waste.note


def _of_item(item: Item) -> Iterator[Text]:
    if isinstance(item, Section):
        yield item.title
    elif isinstance(item, Caution):
        yield from (item.hazard, item.harm, item.avoid)
    elif isinstance(item, Note):
        yield item.note
    elif isinstance(item, Step):
        yield from texts_of(item)


def notes(audited: Audited) -> Iterator[Said]:
    """Return the notes of all procedures."""
    for procedure in in_english(audited):
        found = (item.note for item in every(procedure.steps) if isinstance(item, Note))
        yield from (Said(str(procedure.procedure), note) for note in found)


def begins_action(said: tuple[str, ...]) -> bool:
    """Whether words are an order for sure: they begin with a verb that is nothing else, or with one and its object."""
    after = _without_leads(said)
    if not after or after[0].lower() not in VERBS or is_statement(after):
        return False
    if after[0].lower() in CLEAR_VERBS:
        return True
    return len(after) > 1 and (after[1].lower() in DETERMINERS or TAG.fullmatch(after[1]) is not None)


def may_be_order(said: tuple[str, ...]) -> bool:
    """Whether words can be read as an order: nothing shows that they do not begin with a verb."""
    after = _without_leads(said)
    if not after or is_statement(after):
        return False
    first = after[0].lower()
    if first in VERBS or first in ("do", "don't", "never"):
        return True
    return first not in NO_VERBS | OPENERS and not _is_participle(first) and not TAG.fullmatch(after[0])


def is_statement(said: tuple[str, ...]) -> bool:
    """Whether a finite verb follows the first words, with nothing before it that begins another clause."""
    for word in said[1:]:
        if word.lower() in SUBORDINATING:
            return False
        if word.lower() in FINITE:
            return True
    return False


def _is_participle(word: str) -> bool:
    return word.endswith("ing") and word not in VERBS


def _without_leads(said: tuple[str, ...]) -> tuple[str, ...]:
    while said and said[0].lower() in LEADS:
        said = said[1:]
    return said


def begins_with_condition(said: tuple[str, ...]) -> bool:
    """Whether words begin with a condition, a time or a circumstance, such as 'using both hands'."""
    return bool(said) and (said[0].lower() in OPENERS or _is_participle(said[0].lower()))


def order_of(sentence: str) -> str:
    """Return a sentence without whom it is for ('Second person: ...') and without the condition that it begins with."""
    _, colon, told = sentence.partition(": ")
    return after_condition(told if colon else sentence)


def after_condition(sentence: str) -> str:
    """Return what follows the condition that a sentence begins with: from the first comma that an order follows.

    The whole sentence is returned where it begins with no condition, nothing where no order follows.
    """
    if not begins_with_condition(words(sentence)):
        return sentence
    parts = sentence.split(", ")
    for at in range(1, len(parts)):
        if _is_order(words(parts[at])):
            return ", ".join(parts[at:])
    return ""


def _is_order(said: tuple[str, ...]) -> bool:
    after = _without_leads(said)
    return bool(after) and (after[0].lower() in VERBS or after[0].lower() in ("do", "never")) and may_be_order(after)

"""A condition that can be read in two ways, because it has both 'and' and 'or'."""

import re
from collections.abc import Iterator

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.wording import (
    Said,
    after_condition,
    begins_with_condition,
    in_english,
    orders,
    sentences,
    words,
)
from tankside.audit.rule import Family, Found, Weight, memory, rule
from tankside.model.steps import Choose, Move, Repeat
from tankside.problems import quoted

#: they belong to a number or to one word, not to the condition
HARMLESS = re.compile(
    r"\bor (?:more|less|higher|lower|above|below|over|under|warmer|colder|earlier|later|not)\b"
    r"|\bbetween \S+(?: [^\s,]+)? and\b|\bblack and white\b|\bmore and more\b",
    re.IGNORECASE,
)


@rule(
    Family.WRITING,
    Weight.SHOULD,
    memory("DOE-STD-1029-92", "section 4", "'and' and 'or' do not stand in the same condition"),
)
def and_or_mixed(audited: Audited) -> Iterator[Found]:
    """A condition has 'and' or 'or', never both.

    Looked at are conditions that a sentence of an order begins with, the answers of a `choose`, and the `until` of
    `move` and `repeat`. 'Or more', 'or less' and 'between ... and ...' belong to a number and do not count.

    'If V2 is open and P1 runs or the pail is full' has two readings, and they end differently.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - do: If the tank is empty and the water runs or foam is seen, hang the red tag on the tank.

    Passes:
        # procedures/filling/example.yaml
        steps:
          - do: If the tank is empty and the water runs, hang the red tag on the tank.
          - do: If foam is seen, hang the red tag on the tank.
    """
    for said in (*_leading(audited), *_decisive(audited)):
        left = {word.lower() for word in words(HARMLESS.sub(" ", said.text))}
        if {"and", "or"} <= left:
            yield Found(
                said.at,
                said.text.span,
                f"'and' and 'or' stand in the same condition: {quoted(said.text)}",
                "make two conditions of it, each with one of the two words",
            )


def _leading(audited: Audited) -> Iterator[Said]:
    for said in orders(audited):
        for sentence in sentences(said.text):
            order = after_condition(sentence)
            if begins_with_condition(words(sentence)) and order:
                condition = sentence.removesuffix(order)
                yield Said(said.at, type(said.text)(condition, said.text.span))


def _decisive(audited: Audited) -> Iterator[Said]:
    for procedure in in_english(audited):
        for step in (each.step for each in placed(procedure)):
            until = step.until if isinstance(step, Move | Repeat) else None
            answers = tuple(branch.if_ for branch in step.branches) if isinstance(step, Choose) else ()
            yield from (Said(str(procedure.procedure), text) for text in (until, *answers) if text is not None)

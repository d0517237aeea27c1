"""A note that hides a step or a limit."""

import re
from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.numbers import MEASURED
from tankside.audit.reading.wording import after_condition, begins_action, notes, sentences, words
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.problems import quoted

#: what makes a limit of a number with a unit; 'about 4 °C is usual' is information
LIMITING = re.compile(
    r"\b(?:at most|at least|(?:no|not) (?:more|less) than|not (?:over|under|above|below)|must|shall|never|maximum"
    r"|minimum|limit|or (?:more|less|higher|lower|above|below|over|under))\b",
    re.IGNORECASE,
)


@rule(
    Family.WRITING,
    Weight.SHOULD,
    read("ASD-STE100", "rule 5.5", "a note gives information, no instruction"),
    memory("DOE-STD-1029-92", "section 4", "a note holds neither an action nor a limit"),
)
def step_in_note(audited: Audited) -> Iterator[Found]:
    """A note holds no step and no limit.

    Looked at are the sentences of notes. A step begins with a verb and what it acts on, also after a condition; a
    limit is a number with its unit together with words such as 'at most', 'not more than', 'or less', 'must'.

    A note is not ticked off, not counted and not read again. Nobody is asked whether it was done.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - note: The water is warm at first. Let it run until it is cool.
          - do: Look at the tank.

    Passes:
        # procedures/filling/example.yaml
        steps:
          - note: The water is warm at first, about 30 °C is usual.
          - do: Let the water run until it is cool.
    """
    for said in notes(audited):
        for sentence in sentences(said.text):
            hidden = _hidden(sentence)
            if hidden:
                yield Found(
                    said.at,
                    said.text.span,
                    f"the note holds a {hidden}: {quoted(sentence)}",
                    "make it a step" if hidden == "step" else "make it a 'check' or a 'measure' with its limits",
                )


def _hidden(sentence: str) -> str:
    if begins_action(words(after_condition(sentence))):
        return "step"
    return "limit" if MEASURED.search(sentence) and LIMITING.search(sentence) else ""

"""A check in which something is done."""

import re
from collections.abc import Iterator

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.verbs import LOOKING, STAYING
from tankside.audit.reading.wording import after_condition, begins_action, in_english, sentences, words
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.model.steps import Check
from tankside.problems import quoted

PART = re.compile(r"[,;:]\s+(?:and\s+|then\s+)?|\s+(?:and\s+)?then\s+", re.IGNORECASE)


@rule(
    Family.WRITING,
    Weight.SHOULD,
    read("DOE-STD-1029-92", "section 4", "a check compares with what is required, and nothing is handled in it"),
)
def action_in_check(audited: Audited) -> Iterator[Found]:
    """A check only looks and compares.

    Looked at is each `check`. An order to look, read aloud, listen, feel, count or ask belongs to it. Any other order,
    such as to open, pour or wipe, is a step of its own: somebody who only looks leaves it out, and the dry run does
    not know of it.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - check: Wipe the sight tube. It stands at the red mark.

    Passes:
        # procedures/filling/example.yaml
        steps:
          - do: Wipe the sight tube.
          - check: The sight tube stands at the red mark. Read it aloud.
    """
    for procedure in in_english(audited):
        for each in placed(procedure):
            done = _done(each.step.text) if isinstance(each.step, Check) else ""
            if done:
                yield Found(
                    str(procedure.procedure),
                    each.step.span,
                    f"the check asks to do something: {quoted(done)}",
                    "make a step of it before the check",
                )


def _done(text: str) -> str:
    parts = (part for sentence in sentences(text) for part in PART.split(after_condition(sentence)))
    return next((part for part in parts if _is_done(words(part))), "")


def _is_done(said: tuple[str, ...]) -> bool:
    return begins_action(said) and said[0].lower() not in LOOKING | STAYING

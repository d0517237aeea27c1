"""A choice whose question or answers do not tell one way from the other."""

import re
from collections.abc import Iterator

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.wording import in_english, words
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.model.steps import Choose
from tankside.problems import quoted

#: what is not counted as a difference between two answers
SMALL = frozenset({"a", "an", "the", "it", "is", "are"})
QUESTION = re.compile(r"[^?]*\?")


@rule(
    Family.WRITING,
    Weight.SHOULD,
    read("DOE-STD-1029-92", "section 4", "of alternatives only the one that was taken is ticked"),
    memory("DOE-STD-1029-92", "section 4", "a branch names its condition and where it leads"),
)
def choose_unclear(audited: Audited) -> Iterator[Found]:
    """A choice asks one question, and no two of its answers are the same.

    Looked at is the text of each `choose`, which is one question with a question mark at its end, and the `if` of its
    branches, whose words must differ in more than capitals, marks and articles.

    Two questions at once have no single answer, and of two equal answers each person takes another one.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - choose: Is the tank empty? Is it clean?
            step: ask
            branches:
              - if: "yes"
                steps:
                  - do: Hang the green tag on the tank.
              - if: "no"
                steps:
                  - do: Hang the yellow tag on the tank.

    Passes:
        # procedures/filling/example.yaml
        steps:
          - choose: Is the tank empty and clean?
            step: ask
            branches:
              - if: "yes"
                steps:
                  - do: Hang the green tag on the tank.
              - if: "no"
                steps:
                  - do: Hang the yellow tag on the tank.
    """
    for procedure in in_english(audited):
        for each in placed(procedure):
            if isinstance(each.step, Choose):
                yield from _unclear(str(procedure.procedure), each.step)


def _unclear(at: str, step: Choose) -> Iterator[Found]:
    if not QUESTION.fullmatch(step.text.strip()):
        message = f"{quoted(step.text)} is not one question"
        yield Found(at, step.text.span, message, "ask one question with a question mark at its end")
    seen: set[frozenset[str]] = set()
    for branch in step.branches:
        said = frozenset(word.lower() for word in words(branch.if_)) - SMALL
        if said in seen:
            message = f"answer {quoted(branch.if_)} is also the answer of another branch of {quoted(step.text)}"
            yield Found(at, branch.if_.span, message, "write answers that cannot both be so")
        seen.add(said)

"""A condition that is read after what it decides."""

from collections.abc import Iterator
from itertools import pairwise

from tankside.audit.audited import Audited
from tankside.audit.reading.wording import begins_with_condition, may_be_order, orders, sentences, words
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.problems import quoted

CONDITIONS = frozenset({"if", "unless"})
#: after one of these it is a limit or a question, not the condition of an order
BEFORE = frozenset(
    {"and", "or", "but", "only", "even", "also", "as", "see", "look", "check", "ask", "know", "say", "tell", "find"}
)


@rule(
    Family.WRITING,
    Weight.SHOULD,
    read("ASD-STE100", "rule 5.4", "what goes before an instruction is parted from it by a comma"),
    read("DOE-STD-1029-92", "as a copy quotes it", "the condition stands first, then the action"),
)
def condition_last(audited: Audited) -> Iterator[Found]:
    """A condition stands before the action that it decides.

    Looked at are the sentences of each `do` and `how`, of what is done when it goes wrong, and of `stop_safely`, where
    they begin with an order. 'Only if' is a limit and may stand behind; so may 'when', which mostly says until when.

    A person who has read 'Shut V2' has shut it before reading on.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - do: Hang the red tag on the tank if the water is not clear.

    Passes:
        # procedures/filling/example.yaml
        steps:
          - do: If the water is not clear, hang the red tag on the tank.
    """
    for said in orders(audited):
        for sentence in sentences(said.text):
            for clause in sentence.split("; "):
                found = _condition(words(clause))
                if found:
                    yield Found(
                        said.at,
                        said.text.span,
                        f"the condition stands behind the action in {quoted(clause)}",
                        f"begin with '{found.capitalize()} ..., '",
                    )


def _condition(said: tuple[str, ...]) -> str:
    if begins_with_condition(said) or not may_be_order(said):
        return ""
    return next((word for before, word in pairwise(said) if word in CONDITIONS and before.lower() not in BEFORE), "")

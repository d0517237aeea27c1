"""A step that asks, hopes or recommends."""

import re
from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.wording import said_in_steps
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.problems import quoted

SOFT = re.compile(
    r"\b(?:should|please|try to|ideally|preferably|(?:if|where|when|whenever|as far as) possible|it is recommended"
    r"|(?:is|are) recommended|we recommend|consider|feel free|may want to|might want to|it is best to|do your best)\b",
    re.IGNORECASE,
)


@rule(
    Family.WRITING,
    Weight.SHOULD,
    read("ASD-STE100", "rule 5.3", "an instruction is a command"),
    memory("DOE-STD-1029-92", "section 4", "'should' marks advice and has no place in a step"),
)
def order_softened(audited: Audited) -> Iterator[Found]:
    """A step is an order, a check says what is so.

    Looked at are the texts of all steps, what is done when it goes wrong, and `stop_safely`, for a closed list:
    should, please, try to, if possible, ideally, preferably, consider, recommended, and their likes.

    What should be done is left out on a busy day, and nobody can say afterwards that it was wrong.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - do: If possible, look at the tank before the start.

    Passes:
        # procedures/filling/example.yaml
        steps:
          - do: Look at the tank before the start.
    """
    for said in said_in_steps(audited):
        for found in SOFT.finditer(said.text):
            yield Found(
                said.at,
                said.text.span,
                f"{quoted(found[0])} makes advice of a step: {quoted(said.text)}",
                "write it as an order, or leave it out",
            )

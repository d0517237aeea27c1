"""A source that nobody can look up."""

import re
from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.rule import Family, Found, Weight, memory, rule
from tankside.problems import quoted

#: words in a source, unless it has a number, as standards have
FEWEST_WORDS = 3
LINK = re.compile(r"(https?://|www\.)\S+", re.IGNORECASE)
NUMBER = re.compile(r"[0-9]")


@rule(
    Family.UPKEEP,
    Weight.SHOULD,
    memory("EPA QA/G-6", "suggested contents", "a procedure ends with its references"),
)
def source_unclear(audited: Audited) -> Iterator[Found]:
    """Each source says what it is and what was taken from it.

    Looked at is each line under `sources`. Found is a bare link, which says nothing once the page is gone, and a line
    of one or two words without a number, such as 'Experience' or 'From memory'. A standard by its number alone passes.

    An honest source may well be weak: 'Rinses of 10 L. Common practice, no source.' Then the next reader knows that a
    better one is welcome. Whether a source is right, and says what it is said to say, no rule can know.

    Fails:
        # procedures/filling/example.yaml
        sources:
          - The internet.

    Passes:
        # procedures/filling/example.yaml
        sources:
          - Rinses of 10 L. Common practice, no source.
          - ISO 7010.
    """
    for procedure in audited.procedures:
        for source in procedure.sources:
            if _is_unclear(source):
                yield Found(
                    str(procedure.procedure),
                    source.span,
                    f"{quoted(source)} does not say what the source is and what it is for",
                    "name the standard and its section and what was taken from it, or say 'common practice, no source'",
                )


def _is_unclear(source: str) -> bool:
    if LINK.fullmatch(source.strip()):
        return True
    return len(source.split()) < FEWEST_WORDS and not NUMBER.search(source)

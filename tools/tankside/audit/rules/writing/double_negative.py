"""A clause that says no twice."""

import re
from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.wording import Said, cautions, said_in_steps, sentences, words
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.problems import quoted

NEGATIONS = frozenset(
    {"not", "no", "never", "nobody", "nothing", "none", "cannot", "don't", "doesn't", "isn't", "aren't"}
)
#: after a negation they turn it round
TURNING = re.compile(
    r"unless|without|unusual|unsafe|unlikely|uncommon|unclear|unlocked|unlabell?ed|untested|incorrect|incomplete"
    r"|impossible|improper|unnecessary",
    re.IGNORECASE,
)
#: what follows is a clause of its own
CLAUSE = re.compile(r"[,;:]\s+|\s+(?:and|or|but|so that)\s+", re.IGNORECASE)


@rule(
    Family.WRITING,
    Weight.SHOULD,
    read("HSE HSG48", "as a checklist of it says", "no double negatives"),
    read("DOE-STD-1029-92", "as a copy quotes it", "the word 'not' is avoided"),
)
def double_negative(audited: Audited) -> Iterator[Found]:
    """A clause says no once at most.

    Looked at are the texts of all steps, what is done when it goes wrong, `stop_safely` and the `avoid` of cautions,
    clause by clause. Found are two words such as not, no, never and nobody in one clause, and one of them before
    unless, without, unlocked, unusual and their likes.

    'Do not open V2 unless the tank is not empty' has to be worked out, and somebody in a hurry works it out wrongly.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - check: No valve is left unlocked.

    Passes:
        # procedures/filling/example.yaml
        steps:
          - check: Each valve is locked. Nothing drips, and nobody is in the way.
    """
    avoided = (Said(at, caution.avoid) for at, caution in cautions(audited))
    for said in (*said_in_steps(audited), *avoided):
        for sentence in sentences(said.text):
            for clause in CLAUSE.split(sentence):
                if _turns_round(words(clause)):
                    yield Found(
                        said.at,
                        said.text.span,
                        f"{quoted(clause)} says no twice",
                        "say what must be so, or what to do",
                    )


def _turns_round(said: tuple[str, ...]) -> bool:
    # What stands on a sign, 'DO NOT OPERATE', is a name.
    at = [number for number, word in enumerate(said) if word.lower() in NEGATIONS and not word.isupper()]
    return len(at) > 1 or any(TURNING.fullmatch(word) for first in at[:1] for word in said[first:])

"""Words that leave it to the reader how much, how long or how well."""

import re
from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.wording import Said, cautions, said_in_steps
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.problems import quoted

VAGUE = re.compile(
    r"\b(?:sufficient(?:ly)?|enough|adequate(?:ly)?|appropriate(?:ly)?|suitabl[ey]|proper(?:ly)?|satisfactor(?:y|ily)"
    r"|reasonabl[ey]|acceptabl[ey]|(?:as|if|when|where) (?:needed|required|necessary|appropriate|applicable)"
    r"|(?:approximately|roughly)(?! (?:[0-9]|<))|a bit|a few|several|some(?! (?:of (?:it|them) )?(?:is|are|was|were)\b)"
    r"|for a (?:while|moment|short time|long time)|regularly|periodically|frequently|occasionally|from time to time"
    r"|now and then|etc|and so on|or so)\b",
    re.IGNORECASE,
)


@rule(
    Family.WRITING,
    Weight.SHOULD,
    read("HSE HSG48", "as a checklist of it says", "values and limits are given in figures, tests say what passes"),
    memory("DOE-STD-1029-92", "section 4", "quantities with their ranges, not words such as sufficient"),
)
def vague_amount(audited: Audited) -> Iterator[Found]:
    """A step says how much, how long and how well.

    Looked at are the texts of all steps, what is done when it goes wrong, `stop_safely` and the `avoid` of cautions,
    for a closed list of words: sufficient, enough, adequate, appropriate, suitable, proper, as needed, as required,
    some, a few, several, a bit, for a while, regularly, etc., and their likes.

    A new hire cannot know what is enough. A figure, a mark, a sound or a colour can be looked for.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - do: Rinse the cup with some water until it is sufficiently clean.

    Passes:
        # procedures/filling/example.yaml
        steps:
          - do: Rinse the cup three times with 100 mL of water.
    """
    avoided = (Said(at, caution.avoid) for at, caution in cautions(audited))
    for said in (*said_in_steps(audited), *avoided):
        for found in VAGUE.finditer(said.text):
            yield Found(
                said.at,
                said.text.span,
                f"{quoted(found[0])} leaves it to the reader in {quoted(said.text)}",
                "give the figure with its unit, or what is seen, heard or felt when it is so",
            )

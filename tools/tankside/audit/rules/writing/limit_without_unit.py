"""A limit or a reading whose number has no unit."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.numbers import without_unit
from tankside.audit.reading.wording import said_in_steps, sentences
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.problems import quoted


@rule(
    Family.WRITING,
    Weight.SHOULD,
    read("HSE HSG48", "as a checklist of it says", "values and limits are given in figures, as the display shows them"),
    memory("DOE-STD-1029-92", "section 4", "a quantity has its unit and its range"),
)
def limit_without_unit(audited: Audited) -> Iterator[Found]:
    """A number that measures something has its unit.

    Looked at are numbers in figures after words such as 'at most', 'more than', 'below', 'reads', 'shows' or 'stands
    at', in every text of the steps, of what is done when it goes wrong, and of `stop_safely`. Counts ('2 pails'),
    nought, pH, tags, ratios and times of day need no unit.

    'More than 20' is 20 L to the person who wrote it, and 20 kg or 20 US gal to somebody else.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - check: The sight tube stands at 40 or higher.

    Passes:
        # procedures/filling/example.yaml
        steps:
          - check: The sight tube stands at 40 L or higher. At least 2 pails are empty.
    """
    for said in said_in_steps(audited):
        for sentence in sentences(said.text):
            for found in without_unit(sentence):
                yield Found(
                    said.at,
                    said.text.span,
                    f"{quoted(found)} has no unit in {quoted(sentence)}",
                    "write the unit that the instrument shows behind the number",
                )

"""A sentence of a step that is too long to be kept in mind."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.wording import said_in_steps, sentences, words
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.problems import quoted

#: words in a sentence of a procedure (ASD-STE100, rule 5.1)
MOST_WORDS = 20


@rule(
    Family.WRITING,
    Weight.SHOULD,
    read("ASD-STE100", "rule 5.1", "a sentence of a procedure has 20 words at most"),
    read("HSE HSG48", "as a checklist of it says", "sentences are short and simple"),
)
def sentence_long(audited: Audited) -> Iterator[Found]:
    """A sentence of a step has 20 words at most.

    Looked at are the sentences of all steps, of what is done when it goes wrong, and of `stop_safely`. A number, a
    unit, a tag and an amount such as `<water>` are a word each; what a hyphen joins is one.

    Whoever reads a step looks away to do it. What does not fit into one look is half forgotten by then.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - do: >-
              Hold the cup under the nozzle on the bench beside the drum and the pail until it is half full and no foam
              is left.

    Passes:
        # procedures/filling/example.yaml
        steps:
          - do: Hold the cup under the nozzle until it is half full, without foam.
    """
    for said in said_in_steps(audited):
        for sentence in sentences(said.text):
            count = len(words(sentence))
            if count > MOST_WORDS:
                yield Found(
                    said.at,
                    said.text.span,
                    f"a sentence has {count} words, more than {MOST_WORDS}: {quoted(sentence)}",
                    "make two sentences or two steps of it, or leave words out",
                )

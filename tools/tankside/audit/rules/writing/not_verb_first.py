"""An action that does not begin with its verb."""

from collections.abc import Iterator

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.wording import in_english, may_be_order, order_of, sentences, words
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.model.steps import Do
from tankside.problems import quoted


@rule(
    Family.WRITING,
    Weight.SHOULD,
    read("ASD-STE100", "rules 5.3 and 5.4", "an instruction is a command; what goes before it is parted by a comma"),
    read("HSE HSG48", "as a checklist of it says", "the active voice, and a verb at the beginning"),
)
def not_verb_first(audited: Audited) -> Iterator[Found]:
    """A `do` begins with its verb, or with a condition, a comma and the verb.

    Looked at is the first sentence of each `do`. It may begin with a condition, a time or a circumstance ('If P1 runs,
    ...', 'After rinsing, ...', 'With dry gloves, ...') and with a word such as 'slowly' or 'then'. A sentence about
    what somebody should do, or about what is done, leaves open who does it, and whether it has been done already.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - do: The operator puts the lid on the pail.

    Passes:
        # procedures/filling/example.yaml
        steps:
          - do: Put the lid on the pail.
          - do: If the pail is full, put the lid on it.
    """
    for procedure in in_english(audited):
        for each in placed(procedure):
            if isinstance(each.step, Do) and not _is_verb_first(sentences(each.step.text)[0]):
                yield Found(
                    str(procedure.procedure),
                    each.step.text.span,
                    f"{quoted(each.step.text)} does not begin with what is to be done",
                    "begin with the verb, as in 'Shut V2', or with a condition, a comma and the verb",
                )


def _is_verb_first(sentence: str) -> bool:
    return may_be_order(words(order_of(sentence)))

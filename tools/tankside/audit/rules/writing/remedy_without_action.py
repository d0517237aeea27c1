"""A remedy that says what is so, not what to do."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.wording import begins_action, in_english, is_statement, sentences, words
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.problems import quoted


@rule(
    Family.WRITING,
    Weight.SHOULD,
    read("ASD-STE100", "rule 5.3", "an instruction is a command"),
    practice("what to do when it goes wrong is an order that can be followed at once"),
)
def remedy_without_action(audited: Audited) -> Iterator[Found]:
    """What is done when it goes wrong is something to do.

    Looked at is each `do` under `if_it_goes_wrong` that leads to no other procedure by `go_to`. Short orders are
    welcome there: 'P1 off at once', 'Everybody out'. Found is one that has only sentences about what is, may be or has
    been so.

    Fails:
        # procedures/filling/example.yaml
        if_it_goes_wrong:
          - sign: P1 sounds different
            do: The filter may be full. That has happened before.

    Passes:
        # procedures/filling/example.yaml
        if_it_goes_wrong:
          - sign: P1 sounds different
            do: P1 off at once. The filter may be full, call the lead.
    """
    for procedure in in_english(audited):
        for remedy in procedure.if_it_goes_wrong:
            if remedy.go_to is None and all(map(_only_states, sentences(remedy.do))):
                yield Found(
                    str(procedure.procedure),
                    remedy.do.span,
                    f"{quoted(remedy.do)} says nothing that can be done",
                    "say first what to do, then why",
                )


def _only_states(sentence: str) -> bool:
    parts = [words(part) for part in sentence.split(", ")]
    return is_statement(words(sentence)) and not any(map(begins_action, parts))

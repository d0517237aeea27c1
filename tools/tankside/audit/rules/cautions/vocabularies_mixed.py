"""Signal words of cautions, signal words of labels, and notes, one in the place of another."""

from collections.abc import Iterator

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.caution_words import foreign_in_caution, foreign_on_label, heading_in
from tankside.audit.reading.wording import LANGUAGE, cautions, in_english, notes, texts_of
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.problems import quoted


@rule(
    Family.CAUTIONS,
    Weight.SHOULD,
    read(
        "ANSI Z535.6", "with Z535.4", "DANGER, WARNING, CAUTION, NOTICE head a statement of hazard, harm and avoidance"
    ),
    read("29 CFR 1910.1200", "App. C.2.1", "a label has Danger or Warning, no other signal word"),
    memory("DOE-STD-1029-92", "section 4", "a note gives information only"),
)
def vocabularies_mixed(audited: Audited) -> Iterator[Found]:
    """Signal words of cautions, signal words of labels, and notes are kept apart.

    Four things are looked at. A note or a step that begins with a signal word ('Caution: ...') is a caution without its
    parts. A text of a caution that begins with one, or has one in capitals, says the word twice or contradicts its own.
    The number of a hazard statement ('H314') says nothing at the tank. And a label that has 'Caution' or 'Notice' where
    its signal word stands uses a word that labels do not have. A tag or sign that is called DANGER is left alone.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - note: "Caution: the floor is slippery."
          - do: Look at the tank.
            step: look

    Passes:
        # procedures/filling/example.yaml
        steps:
          - caution: The floor is slippery.
            harm: A fall bruises.
            avoid: Small steps.
            covers: [look]
          - do: Look at the tank.
            step: look
    """
    yield from _headings(audited)
    tags = frozenset(map(str, audited.plant.equipment.equipment))
    for at, caution in cautions(audited):
        for text in (caution.hazard, caution.harm, caution.avoid):
            word = foreign_in_caution(text, tags)
            if word:
                message = f"{quoted(word)} stands in the words of this {caution.kind}: {quoted(text)}"
                yield Found(at, text.span, message, "say what happens and to whom; the signal word is the key")
    if audited.plant.facts.languages[0] == LANGUAGE:
        yield from _labels(audited)


def _headings(audited: Audited) -> Iterator[Found]:
    said = [(each.at, "note", each.text) for each in notes(audited)]
    for procedure in in_english(audited):
        for each in placed(procedure):
            said += ((str(procedure.procedure), "step", text) for text in texts_of(each.step))
    for at, what, text in said:
        if heading_in(text):
            message = f"this {what} begins with a signal word: {quoted(text)}"
            yield Found(at, text.span, message, "write a 'caution' with its harm and how it is avoided")


def _labels(audited: Audited) -> Iterator[Found]:
    for tag, piece in audited.plant.equipment.equipment.items():
        word = foreign_on_label(piece.label or "")
        if piece.label is not None and word:
            message = (
                f"{quoted(word)} stands as signal word on the label of {quoted(tag)}, and labels have no such word"
            )
            yield Found(str(tag), piece.label.span, message, "write Danger or Warning, as the data sheet says")

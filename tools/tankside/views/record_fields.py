"""What a place on a record sheet looks like that is written in by hand: the same few shapes everywhere."""

from dataclasses import dataclass, replace

#: sizes, which the style knows in millimetres; what is ringed or only read takes the room that it needs
BOX, SHORT, MIDDLE, WIDE, LONG, LINE = "box", "short", "middle", "wide", "long", "line"
RING, PRINTED = "ring", "printed"


@dataclass(frozen=True)
class Field:
    """A place to write in, to tick or to ring, or something printed beside those; what it is not is empty."""

    size: str
    #: what is written here, or what is printed
    label: str = ""
    #: stands behind the room to write
    unit: str = ""
    #: one of them is ringed
    answers: tuple[str, ...] = ()
    #: what is printed in it, or beside a box
    text: str = ""


@dataclass(frozen=True)
class Row:
    """Places side by side: a column for each pass, or for each time that something was put in."""

    label: str
    fields: tuple[Field, ...]


@dataclass(frozen=True)
class StepWriting:
    """All that is written at one step."""

    #: the words beside each box before its number; there is none where a step is done several times
    boxes: tuple[str, ...]
    #: who and when, two in a line
    signs: tuple[Field, ...]
    #: under its words
    fields: tuple[Field, ...]
    rows: tuple[Row, ...]
    #: of a repetition: a line for each pass, behind its last step
    passes: tuple[Row, ...]


def for_each(field: Field, passes: tuple[str, ...]) -> Row:
    """Return a row with a place like `field` for each pass."""
    size = LONG if field.size == LINE else field.size
    return Row(field.label, tuple(replace(field, size=size, label=each) for each in passes))

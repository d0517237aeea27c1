"""What stands in the list of steps: sections, cautions, notes and every kind of step."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, ClassVar

from tankside.loading.values import Text
from tankside.model.references import BOOKKEEPING, CLAIMS, measures, refers
from tankside.problems import Span

#: kinds of equipment that can be started and stopped
DRIVEN = ("pump", "mixer", "exhaust")
#: kinds of equipment that can be opened and shut
TURNED = ("valve", "port")
#: kinds of equipment that liquid is poured with by hand
POURED = ("measure", "pail")
#: kinds of equipment that amounts are measured in
MEASURES = ("measure", "scale", "pail")


@dataclass(frozen=True)
class Item:
    """Anything in the list of steps."""

    span: Annotated[Span, BOOKKEEPING]
    #: the key that says the kind
    kind: str
    #: the kinds that a class stands for
    KINDS: ClassVar[tuple[str, ...]] = ()
    #: the field that takes the value of the kind's own key
    OWN: ClassVar[str] = ""


@dataclass(frozen=True)
class Section(Item):
    """Begins a named section."""

    KINDS: ClassVar[tuple[str, ...]] = ("section",)
    OWN: ClassVar[str] = "section"
    section: Text
    title: Text
    #: "when sent here" when going on does not lead to it
    entered: Text | None = None


@dataclass(frozen=True)
class Caution(Item):
    """A caution statement (ANSI Z535.6); `kind` is its signal word."""

    KINDS: ClassVar[tuple[str, ...]] = ("danger", "warning", "caution", "notice")
    OWN: ClassVar[str] = "hazard"
    hazard: Text
    harm: Text
    avoid: Text
    covers: Annotated[tuple[Text, ...], refers("step")] = ()
    if_it_happens: Annotated[Text | None, refers("procedure")] = None


@dataclass(frozen=True)
class Note(Item):
    """Information only."""

    KINDS: ClassVar[tuple[str, ...]] = ("note",)
    OWN: ClassVar[str] = "note"
    note: Text


@dataclass(frozen=True)
class Step(Item):
    """A step; every kind of step is one of these."""

    #: its name, unique in the procedure
    name: Text
    second_person: Text | None
    picture_says: Text | None
    picture: Annotated[Text | None, refers("picture")]
    #: what is looked at and must be so
    finds: Annotated[tuple[Text, ...], CLAIMS]
    #: what is so afterwards
    leaves: Annotated[tuple[Text, ...], CLAIMS]
    #: what may reach the person, beyond what follows from the step
    exposes: Annotated[tuple[Text, ...], refers("material")]
    #: the machines that hands go into
    works_on: Annotated[tuple[Text, ...], refers("tag")]


@dataclass(frozen=True)
class TurnValve(Step):
    """Open or shut a valve or a port."""

    KINDS: ClassVar[tuple[str, ...]] = ("open", "shut")
    OWN: ClassVar[str] = "target"
    target: Annotated[Text, refers("tag", *TURNED)]
    how: Text | None = None


@dataclass(frozen=True)
class Drive(Step):
    """Start or stop something that runs."""

    KINDS: ClassVar[tuple[str, ...]] = ("start", "stop")
    OWN: ClassVar[str] = "target"
    target: Annotated[Text, refers("tag", *DRIVEN)]
    how: Text | None = None


@dataclass(frozen=True)
class Isolate(Step):
    """Lock an isolation point, or take the lock off."""

    KINDS: ClassVar[tuple[str, ...]] = ("lock", "unlock")
    OWN: ClassVar[str] = "target"
    target: Annotated[Text, refers("tag", "isolation-point", "valve")]
    how: Text | None = None


@dataclass(frozen=True)
class Move(Step):
    """Move a material along a path."""

    KINDS: ClassVar[tuple[str, ...]] = ("move",)
    OWN: ClassVar[str] = "material"
    material: Annotated[Text, refers("material")]
    path: Annotated[tuple[Text, ...], refers("tag")] = ()
    amount: Text | None = None
    until: Text | None = None
    how: Text | None = None


@dataclass(frozen=True)
class Add(Step):
    """Add an ingredient to a vessel."""

    KINDS: ClassVar[tuple[str, ...]] = ("add",)
    OWN: ClassVar[str] = "material"
    amount: Text
    material: Annotated[Text, refers("material")]
    to: Annotated[Text, refers("tag", "tank", "pail", "measure")]
    #: what it runs or is pumped from; without it, it is poured in by hand
    from_: Annotated[Text | None, refers("tag", "drum", "supply", "tank")] = None
    #: what it is poured with
    with_: Annotated[Text | None, refers("tag", *POURED)] = None
    how: Text | None = None


@dataclass(frozen=True)
class Do(Step):
    """Any other single action."""

    KINDS: ClassVar[tuple[str, ...]] = ("do",)
    OWN: ClassVar[str] = "text"
    text: Text


@dataclass(frozen=True)
class Check(Step):
    """Look and compare."""

    KINDS: ClassVar[tuple[str, ...]] = ("check",)
    OWN: ClassVar[str] = "text"
    text: Text
    if_not: Annotated[Text | None, refers("place")] = None


@dataclass(frozen=True)
class Measure(Step):
    """Read a value with an instrument."""

    KINDS: ClassVar[tuple[str, ...]] = ("measure",)
    OWN: ClassVar[str] = "text"
    text: Text
    instrument: Annotated[Text, refers("tag", "instrument", "scale", "measure")]
    limits: Annotated[Text, refers("limit")]
    if_outside: Annotated[Text, refers("place")]


@dataclass(frozen=True)
class Record(Step):
    """Write something down."""

    KINDS: ClassVar[tuple[str, ...]] = ("record",)
    OWN: ClassVar[str] = "text"
    text: Text
    where: Text | None = None


@dataclass(frozen=True)
class Labels(Step):
    """Change to the labels of a product, or count what became of them."""

    KINDS: ClassVar[tuple[str, ...]] = ("labels",)
    OWN: ClassVar[str] = "product"
    product: Annotated[Text, refers("product")]
    #: out: read back and counted; in: used, spoiled and left are counted
    counted: Text


@dataclass(frozen=True)
class Notify(Step):
    """Tell somebody."""

    KINDS: ClassVar[tuple[str, ...]] = ("notify",)
    OWN: ClassVar[str] = "role"
    about: Text
    role: Annotated[Text, refers("role")]


@dataclass(frozen=True)
class Wait(Step):
    """Wait a time."""

    KINDS: ClassVar[tuple[str, ...]] = ("wait",)
    OWN: ClassVar[str] = "time"
    for_: Text
    if_late: Text
    time: Annotated[Text, measures("time", sign="above 0")]


@dataclass(frozen=True)
class Branch:
    """One answer of a choice."""

    if_: Text
    go_to: Annotated[Text | None, refers("place")] = None
    #: what is so when this answer is given
    finds: Annotated[tuple[Text, ...], CLAIMS] = ()
    steps: tuple[Item, ...] = ()


@dataclass(frozen=True)
class Choose(Step):
    """Take exactly one branch."""

    KINDS: ClassVar[tuple[str, ...]] = ("choose",)
    OWN: ClassVar[str] = "text"
    text: Text
    branches: tuple[Branch, ...]


@dataclass(frozen=True)
class Repeat(Step):
    """Do steps again until it is enough."""

    KINDS: ClassVar[tuple[str, ...]] = ("repeat",)
    OWN: ClassVar[str] = "text"
    text: Text
    until: Text
    at_most: Text
    steps: tuple[Item, ...]
    if_not: Annotated[Text | None, refers("place")] = None


@dataclass(frozen=True)
class Hold(Step):
    """Go no further until a role releases it."""

    KINDS: ClassVar[tuple[str, ...]] = ("hold",)
    OWN: ClassVar[str] = "text"
    text: Text
    released_by: Annotated[Text, refers("role")]


STEP_CLASSES: tuple[type[Step], ...] = (
    TurnValve,
    Drive,
    Isolate,
    Move,
    Add,
    Do,
    Check,
    Measure,
    Record,
    Labels,
    Notify,
    Wait,
    Choose,
    Repeat,
    Hold,
)
ITEM_CLASSES: tuple[type[Item], ...] = (Section, Caution, Note, *STEP_CLASSES)
CLASS_OF_KIND: dict[str, type[Item]] = {kind: each for each in ITEM_CLASSES for kind in each.KINDS}
#: kinds whose own value is a sentence rather than a name; their derived name is made of its first words
SENTENCES = ("do", "check", "measure", "record", "hold", "repeat", "choose")
NAME_WORDS = 3


def derived_name(kind: str, value: str, waited_for: str) -> str:
    """Return the name of a step that gives none: its kind and its target, or its kind and its first words."""
    said = waited_for if kind == "wait" else value
    if kind not in (*SENTENCES, "wait"):
        return f"{kind}-{said.lower()}"
    words = re.findall(r"[a-z0-9]+", said.lower())
    return "-".join([kind, *words[:NAME_WORDS]])


def nested(item: Item) -> tuple[tuple[Item, ...], ...]:
    """Return the lists of items inside an item."""
    if isinstance(item, Repeat):
        return (item.steps,)
    if isinstance(item, Choose):
        return tuple(branch.steps for branch in item.branches)
    return ()


def every(items: tuple[Item, ...]) -> Iterator[Item]:
    """Return all items, those inside others included, in reading order."""
    for item in items:
        yield item
        for inner in nested(item):
            yield from every(inner)

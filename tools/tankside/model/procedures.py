"""Procedures and checklists."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated

from tankside.loading.values import Text
from tankside.model.questions import WrittenQuestion
from tankside.model.references import BOOKKEEPING, CLAIMS, measures, refers
from tankside.model.steps import MEASURES, Item
from tankside.problems import Span


@dataclass(frozen=True)
class Change:
    """A line of the history."""

    revision: Text
    date: Text
    change: Text
    #: "same" when the author says that only the wording changed, and nothing of what it means
    meaning: Annotated[Text | None, BOOKKEEPING] = None


@dataclass(frozen=True)
class LeaveIf:
    """The bright line of an emergency: when any is true, nobody goes on."""

    any_of: tuple[Text, ...]
    then: Text


@dataclass(frozen=True)
class Input:
    """What is chosen before the start."""

    asks: Text
    from_: Annotated[Text, measures("mass", "volume", sign="above 0")]
    to: Annotated[Text, measures("mass", "volume", sign="above 0")]
    usual: Annotated[Text, measures("mass", "volume", sign="above 0")]
    table: Annotated[tuple[Text, ...], measures("mass", "volume", sign="above 0")]


@dataclass(frozen=True)
class Amount:
    """An amount that is worked out by a helper."""

    title: Text
    with_: Mapping[Text, Text]
    calculate: Annotated[Text, refers("helper")]
    result: Text | None = None
    tolerance: Annotated[Text | None, measures("mass", "volume", sign="above 0")] = None
    measure_in: Annotated[Text | None, refers("tag", *MEASURES)] = None
    collect_in: Annotated[Text | None, refers("tag", "pail", "drum", "tank")] = None


@dataclass(frozen=True)
class Remedy:
    """What one sees when it goes wrong, and what one does."""

    sign: Text
    do: Text
    go_to: Annotated[Text | None, refers("procedure")] = None


@dataclass(frozen=True)
class Waste:
    """Where the waste goes."""

    note: Text
    into: Annotated[Text, refers("tag", "drum", "drain", "pail")]


@dataclass(frozen=True)
class Procedure:
    """A file of procedures/<family>/."""

    span: Annotated[Span, BOOKKEEPING]
    #: False when a part of the file could not be read; what is not found may then stand in that part
    is_complete: Annotated[bool, BOOKKEEPING]
    procedure: Text
    title: Text
    family: Text
    situation: Text
    revision: Text
    effective: Text
    review: Text
    purpose: Text
    scope: Text
    second_person: Text
    stop_safely: Text
    steps: tuple[Item, ...]
    if_it_goes_wrong: tuple[Remedy, ...]
    sources: tuple[Text, ...]
    history: tuple[Change, ...]
    approved: Annotated[Text, refers("role")]
    done_by: Annotated[Text, refers("role")]
    #: how its working copy is meant to be used: read then do, or do then check
    followed: Text | None = None
    unconfirmed: Text | None = None
    emergency: Text | None = None
    handles: Annotated[tuple[Text, ...], refers("material")] = ()
    wear: Annotated[tuple[Text, ...], refers("wearable")] = ()
    prerequisites: Annotated[tuple[Text, ...], refers("condition")] = ()
    needs: Annotated[tuple[Text, ...], refers("tag")] = ()
    #: what `stop_safely` brings about
    stop_leaves: Annotated[tuple[Text, ...], CLAIMS] = ()
    leave_if: LeaveIf | None = None
    inputs: Mapping[Text, Input] = field(default_factory=dict)
    amounts: Mapping[Text, Amount] = field(default_factory=dict)
    waste: Waste | None = None
    #: what is asked beside what is asked of itself; no reader who follows it gets them, so they are in no hash
    questions: Annotated[tuple[WrittenQuestion, ...], BOOKKEEPING] = ()
    #: further steps that are always watched when somebody is trained
    observe: Annotated[tuple[Text, ...], refers("step"), BOOKKEEPING] = ()

    @property
    def is_emergency(self) -> bool:
        """Whether it must open at once, without gate or timer."""
        return self.emergency == "yes"


@dataclass(frozen=True)
class Reference:
    """An item of a checklist: a whole procedure, or a section of it."""

    procedure: Annotated[Text, refers("procedure")]
    section: Text | None = None
    why: Text | None = None


@dataclass(frozen=True)
class Checklist:
    """A file of checklists/."""

    span: Annotated[Span, BOOKKEEPING]
    is_complete: Annotated[bool, BOOKKEEPING]
    checklist: Text
    title: Text
    situation: Text
    lists: Text
    revision: Text
    effective: Text
    review: Text
    purpose: Text
    items: tuple[Reference, ...]
    history: tuple[Change, ...]
    approved: Annotated[Text, refers("role")]
    done_by: Annotated[Text, refers("role")]
    #: as of a procedure; it holds for all its parts
    followed: Text | None = None

    @property
    def is_followed(self) -> bool:
        """Whether it is followed step by step; else it names titles only."""
        return self.lists == "steps"

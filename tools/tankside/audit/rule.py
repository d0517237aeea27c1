"""What a rule of the audit is: a function with a manual page, a weight and the published sources behind it."""

import inspect
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from tankside.audit.audited import Audited
from tankside.problems import Span


class Weight(StrEnum):
    """How much it counts: a procedure with an open `must` is not for use, a `should` is advice."""

    MUST = "must"
    SHOULD = "should"


class Family(StrEnum):
    """What a rule is about; the columns of the audit page, in their order."""

    CAUTIONS = "cautions"
    PROTECTION = "protection"
    SUBSTANCES = "substances"
    LOCKOUT = "lockout"
    EMERGENCIES = "emergencies"
    STOPPING = "stopping"
    WRITING = "writing"
    UPKEEP = "upkeep"
    LABELS = "labels"
    TRAINING = "training"


class Status(StrEnum):
    """Whether the text of a source was seen."""

    READ = "read"
    MEMORY = "from memory"
    PRACTICE = "common practice, no source"


@dataclass(frozen=True)
class Source:
    """What a rule rests on, in our own words."""

    #: as the standards page heads it: "29 CFR 1910.147", "ANSI Z535.6"; "" for common practice
    standard: str
    #: the paragraph or section; "" for the whole
    part: str
    says: str
    status: Status

    def __str__(self) -> str:
        """Return the source as one line."""
        named = f"{self.standard}{self.part if self.part.startswith('(') else f' {self.part}'}".strip()
        return f"{named}: {self.says} ({self.status})" if named else f"{self.says} ({self.status})"


def read(standard: str, part: str, says: str) -> Source:
    """Return a source whose text, or a stored copy of it, was seen."""
    return Source(standard, part, says, Status.READ)


def memory(standard: str, part: str, says: str) -> Source:
    """Return a source that was recalled and not seen."""
    return Source(standard, part, says, Status.MEMORY)


def practice(says: str) -> Source:
    """Return a habit of the trade that no source was found for."""
    return Source("", "", says, Status.PRACTICE)


@dataclass(frozen=True)
class Found:
    """One thing that a rule found."""

    #: id of the procedure or checklist, else the tag, material or other fact that it is about, else "book"
    at: str
    span: Span
    #: what is wrong with the value quoted; lower case, no full stop
    message: str
    #: what to do, as an imperative
    hint: str


Check = Callable[[Audited], Iterator[Found]]


@dataclass(frozen=True)
class Rule:
    """A rule of the audit."""

    code: str
    family: Family
    weight: Weight
    sources: tuple[Source, ...]
    #: whose law alone makes it a must; in a book under another law it is good practice; "" for any
    law: str
    #: one line
    summary: str
    #: the rest of its docstring: what is looked at, why, and what to do
    manual: str
    check: Check

    def weight_in(self, jurisdiction: str) -> Weight:
        """Return how much it counts in a book under some law."""
        return self.weight if self.law in ("", jurisdiction) else Weight.SHOULD


def rule(family: Family, weight: Weight, *sources: Source, law: str = "") -> Callable[[Check], Rule]:
    """Make a rule of a function: its name is the code, its docstring the manual page."""

    def made(check: Check) -> Rule:
        summary, _, manual = inspect.cleandoc(check.__doc__ or "").partition("\n")
        code = check.__name__.replace("_", "-")
        return Rule(code, family, weight, sources, law, summary, manual.strip(), check)

    return made

"""What somebody has learnt, as a competence file tells of it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from tankside.problems import Span
from tankside.quantities.portable import Portable
from tankside.records.chain import HASH
from tankside.records.document import Document
from tankside.training.standing import day_of
from tankside.training.taught import Taught


@dataclass(frozen=True)
class Appointment:
    """Somebody may act in a role from a day on."""

    role: str
    day: str
    #: initials of who appointed, and the role in which that was done
    by: str
    by_role: str


@dataclass(frozen=True, eq=False)
class Competence:
    """A chain of events about one person, of which at least the first hangs together."""

    document: Document
    #: names the chain
    name: str
    #: initials, as they were first written
    person: str
    #: what the person is called; may be empty
    called: str
    #: the role that the person is trained for; empty where no event says it
    role: str
    #: the events that hang together, each with its place in the file
    places: tuple[tuple[int, Portable], ...]
    #: places of those that count: neither struck out nor against the rules; no beginning, no line through another
    counting: frozenset[int]
    #: hash -> what was taught
    taught: Mapping[str, Taught]

    @property
    def path(self) -> str:
        """The file."""
        return self.document.path

    @property
    def span(self) -> Span:
        """Where it stands."""
        return self.document.places.span(self.document.within)

    @property
    def book(self) -> str:
        """The book that it belongs to."""
        return str(self.document.value.get("book", ""))

    @property
    def hashes(self) -> Sequence[str]:
        """The hashes of its events."""
        return [str(event[HASH]) for _, event in self.places]

    @cached_property
    def entries(self) -> tuple[Portable, ...]:
        """The events that count, in the order of the chain."""
        return tuple(event for place, event in self.places if place in self.counting)

    @property
    def appointed(self) -> tuple[Appointment, ...]:
        """The roles that the person was appointed to."""
        found = (each for each in self.entries if each["kind"] == "appointed")
        return tuple(Appointment(each["role"], day_of(each), each["assessor"], each["assessor_role"]) for each in found)


def initials(written: str) -> str:
    """Return initials as they are compared."""
    return written.strip().lower()


def is_same(one: str, other: str) -> bool:
    """Return whether two initials are those of one person."""
    return initials(one) == initials(other)

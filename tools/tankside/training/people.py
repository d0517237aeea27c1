"""Who was trained: all that files say of one person."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from tankside.problems import Problem
from tankside.quantities.portable import Portable
from tankside.training.competence import Appointment, Competence, initials
from tankside.training.standing import day_of
from tankside.training.taught import Taught


@dataclass(frozen=True, eq=False)
class Person:
    """Somebody, by the initials."""

    #: one for each chain, the first one begun first
    records: tuple[Competence, ...]

    @property
    def initials(self) -> str:
        """The initials, as they were first written."""
        return self.records[0].person

    @property
    def called(self) -> str:
        """What the person is called; may be empty."""
        return next((each.called for each in self.records if each.called), "")

    @cached_property
    def entries(self) -> tuple[Portable, ...]:
        """The events that count, oldest first; those of one chain in its order."""
        if len(self.records) == 1:
            return self.records[0].entries
        found = (event for each in self.records for event in each.entries)
        return tuple(sorted(found, key=lambda event: datetime.fromisoformat(event["at"])))

    @cached_property
    def taught(self) -> Mapping[str, Taught]:
        """Hash -> what was taught."""
        return {hash_: taught for each in self.records for hash_, taught in each.taught.items()}

    @property
    def procedures(self) -> tuple[str, ...]:
        """The procedures that there are entries about."""
        return tuple(dict.fromkeys(each["procedure"] for each in self.entries if "procedure" in each))

    def appointed(self, day: str) -> tuple[Appointment, ...]:
        """Return the appointments up to a day."""
        return tuple(each for record in self.records for each in record.appointed if each.day <= day)

    def roles(self, day: str) -> tuple[str, ...]:
        """Return the roles that the person is trained for, or was appointed to by a day."""
        learnt = (each.role for each in self.records if each.role)
        return tuple(dict.fromkeys((*learnt, *(each.role for each in self.appointed(day)))))

    def about(self, procedure: str) -> tuple[Portable, ...]:
        """Return the entries about a procedure."""
        return tuple(each for each in self.entries if each.get("procedure") == procedure)

    def drills(self, procedure: str) -> frozenset[str]:
        """Return the days on which a procedure was practised."""
        return frozenset(day_of(each) for each in self.about(procedure) if each["kind"] == "drill")


def people(records: Iterable[Competence]) -> tuple[Person, ...]:
    """Return the people whom competence records are about, by their initials."""
    found: dict[str, list[Competence]] = {}
    for each in sorted(records, key=_begun):
        found.setdefault(initials(each.person), []).append(each)
    return tuple(Person(tuple(found[name])) for name in sorted(found))


def namesakes(everybody: Iterable[Person]) -> Iterator[Problem]:
    """Return a remark for each further record of somebody."""
    for person in everybody:
        first, *others = person.records
        for each in others:
            message = f"{person.initials} has another competence record, {first.name} in {first.path}"
            hint = "both count as one person; if they are two, one of them needs other initials"
            yield each.document.remark("competence-two-records", message, hint, "person")


def _begun(record: Competence) -> tuple[str, str]:
    _, first = record.places[0]
    return first["at"], record.name

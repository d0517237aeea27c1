"""Days on which people did what they were trained for, as records of working copies say."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from tankside.quantities.portable import Portable
from tankside.records.chain import content_hash
from tankside.records.record import Record
from tankside.training.competence import initials
from tankside.training.standing import day_of

#: what somebody enters who does a step
MARKS = ("mark", "look", "pour", "read", "count")


@dataclass(frozen=True)
class Use:
    """Somebody did steps of a procedure in a working copy."""

    #: initials as they are compared, and as they were written
    who: str
    written: str
    procedure: str
    #: the first and the last event with which a step of it was marked
    first: Portable
    last: Portable
    record: Record

    @property
    def day(self) -> str:
        """The day of the last mark: it counts as use."""
        return day_of(self.last)

    @property
    def content(self) -> str:
        """The hash of the edition that was followed."""
        for part in self.record.copy.script.parts:
            if part.procedure == self.procedure:
                return content_hash(part.edition)
        return ""


def uses(records: Iterable[Record]) -> tuple[Use, ...]:
    """Return who did steps of which procedure in which working copy; a checklist is of all the procedures in it."""
    return tuple(use for record in records for use in _of(record))


def days(found: Iterable[Use]) -> Mapping[tuple[str, str], frozenset[str]]:
    """Return the days of use by person and procedure."""
    by_both: dict[tuple[str, str], set[str]] = {}
    for each in found:
        by_both.setdefault((each.who, each.procedure), set()).add(each.day)
    return {both: frozenset(each) for both, each in by_both.items()}


def _of(record: Record) -> Iterator[Use]:
    undone = {entry.event["corrects"] for entry in record.entries if entry.event["kind"] == "unmark"}
    marked: dict[tuple[str, str], list[Portable]] = {}
    for entry in record.entries:
        event, visit = entry.event, entry.visit
        if event["kind"] in MARKS and visit is not None and event["seq"] not in undone:
            both = initials(event["who"]), record.copy.part_of(visit).procedure
            marked.setdefault(both, []).append(event)
    for (who, procedure), events in marked.items():
        yield Use(who, events[0]["who"].strip(), procedure, events[0], events[-1], record)

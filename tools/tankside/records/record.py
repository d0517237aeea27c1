"""One working copy as a file tells of it, examined."""

from dataclasses import dataclass

from tankside.problems import Problem
from tankside.quantities.portable import Portable
from tankside.records.copy import Copy
from tankside.records.document import Document
from tankside.records.judging import Entry, Judged


@dataclass(frozen=True, eq=False)
class Record:
    """A record of which at least the first event hangs together with its edition, so that it can be told."""

    document: Document
    judged: Judged
    #: what a reader should know of it
    remarks: tuple[Problem, ...]
    #: nothing of it is missing, changed or left out: all its events were judged
    is_whole: bool

    @property
    def path(self) -> str:
        """The file."""
        return self.document.path

    @property
    def copy(self) -> Copy:
        """The state of the working copy."""
        return self.judged.copy

    @property
    def entries(self) -> list[Entry]:
        """Its events, by their numbers."""
        return self.judged.entries

    @property
    def first(self) -> Portable:
        """The event with which it began."""
        return self.entries[0].event

    @property
    def last(self) -> Portable:
        """The last event."""
        return self.entries[-1].event

    @property
    def name(self) -> str:
        """The id of the working copy."""
        return str(self.first["copy"])

    @property
    def lot(self) -> str:
        """The lot, empty when it is about none."""
        return str(self.first.get("lot", ""))

    @property
    def title(self) -> str:
        """The title of what was followed."""
        return str(self.copy.script.edition["written"]["title"])

    @property
    def revision(self) -> str:
        """The revision of what was followed."""
        return str(self.copy.script.edition["written"]["revision"])

    @property
    def places(self) -> list[tuple[int, Portable]]:
        """Its events, each with its place in the file."""
        return [(entry.place, entry.event) for entry in self.entries]

    @property
    def hashes(self) -> list[str]:
        """The hashes of its events."""
        return [str(entry.event["hash"]) for entry in self.entries]

"""One record of any sort in a file, as it was read, and how something is said of a place in it."""

from dataclasses import dataclass, field

from tankside.problems import Problem, Severity
from tankside.quantities.portable import Portable
from tankside.records.json_places import Path, Places
from tankside.records.sorts import RECORD, Sort


@dataclass(frozen=True, eq=False)
class Document:
    """One record in a file, as it was read."""

    places: Places = field(repr=False)
    #: what leads to it inside the file; nothing where it is the file
    within: Path
    value: Portable = field(repr=False)
    sort: Sort = RECORD

    @property
    def path(self) -> str:
        """The file."""
        return self.places.path

    def error(self, code: str, message: str, hint: str, *keys: str | int) -> Problem:
        """Return something that is wrong with the value that `keys` lead to."""
        return Problem(self.places.span((*self.within, *keys)), code, _silent(message), hint)

    def key_error(self, code: str, message: str, hint: str, *keys: str | int) -> Problem:
        """Return something that is wrong with a key itself."""
        return Problem(self.places.key_span((*self.within, *keys)), code, _silent(message), hint)

    def remark(self, code: str, message: str, hint: str, *keys: str | int) -> Problem:
        """Return something that a reader should know of the value that `keys` lead to."""
        return Problem(self.places.span((*self.within, *keys)), code, _silent(message), hint, Severity.REMARK)


def _silent(message: str) -> str:
    """Return a message without characters that a terminal would obey: it may name what a file holds."""
    return "".join(each if each.isprintable() else " " for each in message)

"""Files of a device read from a disk: one record in a file, or several."""

import re
from collections.abc import Iterable
from pathlib import Path

from tankside.problems import Problem, Span, quoted
from tankside.quantities.portable import Portable
from tankside.records.document import Document
from tankside.records.json_places import Places
from tankside.records.json_reading import NotSureError, read_json
from tankside.records.shape import misfits_around
from tankside.records.sorts import RECORD, Sort

MEBIBYTE = 1024 * 1024
#: no device saves a larger one; 10,000 events take about 8
MOST_BYTES = 64 * MEBIBYTE


def read_files(paths: Iterable[Path], sort: Sort = RECORD) -> tuple[list[Document], list[Problem]]:
    """Return the records in files, and why others could not be read."""
    documents: list[Document] = []
    problems: list[Problem] = []
    for path in paths:
        found, wrong = read_file(path, sort)
        documents += found
        problems += wrong
    return documents, problems


def read_file(path: Path, sort: Sort = RECORD) -> tuple[list[Document], list[Problem]]:
    """Return the records in a file, and what is wrong with the file itself; there are none when it cannot be read."""
    name = path.as_posix()
    try:
        with path.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
        places = Places(name, _text(data, sort))
        return _documents(places, read_json(places, sort), sort)
    except OSError as error:
        reason = error.strerror or str(error)
        message = f"this file cannot be read: {reason[:1].lower()}{reason[1:]}"
        return [], [Problem(Span(name), sort.code("unreadable"), message, "allow yourself to read it")]
    except _RefusedError as error:
        return [], [error.problem(name, sort)]
    except NotSureError as error:
        return [], [Problem(places.span_at(error.at), sort.code(error.what), error.message, error.hint)]


class _RefusedError(Exception):
    """A file that holds no record of ours."""

    def __init__(self, what: str, message: str, hint: str, before: str = "") -> None:
        """Keep what a problem is made of; `what` ends its code, `before` is the text up to the place."""
        super().__init__(message)
        self.what, self.message, self.hint, self.before = what, message, hint, before

    def problem(self, path: str, sort: Sort) -> Problem:
        """Return it as a problem of a file."""
        lines = self.before.split("\n")
        span = Span(path, len(lines), len(lines[-1]) + 1)
        return Problem(span, sort.code(self.what), self.message, self.hint)


def _text(data: bytes, sort: Sort) -> str:
    if len(data) > MOST_BYTES:
        message = f"this file is larger than {MOST_BYTES // MEBIBYTE} MiB, the most that is read"
        raise _RefusedError("too-big", message, f"save fewer {sort.things} in one file")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = error.object[: error.start].decode("utf-8")
        message = f"byte 0x{error.object[error.start]:02x} is not UTF-8 text"
        raise _RefusedError("not-utf-8", message, f"this file was changed; {sort.save_again}", before) from error


def _documents(places: Places, value: Portable, sort: Sort) -> tuple[list[Document], list[Problem]]:
    layout = value.get("layout") if isinstance(value, dict) else None
    whole = Document(places, (), value, sort)
    if layout == sort.layout:
        return [whole], []
    if layout != sort.layout_of_many:
        raise _other_layout(layout, sort)
    records = value.get(sort.list_key)
    inside = enumerate(records if isinstance(records, list) else ())
    found = [Document(places, (sort.list_key, number), each, sort) for number, each in inside]
    return found, list(misfits_around(whole))


def _other_layout(layout: Portable, sort: Sort) -> _RefusedError:
    known = re.fullmatch(rf"tankside-{sort.name}s?-([0-9]{{1,9}})", layout) if isinstance(layout, str) else None
    if known is None:
        no_layout, other = f"this file is not a {sort.noun}", f"layout {quoted(layout)} is not that of a {sort.noun}"
        message = no_layout if layout is None else other
        return _RefusedError("foreign", message, "name files that a device has saved")
    if int(known[1]) > 1:
        message = f"layout {quoted(layout)} is newer than this version knows"
        return _RefusedError("newer", message, "read it with the version of tankside that made it, or a newer one")
    message = f"layout {quoted(layout)} is older than any that was ever published"
    return _RefusedError("older", message, f"this file was changed, or was made for a trial; {sort.save_again}")

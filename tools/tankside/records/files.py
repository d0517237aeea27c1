"""Record files read from a disk: one working copy in a file, or several."""

import re
from collections.abc import Iterable
from pathlib import Path

from tankside.problems import Problem, Span, quoted
from tankside.quantities.portable import Portable
from tankside.records.document import Document
from tankside.records.json_places import Places
from tankside.records.json_reading import NotSureError, read_json
from tankside.records.shape import misfits_around

#: names the layout of a file with one working copy, and of one with several
LAYOUT, MANY = "tankside-record-1", "tankside-records-1"
#: where in a file of several they stand
RECORDS = "records"
MEBIBYTE = 1024 * 1024
#: no device saves a larger one; 10,000 events take about 8
MOST_BYTES = 64 * MEBIBYTE
_LAYOUTS = re.compile(r"tankside-records?-([0-9]{1,9})")
_SAVE_AGAIN = "save the record from the device again"


def read_files(paths: Iterable[Path]) -> tuple[list[Document], list[Problem]]:
    """Return the records in files, and why others could not be read."""
    documents: list[Document] = []
    problems: list[Problem] = []
    for path in paths:
        found, wrong = read_file(path)
        documents += found
        problems += wrong
    return documents, problems


def read_file(path: Path) -> tuple[list[Document], list[Problem]]:
    """Return the records in a file, and what is wrong with the file itself; there are none when it cannot be read."""
    name = path.as_posix()
    try:
        with path.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
        places = Places(name, _text(data))
        return _documents(places, read_json(places))
    except OSError as error:
        reason = error.strerror or str(error)
        message = f"this file cannot be read: {reason[:1].lower()}{reason[1:]}"
        return [], [_wrong(name, "record-unreadable", message, "allow yourself to read it")]
    except _RefusedError as error:
        return [], [error.problem(name)]
    except NotSureError as error:
        return [], [Problem(places.span_at(error.at), error.code, error.message, error.hint)]


class _RefusedError(Exception):
    """A file that holds no record of ours."""

    def __init__(self, code: str, message: str, hint: str, before: str = "") -> None:
        """Keep what a problem is made of; `before` is the text up to the place."""
        super().__init__(message)
        self.code, self.message, self.hint, self.before = code, message, hint, before

    def problem(self, path: str) -> Problem:
        """Return it as a problem of a file."""
        lines = self.before.split("\n")
        return Problem(Span(path, len(lines), len(lines[-1]) + 1), self.code, self.message, self.hint)


def _text(data: bytes) -> str:
    if len(data) > MOST_BYTES:
        message = f"this file is larger than {MOST_BYTES // MEBIBYTE} MiB, the most that is read"
        raise _RefusedError("record-too-big", message, "save fewer working copies in one file")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = error.object[: error.start].decode("utf-8")
        message = f"byte 0x{error.object[error.start]:02x} is not UTF-8 text"
        raise _RefusedError("record-not-utf-8", message, f"this file was changed; {_SAVE_AGAIN}", before) from error


def _documents(places: Places, value: Portable) -> tuple[list[Document], list[Problem]]:
    layout = value.get("layout") if isinstance(value, dict) else None
    whole = Document(places, (), value)
    if layout == LAYOUT:
        return [whole], []
    if layout != MANY:
        raise _other_layout(layout)
    records = value.get(RECORDS)
    inside = enumerate(records if isinstance(records, list) else ())
    return [Document(places, (RECORDS, number), each) for number, each in inside], list(misfits_around(whole))


def _other_layout(layout: Portable) -> _RefusedError:
    known = _LAYOUTS.fullmatch(layout) if isinstance(layout, str) else None
    if known is None:
        message = "this file is not a record" if layout is None else f"layout {quoted(layout)} is not that of a record"
        return _RefusedError("record-foreign", message, "name files that a device has saved")
    if int(known[1]) > 1:
        message = f"layout {quoted(layout)} is newer than this version knows"
        return _RefusedError(
            "record-newer", message, "read it with the version of tankside that made it, or a newer one"
        )
    message = f"layout {quoted(layout)} is older than any that was ever published"
    return _RefusedError("record-older", message, f"this file was changed, or was made for a trial; {_SAVE_AGAIN}")


def _wrong(path: str, code: str, message: str, hint: str) -> Problem:
    return Problem(Span(path), code, message, hint)

"""A new book: the starter, copied out of the package."""

from collections.abc import Iterator
from datetime import date, timedelta
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

from tankside.starting.refusals import CannotStartError
from tankside.starting.schemas import FOLDER, write_schemas

#: the days that stand in the starter, for that of its writing and that of its review
WRITTEN, REVIEWED = "2026-11-25", "2027-11-25"
UNTIL_REVIEW = timedelta(days=365)


def write_book(folder: Path, today: date) -> tuple[str, ...]:
    """Write the starter into a folder that is new or empty, and return the paths of its own files.

    Raises:
        CannotStartError: the folder holds something already, or is no folder.
    """
    _refuse_taken(folder)
    written = []
    for path, data in _starter(files("tankside") / "assets" / "starter"):
        target = folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        with target.open("xb") as stream:
            stream.write(_dated(data, today))
        written.append(path)
    write_schemas(folder / FOLDER)
    return tuple(written)


def review_day(today: date) -> date:
    """Return the day by which what is written today is read again."""
    return today + UNTIL_REVIEW


def _refuse_taken(folder: Path) -> None:
    if folder.is_symlink() and not folder.exists():
        raise CannotStartError(f"{folder} is a link to nothing; name another folder")
    if folder.exists() and not folder.is_dir():
        raise CannotStartError(f"{folder} is a file; name a folder")
    if folder.is_dir() and any(folder.iterdir()):
        raise CannotStartError(f"{folder} is not empty; name a new folder, nothing is ever overwritten")


def _starter(folder: Traversable, path: str = "") -> Iterator[tuple[str, bytes]]:
    for each in sorted(folder.iterdir(), key=lambda each: each.name):
        inside = f"{path}{each.name}"
        if each.is_dir():
            yield from _starter(each, f"{inside}/")
        else:
            yield inside, each.read_bytes()


def _dated(data: bytes, today: date) -> bytes:
    """Put the day of today in: a starter whose review is already late would teach that dates do not matter."""
    days = ((REVIEWED, review_day(today)), (WRITTEN, today))
    for old, new in days:
        data = data.replace(old.encode("ascii"), new.isoformat().encode("ascii"))
    return data

"""Records written into files and checked."""

from pathlib import Path

from record_files import Record, text_of, written

from tankside.problems import Problem
from tankside.records.checking import Checked, check_files


def checked(folder: Path, *texts: str) -> Checked:
    """Return what is found in files with these texts: 0.json, 1.json ..."""
    return check_files([written(folder, text, f"{number}.json") for number, text in enumerate(texts)])


def problems_of(folder: Path, *records: Record | str) -> tuple[Problem, ...]:
    """Return the problems of files with these records or texts."""
    return checked(folder, *(each if isinstance(each, str) else text_of(each) for each in records)).problems


def codes(folder: Path, *records: Record | str) -> list[str]:
    """Return the codes of the problems of files."""
    return [each.code for each in problems_of(folder, *records)]

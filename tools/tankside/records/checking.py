"""Everything that is found in record files: in each for itself, and in all of them beside each other."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from tankside.problems import Problem, in_order
from tankside.records.examining import Examiner
from tankside.records.files import read_files
from tankside.records.record import Record
from tankside.records.same_copy import beside_each_other


@dataclass(frozen=True)
class Checked:
    """What was found in some files."""

    #: each working copy once, the first one begun first
    records: tuple[Record, ...]
    problems: tuple[Problem, ...]


def check_files(paths: Iterable[Path]) -> Checked:
    """Read record files, and judge what is in them."""
    documents, problems = read_files(dict.fromkeys(paths))
    examiner = Examiner()
    found = []
    for document in documents:
        record, wrong = examiner.examine(document)
        problems += wrong
        found += [] if record is None else [record]
    records, compared = beside_each_other(found)
    problems += compared
    problems += [remark for record in records for remark in record.remarks]
    ordered = sorted(records, key=lambda record: (datetime.fromisoformat(record.first["at"]), record.name))
    return Checked(tuple(ordered), in_order(problems))

"""Everything that is found in competence files: in each for itself, and in all of them beside each other."""

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from tankside.problems import Problem, in_order
from tankside.records.files import read_files
from tankside.records.same_copy import beside_each_other
from tankside.records.sorts import COMPETENCE
from tankside.training.competence import Competence
from tankside.training.examining import examine
from tankside.training.people import Person, namesakes, people


@dataclass(frozen=True)
class Read:
    """What was found in some files."""

    #: by their initials
    people: tuple[Person, ...]
    problems: tuple[Problem, ...]


def read_competences(paths: Iterable[Path]) -> Read:
    """Read competence files, and judge what is in them."""
    documents, problems = read_files(dict.fromkeys(paths), COMPETENCE)
    found: list[Competence] = []
    for document in documents:
        competence, wrong = examine(document)
        problems += wrong
        found += [] if competence is None else [competence]
    records, compared = beside_each_other(found)
    everybody = people(records)
    return Read(everybody, in_order([*problems, *compared, *namesakes(everybody)]))

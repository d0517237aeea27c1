"""What was taught, as a competence file holds it: each under its hash."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from tankside.problems import Problem
from tankside.records.chain import content_hash
from tankside.records.document import Document
from tankside.records.shape import Misfit
from tankside.training.taught import Taught, taught_from

#: where in a file it stands
TAUGHT = "taught"
#: digits of a hash that people compare
SHORT = 8
_CHANGED = "entries that name it do not count; look for another copy of the file"


@dataclass(frozen=True)
class Holding:
    """What is held."""

    #: hash -> what is as its hash says
    sound: Mapping[str, Taught]
    #: hashes of what is there and cannot be relied on
    broken: frozenset[str]
    problems: tuple[Problem, ...]


def holding(document: Document, wrong: Collection[Misfit]) -> Holding:
    """Return what a file holds of what was taught; `wrong` is what in the file has not the shape of one."""
    held = document.value.get(TAUGHT)
    held = held if isinstance(held, dict) else {}
    shapeless = {str(each.path[1]) for each in wrong if each.path[:1] == (TAUGHT,) and len(each.path) > 1}
    sound: dict[str, Taught] = {}
    problems = []
    for hash_, value in held.items():
        if hash_ in shapeless:
            continue
        own = content_hash(value)
        if own == hash_:
            sound[hash_] = taught_from(value)
        else:
            message = f"what stands under {hash_[:SHORT]} was changed: its own hash is {own[:SHORT]}"
            problems.append(document.error("competence-taught-changed", message, _CHANGED, TAUGHT, hash_))
    return Holding(sound, frozenset(held) - sound.keys(), tuple(problems))

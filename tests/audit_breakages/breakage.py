"""A single change to the demo book that the audit must find, or must not mind."""

from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent


@dataclass(frozen=True)
class Breakage:
    """One thing broken in the demo book, and the rule that must find it."""

    what: str
    path: str
    #: a text that stands in the file exactly once
    old: str
    new: str
    #: the rule that must find it
    code: str
    #: how the line begins where it must be found, in the broken file; or `step: name` for the step of that name
    at: str
    #: the file where it must be found; "" for the one that was broken
    at_path: str = ""


@dataclass(frozen=True)
class Harmless:
    """A change that no rule minds."""

    what: str
    path: str
    old: str
    new: str


def text_of(path: str) -> str:
    """Return the text of a file of the demo book."""
    return (ROOT / path).read_text(encoding="utf-8")


def procedure_paths() -> tuple[str, ...]:
    """Return the files of all procedures of the demo book."""
    found = sorted((ROOT / "procedures").glob("*/*.yaml"))
    return tuple(path.relative_to(ROOT).as_posix() for path in found if path.parent.name != "plant")

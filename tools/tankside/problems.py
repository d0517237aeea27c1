"""What is wrong with a book, as data: where, how bad, what, and the way out."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from difflib import get_close_matches
from enum import StrEnum

#: characters of a value that a message quotes
LONGEST = 60


class Severity(StrEnum):
    """How bad it is: an error makes `check` fail, a remark does not."""

    ERROR = "error"
    REMARK = "remark"


@dataclass(frozen=True, order=True)
class Span:
    """A place in a file of the book; line and column count from 1."""

    #: path inside the book, with forward slashes
    path: str
    line: int = 1
    column: int = 1

    def __str__(self) -> str:
        """Return `path:line:column`."""
        return f"{self.path}:{self.line}:{self.column}"


@dataclass(frozen=True, order=True)
class Problem:
    """One thing that is wrong, sorted by its place."""

    span: Span
    #: kebab-case code; `tests/invalid/<code>` is an example
    code: str
    #: what is wrong with the value quoted; lower case, no full stop
    message: str
    #: what to do, as an imperative
    hint: str
    severity: Severity = Severity.ERROR

    def as_text(self) -> str:
        """Return the two lines that a person reads."""
        return f"{self.span}: {self.severity.value}: {self.message} [{self.code}]\n    hint: {self.hint}"

    def as_plain(self) -> dict[str, str | int]:
        """Return the fields as JSON takes them."""
        return {
            "path": self.span.path,
            "line": self.span.line,
            "column": self.span.column,
            "severity": self.severity.value,
            "code": self.code,
            "message": self.message,
            "hint": self.hint,
        }


def in_order(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Return the problems sorted by place, each once."""
    return tuple(sorted(set(problems)))


def unless_spoken(earlier: Iterable[Problem], later: Iterable[Problem]) -> Iterator[Problem]:
    """Return the later problems, without those at a place of which something more basic has been said."""
    spoken = {problem.span for problem in earlier}
    return (problem for problem in later if problem.span not in spoken)


def has_errors(problems: Iterable[Problem]) -> bool:
    """Return whether any of the problems is an error."""
    return any(problem.severity is Severity.ERROR for problem in problems)


def quoted(value: object) -> str:
    """Return a value of the book in quotes, on one line and not longer than a line."""
    text = "".join(character if character.isprintable() else " " for character in str(value))
    text = " ".join(text.split())
    return f"'{text}'" if len(text) <= LONGEST else f"'{text[: LONGEST - 1].rstrip()}…'"


def near(word: str, known: Iterable[str]) -> tuple[str, ...]:
    """Return the known words that `word` may have been meant as, the likeliest first; at most three."""
    if len(word) > LONGEST:
        return ()
    by_folded: dict[str, str] = {}
    for candidate in sorted(known):
        by_folded.setdefault(candidate.casefold(), candidate)
    return tuple(by_folded[match] for match in get_close_matches(word.casefold(), by_folded, n=3, cutoff=0.6))


def meant(word: str, known: Iterable[str], otherwise: str) -> str:
    """Return a hint that suggests the nearest known word, or `otherwise` when none is near."""
    suggestions = near(word, known)
    return f"did you mean '{suggestions[0]}'?" if suggestions else otherwise

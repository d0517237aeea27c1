"""Whether a breakage is found, and whether a harmless change is left alone."""

from collections.abc import Collection, Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path

from breakages.breakage import line_of
from demo_book import replace

from audit_breakages.breakage import Breakage, Harmless
from tankside.audit import RULES, Finding, Rule, audit_of
from tankside.checkup import read_book

DAY = date(2026, 12, 1)
RULE = {rule.code: rule for rule in RULES}
#: what stays the same of a finding when lines move
Same = tuple[str, str, str]


def findings(book: Path, rules: Collection[Rule] = RULES) -> tuple[Finding, ...]:
    """Return what rules find in a book."""
    read = read_book(book)
    assert read.rehearsal is not None, "\n".join(each.as_text() for each in read.problems)
    return audit_of(read.rehearsal, DAY, rules).findings


@contextmanager
def changed(book: Path, change: Breakage | Harmless) -> Iterator[None]:
    """Change a book for a while."""
    path = book / change.path
    whole = path.read_bytes()
    try:
        replace(path, change.old, change.new)
        yield
    finally:
        path.write_bytes(whole)


def is_caught(book: Path, breakage: Breakage, known: Collection[Same]) -> bool:
    """Return whether the expected rule finds something new at the expected place; `known` is found without it, too."""
    with changed(book, breakage):
        found = findings(book, (RULE[breakage.code],))
        place = breakage.at_path or breakage.path
        line = line_of((book / place).read_text(encoding="utf-8"), breakage.at.removeprefix("step: "))
        return (place, line) in {
            (each.found.span.path, each.found.span.line) for each in found if each.same not in known
        }


def raised(book: Path, change: Harmless, known: Collection[Same]) -> list[str]:
    """Return what a harmless change raises that is not known."""
    with changed(book, change):
        return [each.as_text() for each in findings(book) if each.same not in known]

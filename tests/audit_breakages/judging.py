"""Whether a breakage is found, and whether a harmless change is left alone."""

import re
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
SHEETS = "procedures/plant/sheets.yaml"
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
    paths = (book / change.path, book / SHEETS)
    whole = [path.read_bytes() for path in paths]
    try:
        replace(paths[0], change.old, change.new)
        if isinstance(change, Breakage):
            _without_sheets_of(paths[1], paths[0].stem)
        yield
    finally:
        for path, data in zip(paths, whole, strict=True):
            path.write_bytes(data)


def _without_sheets_of(sheets: Path, procedure: str) -> None:
    """Take out the sheets that name steps of a procedure that was broken: the steps may be gone."""
    block = rf"  [\w-]+:\n    kind: (?:banner|wall-sheet)\n    of: {procedure}\n(?:    .*\n)+"
    text = re.sub(block, "", sheets.read_text(encoding="utf-8"))
    sheets.write_text(text, encoding="utf-8", newline="\n")


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

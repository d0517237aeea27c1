"""Cells that a spreadsheet leaves as they are."""

import csv
import io
import re
from collections.abc import Iterable, Sequence

#: what a spreadsheet takes for the beginning of a formula (OWASP, "CSV Injection"), behind blanks too
FORMULA = re.compile(r"\s*[=+\-@\uff1d\uff0b\uff0d\uff20]|[\t\r\n]")
#: texts of which it makes another one: 007 becomes 7, 12-10 a day, 12e3 and what has more than 15 digits is rounded
REMADE = re.compile(r"0[0-9]+|[0-9]{16,}|[0-9]+[eE][0-9]+|[0-9]{1,4}[-/.][0-9]{1,2}([-/.][0-9]{1,4})?")
#: before both stands a mark for text
TEXT = "'"


def as_text(text: str) -> str:
    """Return a text as a cell that stays a text."""
    shown = kept(text)
    return f"{TEXT}{shown}" if FORMULA.match(shown) or REMADE.fullmatch(shown) else shown


def kept(text: str) -> str:
    """Return a text without what only a terminal obeys."""
    return "".join(each if _is_kept(each) else " " for each in text)


def table(columns: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Return a table as comma-separated values (RFC 4180)."""
    text = io.StringIO()
    # All are quoted: a lone carriage return would otherwise end its line.
    writer = csv.writer(text, quoting=csv.QUOTE_ALL, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows(rows)
    return text.getvalue()


def _is_kept(character: str) -> bool:
    """Return whether a character means something in a cell; what only a terminal obeys does not."""
    return character.isprintable() or character in "\t\r\n\u00a0"

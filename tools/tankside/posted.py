"""What hangs on the walls, compared with what should hang there."""

import csv
import io
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from tankside.edition.sheets import SheetEdition
from tankside.problems import Problem, Span

#: the columns of a posted-copy list; what is found on the wall is written into the last one
COLUMNS = ("place", "sheet", "kind", "revision", "hash", "found")
#: in the last column: a copy that should hang there and does not
NOTHING = "-"


@dataclass(frozen=True)
class Copy:
    """A copy that should hang somewhere."""

    place: str
    sheet: SheetEdition


@dataclass(frozen=True)
class Seen:
    """A line of a list that somebody carried from wall to wall."""

    line: int
    place: str
    sheet: str
    #: what is printed on the copy
    found: str


@dataclass(frozen=True)
class Verdict:
    """What is to be said of one copy."""

    #: right, out-of-date, missing, not-looked-at, elsewhere or unknown
    what: str
    place: str
    sheet: str
    #: what was found, and what should hang there
    found: str
    wanted: str
    line: int = 0


def copies(sheets: Iterable[SheetEdition]) -> tuple[Copy, ...]:
    """Return the copies that should hang, by place."""
    found = [Copy(str(place), sheet) for sheet in sheets for place in sheet.entry.hangs]
    return tuple(sorted(found, key=lambda each: (each.place, each.sheet.id)))


def read_list(text: str, name: str) -> tuple[tuple[Seen, ...], tuple[Problem, ...]]:
    """Return the lines of a posted-copy list, and what cannot be read in it.

    It is a CSV file (RFC 4180) with a first line of column names, of which `found` is needed; or, without one, a list
    of the hashes found, one a line.
    """
    try:
        rows = [(number, [_bare(cell) for cell in row]) for number, row in _rows(text) if any(map(str.strip, row))]
    except csv.Error as error:
        problem = Problem(Span(name), "posted-columns", f"this is no list of cells: {error}", "save it as CSV in UTF-8")
        return (), (problem,)
    if not rows:
        problem = Problem(Span(name), "posted-empty", "nothing stands in this list", "write what was found, one a line")
        return (), (problem,)
    first = [cell.lower() for cell in rows[0][1]]
    if "found" in first:
        return _with_columns(rows[1:], first, name)
    if len(first) > 1:
        hint = f"name the columns in the first line: {', '.join(COLUMNS)}"
        problem = Problem(Span(name, rows[0][0], 1), "posted-columns", "no column is called 'found'", hint)
        return (), (problem,)
    return tuple(Seen(number, "", "", row[0]) for number, row in rows), ()


def _bare(cell: str) -> str:
    """Return what stands in a cell, without the mark that keeps it a text in a spreadsheet."""
    return cell.strip().removeprefix("'")


def _rows(text: str) -> Iterator[tuple[int, Sequence[str]]]:
    # Ends of lines are those of any system.
    reader = csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline=None), delimiter=_mark(text))
    for row in reader:
        yield reader.line_num, row


def _mark(text: str) -> str:
    """Return what parts the cells: some spreadsheets write a semicolon."""
    first = text.partition("\n")[0]
    return ";" if first.count(";") > first.count(",") else ","


def _with_columns(
    rows: Sequence[tuple[int, Sequence[str]]], names: Sequence[str], path: str
) -> tuple[tuple[Seen, ...], tuple[Problem, ...]]:
    seen, problems = [], []
    for number, row in rows:
        cells = dict(zip(names, row, strict=False))
        if len(row) > len(names):
            message = f"this line has {len(row)} cells, the first one names {len(names)}"
            problems.append(Problem(Span(path, number, 1), "posted-columns", message, "put quotes around a comma"))
            continue
        seen.append(Seen(number, cells.get("place", ""), cells.get("sheet", ""), cells.get("found", "")))
    return tuple(seen), tuple(problems)


def verdicts(seen: Sequence[Seen], sheets: Mapping[str, SheetEdition]) -> tuple[Verdict, ...]:
    """Return what is to be said of each copy that was found, and of each that should hang and was not."""
    expected = {(each.place, each.sheet.id): each.sheet for each in copies(sheets.values())}
    found = [_of_line(each, sheets, expected) for each in seen]
    here = {(each.place, each.sheet) for each in found}
    hashes = {each.found.lower() for each in found if not each.place}
    for (place, name), sheet in expected.items():
        if (place, name) not in here and sheet.short_hash not in hashes:
            found.append(Verdict("not-looked-at", place, name, "", sheet.short_hash))
    return tuple(found)


def _of_line(
    line: Seen, sheets: Mapping[str, SheetEdition], expected: Mapping[tuple[str, str], SheetEdition]
) -> Verdict:
    named = line.sheet or next((name for name, each in sheets.items() if each.short_hash == line.found.lower()), "")
    sheet = sheets.get(named)
    if sheet is None:
        return Verdict("unknown", line.place, line.sheet, line.found, "", line.line)
    about = (line.place, named, line.found, sheet.short_hash, line.line)
    if line.place and (line.place, named) not in expected:
        return Verdict("right" if line.found in ("", NOTHING) else "elsewhere", *about)
    if not line.found:
        return Verdict("not-looked-at", *about)
    if line.found == NOTHING:
        return Verdict("missing", *about)
    return Verdict("right" if line.found.lower() == sheet.short_hash else "out-of-date", *about)

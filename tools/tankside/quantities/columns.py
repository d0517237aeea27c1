"""Lists read from a CSV file: a first line that names the unit of each column, then plain numbers."""

import re
from collections.abc import Iterator, Sequence
from typing import Final

from tankside.quantities.given import MOST, Groups, Listed
from tankside.quantities.helper import Argument
from tankside.quantities.refusals import FileFormError
from tankside.units import NUMBER, Quantity, Unit, parse_quantity, require_kind, unit_named

#: bytes; more than 500 lines of ten numbers take
LARGEST: Final = 200_000
_HEADING: Final = re.compile(r"[^\[\]]*\[([^\[\]]+)\]")
#: as many wrong cells are named
_NAMED: Final = 5


def read_columns(argument: Argument, file: str, data: bytes) -> Listed | Groups:
    """Read a file of one column for a list, or of a column for each value of a group.

    Args:
        argument: the list or the groups it is for.
        file: its name, for sentences.
        data: what it holds.

    Raises:
        QuantityError: it is no such file, or a cell of it is no plain number; each with its line.
    """
    if len(data) > LARGEST:
        raise FileFormError(f"{file} is larger than {LARGEST} bytes", "keep only the lines and columns that count")
    (_, heading), *rows = _lines(file, data)
    units = [_unit(argument, file, text) for text in heading]
    if argument.is_list and len(units) > 1:
        raise FileFormError(f"{file} has {len(units)} columns", f"keep the one column of {argument.name}")
    if not rows or len(rows) > MOST:
        raise FileFormError(
            f"{file} has {len(rows)} lines of numbers, not 1 to {MOST}", "give one line for each, after the first line"
        )
    _require_form(file, rows, len(units))
    groups = tuple(
        tuple(_quantity(argument, file, line, cell, unit) for cell, unit in zip(cells, units, strict=True))
        for line, cells in rows
    )
    return Listed(tuple(only for (only,) in groups)) if argument.is_list else Groups(groups)


def _lines(file: str, data: bytes) -> list[tuple[int, list[str]]]:
    """Return the number and the cells of each line that is not empty; there is at least one."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise FileFormError(f"{file} is no text in UTF-8", "save it as CSV in UTF-8") from error
    lines = enumerate(text.replace("\r\n", "\n").replace("\r", "\n").split("\n"), 1)
    found = [(number, _cells(line)) for number, line in lines if line.strip()]
    if not found:
        raise FileFormError(f"{file} is empty", "begin it with a line like 'gross [g]', numbers below")
    return found


def _cells(line: str) -> list[str]:
    cells = [cell.strip() for cell in line.split(",")]
    return [cell[1:-1].strip() if len(cell) > 1 and cell[0] == cell[-1] == '"' else cell for cell in cells]


def _unit(argument: Argument, file: str, heading: str) -> Unit:
    named = _HEADING.fullmatch(heading)
    if named is None:
        raise FileFormError(
            f"the first line of {file} names no unit in '{heading[:60]}'", "begin the file with a line like 'gross [g]'"
        )
    quoted = f"the first line of {file}, '{heading[:60]}'"
    unit = unit_named(named[1].strip(), quoted, argument.kinds)
    require_kind(unit, argument.kinds, quoted)
    return unit


def _require_form(file: str, rows: Sequence[tuple[int, list[str]]], width: int) -> None:
    """Refuse the lines of a wrong length, else the cells that are no plain numbers; the first few are named."""
    uneven = [f"line {line} has {len(cells)}" for line, cells in rows if len(cells) != width]
    if uneven:
        way = "write '.' as the decimal mark, and a comma between columns only"
        raise FileFormError(f"the first line of {file} has {_counted(width)}; {_some(uneven)}", way)
    if wrong := list(_wrong_cells(rows)):
        way = "write numbers only, with '.' as the decimal mark; the unit stands in the first line"
        raise FileFormError(f"{file} has cells that are no plain decimal numbers: {_some(wrong)}", way)


def _wrong_cells(rows: Sequence[tuple[int, list[str]]]) -> Iterator[str]:
    for line, cells in rows:
        yield from (f"'{cell[:60]}' in line {line}" for cell in cells if not NUMBER.fullmatch(cell))


def _counted(width: int) -> str:
    return "1 cell" if width == 1 else f"{width} cells"


def _some(found: Sequence[str]) -> str:
    rest = len(found) - _NAMED
    return ", ".join(found[:_NAMED]) + (f" and {rest} more" if rest > 0 else "")


def _quantity(argument: Argument, file: str, line: int, cell: str, unit: Unit) -> Quantity:
    return parse_quantity(f"{cell} {unit.symbol}", argument.kinds, f"line {line} of {file},")

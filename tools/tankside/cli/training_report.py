"""What a verb of `tankside training` found, and the forms that it is printed in."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import click

from tankside.cli.records_words import silent
from tankside.cli.showing import show_problems
from tankside.cli.spreadsheets import as_text, kept, table
from tankside.problems import Problem, has_errors

#: what is a day or a number by its meaning, and may be one in a spreadsheet
NUMBERS = ("day", "since", "lapses_on", "on")
#: at the head of what is told of people
CLAIMS = "As far as these files say. Initials are claims, no signatures; nothing here stops work that has begun."


@dataclass(frozen=True)
class Report:
    """What was found."""

    day: str
    columns: Sequence[str]
    rows: Sequence[Mapping[str, str]]
    #: as people read it
    lines: Sequence[str]
    problems: tuple[Problem, ...] = ()


def tell(ctx: click.Context, report: Report, form: str) -> None:
    """Print a report, what is wrong with the files beside it, and leave: with 1 when a file has an error."""
    show_problems(report.problems, err=True)
    if form == "csv":
        rows = ([_cell(column, row.get(column, "")) for column in report.columns] for row in report.rows)
        click.echo(table(report.columns, rows), nl=False)
    elif form == "json":
        click.echo(silent(json.dumps(_plain(report), indent=2, ensure_ascii=False)))
    else:
        click.echo("\n".join(report.lines))
    ctx.exit(1 if has_errors(report.problems) else 0)


def _plain(report: Report) -> Mapping[str, object]:
    rows = [{column: row.get(column, "") for column in report.columns} for row in report.rows]
    return {"on": report.day, "rows": rows, "problems": [each.as_plain() for each in report.problems]}


def _cell(column: str, text: str) -> str:
    return kept(text) if column in NUMBERS else as_text(text)


def grouped(rows: Sequence[Mapping[str, str]], by: str, line: str) -> list[str]:
    """Return rows as lines under a heading for each value of a column; `line` is filled with the row."""
    lines: list[str] = []
    before: str | None = None
    for row in rows:
        if row[by] != before:
            lines += ([""] if lines else []) + [row[by]]
            before = row[by]
        lines.append(f"  {line.format(**row)}")
    return lines

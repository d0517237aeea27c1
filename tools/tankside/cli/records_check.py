"""`tankside records check`, and the forms that it is printed in."""

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

import click

from tankside.cli.records_words import clean, silent, state_of
from tankside.cli.showing import counted, show_problems
from tankside.loading.sources import PARTS
from tankside.problem_formats import problems_as_github
from tankside.problems import Problem, Severity, has_errors, in_order
from tankside.records.checking import Checked, check_files
from tankside.records.examining import SHORT
from tankside.records.origins import Origin, traced
from tankside.records.record import Record

EPILOG = """
\b
Examples:
  tankside records check records/*.json
  tankside records check records/*.json --book ../book --format json

\b
The JSON has:
  is_sound   whether there is no error
  records    file, working_copy, id, title, lot, revision, edition, origin,
             events, state; each working copy once
  problems   as 'check --format json' has them
"""
FILE = click.Path(exists=True, dir_okay=False, readable=False, path_type=Path)
files_argument = click.argument("files", metavar="FILES...", nargs=-1, required=True, type=FILE)


@dataclass(frozen=True)
class Report:
    """What is printed."""

    count: int
    records: tuple[Record, ...]
    problems: tuple[Problem, ...]
    #: hash of an edition -> where it comes from; None when no book was looked at
    origins: Mapping[str, Origin] | None


@click.command(epilog=EPILOG)
@files_argument
@click.option(
    "--book",
    "folder",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    help="The book whose git history knows the editions.  [default: this folder, when it holds a book]",
)
@click.option(
    "--format", "form", type=click.Choice(["text", "json", "github"]), default="text", help="How it is printed."
)
@click.pass_context
def check(ctx: click.Context, files: tuple[Path, ...], folder: Path | None, form: str) -> None:
    """Judge records once more: their shape, their chain, and each event by the edition that it followed.

    Errors are what no page enters: a changed, missing or foreign event, a figure that the edition makes another one, an
    act that was not allowed. Remarks are what a reader should know. Leaves with 1 when there is an error.

    Initials and roles are claims, no signatures. The chain shows accidental or casual change; who has the device could
    write all of it anew. That the end of a record is missing, nobody can see. No compliance with any regulation is
    claimed.
    """
    checked = check_files(files)
    report = _report(len(set(files)), checked, _book(folder))
    click.echo(FORMS[form](report), nl=False)
    ctx.exit(1 if has_errors(report.problems) else 0)


def _book(folder: Path | None) -> Path | None:
    here = Path() if folder is None else folder
    if (here / PARTS[0]).is_dir():
        return here
    if folder is not None:
        raise click.UsageError(f"{folder} holds no book: it has nothing in {PARTS[0]}/")
    return None


def _report(count: int, checked: Checked, folder: Path | None) -> Report:
    if folder is None:
        return Report(count, checked.records, checked.problems, None)
    found = traced(checked.records, folder)
    return Report(count, checked.records, in_order((*checked.problems, *found.problems)), found.origins)


def _as_text(report: Report) -> str:
    show_problems(report.problems)
    lines = [f"{record.path}: {_summed(record, report)}" for record in report.records]
    counts = {severity: sum(each.severity is severity for each in report.problems) for severity in Severity}
    found = ", ".join(counted(number, severity.value) for severity, number in counts.items() if number)
    what = f"{counted(len(report.records), 'working copy', 'working copies')} in {counted(report.count, 'file')}"
    return "".join(f"{line}\n" for line in (*lines, f"{what}: {found or 'no problems'}"))


def _summed(record: Record, report: Report) -> str:
    """Return one line on a record."""
    lot = f", lot {clean(record.lot)}" if record.lot else ""
    events = counted(len(record.entries), "event")
    origin = _origin(record, report)
    return (
        f"{clean(record.title)}{lot}, {events}, {state_of(record)}; edition {record.copy.script.hash[:SHORT]}, {origin}"
    )


def _origin(record: Record, report: Report) -> str:
    if report.origins is None:
        return f"revision {record.revision} by its own word"
    origin = report.origins.get(record.copy.script.hash)
    return f"revision {record.revision} by its own word, not found in the book" if origin is None else str(origin)


def _as_json(report: Report) -> str:
    plain = {
        "is_sound": not has_errors(report.problems),
        "records": [_plain(record, report) for record in report.records],
        "problems": [problem.as_plain() for problem in report.problems],
    }
    return f"{silent(json.dumps(plain, indent=2, ensure_ascii=False))}\n"


def _plain(record: Record, report: Report) -> Mapping[str, object]:
    script = record.copy.script
    origin = (report.origins or {}).get(script.hash)
    return {
        "file": record.path,
        "working_copy": record.name,
        "id": script.id,
        "title": record.title,
        "lot": record.lot,
        "revision": record.revision,
        "edition": script.hash,
        "origin": None if origin is None else {"revision": origin.revision, "commit": origin.commit},
        "events": len(record.entries),
        "state": state_of(record),
    }


def _as_github(report: Report) -> str:
    return f"{problems_as_github(report.problems)}\n" if report.problems else ""


FORMS: Mapping[str, Callable[[Report], str]] = {"text": _as_text, "json": _as_json, "github": _as_github}

"""`tankside sheets posted`: which copies on the walls are out of date or missing."""

import json
import sys
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

import click

from tankside.cli.sheets_book import sheet_book
from tankside.cli.showing import book_option, counted, show_problems
from tankside.posted import Verdict, read_list, verdicts
from tankside.problems import quoted

EPILOG = """
FILE is the list of 'tankside sheets list --format csv' with its last column filled in, or only the hashes found, one a
line; - reads it from what is piped in. Exit codes: 0 every copy is right, 1 something is to be done, 2 wrong usage.

Example:  tankside sheets posted walls.csv
"""
#: a file larger than this is none that a person filled in
MOST_BYTES = 1024 * 1024
#: verdict -> the sentence and what to do
SENTENCES = {
    "right": "right",
    "out-of-date": "OUT OF DATE: it says {found}, and {wanted} should hang there. Take it down, hang the new one",
    "missing": "MISSING: {wanted} should hang there. Print it, hang it",
    "not-looked-at": "not looked at: {wanted} should hang there",
    "elsewhere": "this sheet should not hang there. Take it down, or name the place in sheets.yaml",
    "unknown": "{found} is the content of no sheet of this book as it is now. Take it down, print what replaces it",
}


@click.command(epilog=EPILOG)
@click.argument("file", type=click.Path(exists=True, dir_okay=False, allow_dash=True, path_type=Path))
@book_option
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True)
@click.pass_context
def posted(ctx: click.Context, file: Path, folder: Path, form: str) -> None:
    """Say which copies on the walls are out of date or missing."""
    book = sheet_book(ctx, folder)
    seen, problems = read_list(_text(file), str(file))
    found = verdicts(seen, book.sheets) if not problems else ()
    if form == "json":
        click.echo(json.dumps([vars(each) for each in found], indent=2, ensure_ascii=False))
    elif not problems:
        _say(found)
    show_problems(problems, err=True)
    if problems or any(each.what != "right" for each in found):
        ctx.exit(1)


def _text(file: Path) -> str:
    data = sys.stdin.buffer.read(MOST_BYTES + 1) if str(file) == "-" else file.read_bytes()[: MOST_BYTES + 1]
    if len(data) > MOST_BYTES:
        raise click.UsageError(f"{file} is larger than {MOST_BYTES} bytes; that is no list of copies")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise click.UsageError(f"{file} is not UTF-8 text; save it as CSV in UTF-8") from error


def _say(found: Sequence[Verdict]) -> None:
    for each in found:
        where = ", ".join(filter(None, (each.place, each.sheet))) or f"line {each.line}"
        said = SENTENCES[each.what].format(found=quoted(each.found), wanted=each.wanted)
        click.echo(f"{where}: {said}.")
    counts = Counter(each.what for each in found)
    said = ", ".join(f"{count} {what.replace('-', ' ')}" for what, count in counts.items())
    click.echo(f"{counted(len(found), 'copy', 'copies')}: {said or 'none'}.")

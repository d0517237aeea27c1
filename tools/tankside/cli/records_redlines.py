"""`tankside records redlines`: what was marked from the floor as wrong in a procedure."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path

import click

from tankside.cli.records_check import files_argument
from tankside.cli.records_entries import EntryWords
from tankside.cli.records_reading import leave, read
from tankside.cli.records_show import wrapped
from tankside.cli.records_steps import PartWords
from tankside.cli.records_words import clean, moment, signed
from tankside.cli.showing import counted
from tankside.quantities.portable import Portable
from tankside.records.chain import content_hash
from tankside.records.examining import SHORT
from tankside.records.judging import Entry
from tankside.records.record import Record
from tankside.records.script import Part


@dataclass(frozen=True)
class RedLine:
    """A correction to a procedure, marked from the floor."""

    procedure: str
    title: str
    #: as text, and the digits of the hash that stand on page and sheet
    revision: str
    content: str
    #: place among the steps, -1 where it is about none of them; and what is done there
    place: int
    step: str
    at: str
    said: str


@click.command(epilog="Example:  tankside records redlines records/*.json")
@files_argument
@click.pass_context
def redlines(ctx: click.Context, files: tuple[Path, ...]) -> None:
    """List the corrections to procedures that were marked from the floor, by procedure and step.

    Each says which revision and content it is about, as page and sheet name it, so that the lead can mend the book.
    """
    checked = read(files)
    found = [line for record in checked.records for line in _of(record)]
    for text in _listed(found):
        click.echo(text)
    procedures = len({each.procedure for each in found})
    click.echo(f"{counted(len(found), 'red-line')} about {counted(procedures, 'procedure')}")
    leave(ctx, checked)


def _of(record: Record) -> Iterator[RedLine]:
    words = EntryWords(record)
    for entry in record.entries:
        if entry.event["kind"] == "redline":
            part = _part(record, entry.event)
            place, step = _step(part, entry.event.get("step", ""))
            written = part.edition["written"]
            yield RedLine(
                procedure=clean(part.procedure),
                title=clean(written["title"]),
                revision=part.revision,
                content=content_hash(part.edition)[:SHORT],
                place=place,
                step=step,
                at=entry.event["at"],
                said=_said(record, entry, words),
            )


def _part(record: Record, event: Portable) -> Part:
    """Return the part that an event names; the first one where it names none."""
    parts = record.copy.script.parts
    return next((part for part in parts if part.procedure == event.get("procedure")), parts[0])


def _step(part: Part, name: str) -> tuple[int, str]:
    if name not in part.steps:
        return -1, "about no step"
    about = PartWords(part)
    return list(part.steps).index(name), f"{about.numbers[name]} {clean(name)}: {about.action(part.steps[name])}"


def _said(record: Record, entry: Entry, words: EntryWords) -> str:
    lot = f"lot {clean(record.lot)}, " if record.lot else ""
    who = f"{moment(entry.event['at'], '')}  {signed(entry.event)}, {lot}working copy {record.name}"
    marked = words.said(entry).removeprefix("red-line, ")
    noted = (f"; {words.said(each)}" for each in _notes(record, entry))
    return f"{who}, event {entry.event['seq'] + 1}: {marked}{''.join(noted)}"


def _notes(record: Record, entry: Entry) -> Iterator[Entry]:
    """Return what was noted at the same step after a red-line: it is marked first, and then explained."""
    about = _place(entry.event)
    for later in record.entries[entry.event["seq"] + 1 :]:
        if _place(later.event) != about:
            continue
        if later.event["kind"] == "redline":
            return
        if later.event["kind"] == "note":
            yield later


def _place(event: Portable) -> tuple[str, str]:
    return event.get("procedure", ""), event.get("step", "")


def _listed(found: list[RedLine]) -> Iterator[str]:
    ordered = sorted(found, key=lambda each: (each.procedure, -int(each.revision), each.content, each.place, each.at))
    for head, lines in groupby(ordered, lambda each: (each.procedure, each.title, each.revision, each.content)):
        procedure, title, revision, content = head
        yield from wrapped(f"{title} ({procedure}), revision {revision}, content {content}")
        for step, same in groupby(lines, lambda each: each.step):
            yield from wrapped(step, "  ")
            for each in same:
                yield from wrapped(each.said, "      ")
        yield ""

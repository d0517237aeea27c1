"""`tankside training duties`: which entries there are for the duties of the law to train people."""

from collections.abc import Iterator, Mapping
from datetime import datetime
from pathlib import Path

import click

from tankside.cli.records_words import clean
from tankside.cli.training_reading import Given, Opened, looking_at, opened
from tankside.cli.training_report import CLAIMS, Report, tell
from tankside.cli.training_words import PLAIN, change_in_words
from tankside.model.training import ALONE
from tankside.texts import words
from tankside.training.changes import REMOVED
from tankside.training.duties import CHEMICALS, DUTIES, HAZARD, Duty
from tankside.training.people import Person
from tankside.training.standing import day_of, reaches
from tankside.views.training.paths import ItemView, PathView, path_views

COLUMNS = ("duty", "clause", "path", "item", "person", "day", "says")
#: what this is worth
WORTH = "This shows what was entered and when. It asserts nothing about the law, and the law itself comes first."
ELSEWHERE = "This book is not under US law; these clauses are shown as good practice."
NO_ENTRY = "no entry"


@click.command(epilog="Example:  tankside training duties competences/")
@looking_at
@click.pass_context
def duties(
    ctx: click.Context, files: tuple[Path, ...], folder: Path, records: tuple[Path, ...], on: datetime | None, form: str
) -> None:
    """Show which entries there are for the duties of the law to train people; it asserts nothing.

    For each duty: what it asks in words of our own, what was read of its text, which items of the paths say that they
    are meant for it, and on which day each was entered for whom.
    """
    found = opened(ctx, Given(files, folder, records, on))
    rows = [row for duty in DUTIES for row in _of_duty(found, duty)]
    lines = [line for duty in DUTIES for line in _lines(duty, [row for row in rows if row["duty"] == duty.code])]
    law = [] if found.book.plant.facts.jurisdiction == "US" else [ELSEWHERE]
    tell(ctx, Report(found.day, COLUMNS, rows, [WORTH, *law, CLAIMS, *lines], found.problems), form)


def _lines(duty: Duty, rows: list[Mapping[str, str]]) -> Iterator[str]:
    yield from ("", f"{duty.clause}: {duty.asks}", f"  ({duty.seen})")
    if not rows:
        yield "  no item of a path says that it is meant for this"
    for row in rows:
        who = f"{row['person']}: {row['says']}" if row["person"] else row["says"]
        yield f"  {row['path']}, {row['item']}: {who}"


def _of_duty(found: Opened, duty: Duty) -> Iterator[Mapping[str, str]]:
    plant, titles = found.book.plant, {name: each.title for name, each in found.book.procedures.items()}
    for path in path_views(plant, titles, words(str(plant.facts.languages[0]))).values():
        for item in path.items:
            if duty.code in item.covers:
                yield from _of_item(found, duty, path, item)
    if duty.code == CHEMICALS:
        for person in found.people:
            yield from _new_hazards(found, duty, person)


def _of_item(found: Opened, duty: Duty, path: PathView, item: ItemView) -> Iterator[Mapping[str, str]]:
    role, _ = path.role
    what = f"{item.procedure} ({PLAIN[item.goal]})" if item.procedure else " / ".join(item.lines)
    row = {"duty": duty.code, "clause": duty.clause, "path": path.id, "item": clean(what)}
    learning = [each for each in found.people if role in each.roles(found.day)]
    if not learning:
        yield {**row, "person": "", "day": "", "says": "nobody in these files is trained for this role"}
    for person in learning:
        day = _entered(found, person, path, item)
        yield {**row, "person": clean(person.initials), "day": day, "says": f"entered on {day}" if day else NO_ENTRY}


def _entered(found: Opened, person: Person, path: PathView, item: ItemView) -> str:
    """Return the last day on which an item was entered; "" for none."""
    if item.procedure:
        signed = (each for each in person.about(item.procedure) if each["kind"] == "signed")
        days = (day_of(each) for each in signed if reaches(each, item.goal))
    else:
        went = (each for each in person.entries if each["kind"] == "went")
        days = (day_of(each) for each in went if (each["path"], each["item"]) == (path.id, item.key))
    return max((each for each in days if each <= found.day), default="")


def _new_hazards(found: Opened, duty: Duty, person: Person) -> Iterator[Mapping[str, str]]:
    """Return the hazards that came since somebody was last shown a procedure."""
    wanted = found.goals(person)
    for name in person.procedures:
        own = found.book.procedures.get(name)
        stands = None if own is None else found.stands(person, name, wanted.get(name, ALONE))
        for reason in () if stands is None else stands.reasons:
            change = reason.change
            if own is not None and change is not None and change.key.startswith(HAZARD) and change.what != REMOVED:
                says = f"new since the last sign-off, not shown yet: {change_in_words(change, own.steps)}"
                row = {"duty": duty.code, "clause": duty.clause, "path": "", "item": name}
                yield {**row, "person": clean(person.initials), "day": "", "says": says}

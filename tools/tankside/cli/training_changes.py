"""`tankside training changes`: what changed, and what follows from it for who was trained before."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import click

from tankside.audit.day import today
from tankside.cli.records_words import clean
from tankside.cli.showing import book_option
from tankside.cli.training_book import TaughtBook, taught_book, taught_procedure
from tankside.cli.training_reading import FILE, Given, Opened, form_option, opened
from tankside.cli.training_report import Report, grouped, tell
from tankside.cli.training_words import FOLLOWS, change_in_words
from tankside.edition import Audience
from tankside.edition.sheets import SheetEdition
from tankside.history import Told, differs, is_known, sheets_changed, told_at
from tankside.model.procedures import Procedure
from tankside.model.training import METHODS, SHOWN
from tankside.posted import copies
from tankside.problems import meant
from tankside.training.changes import changes as between
from tankside.training.goals import goals
from tankside.training.people import Person
from tankside.training.standing import reaches
from tankside.training.taught import Taught

COLUMNS = ("about", "procedure", "title", "key", "what", "before", "now", "follows", "says")
EPILOG = """
\b
What follows:
  observe again              somebody is watched doing it before it stands
  show before the next time  it stands; the change is shown first
  nothing                    only spelling, or wording that means the same

\b
Examples:
  tankside training changes bleed-cleaner-line --against v1.2
  tankside training changes --role line-operator --against HEAD~1
  tankside training changes --people competences/
"""


@dataclass(frozen=True)
class Wanted:
    """What is looked at."""

    ids: tuple[str, ...]
    role: str | None


@click.command("changes", epilog=EPILOG)
@click.argument("ids", metavar="[ID]...", nargs=-1)
@click.option("--against", metavar="REVISION", help="The git commit that the book is compared with.")
@click.option("--role", metavar="ID", help="The procedures that the paths of a role hold.")
@click.option(
    "--people",
    type=FILE,
    multiple=True,
    help="A competence file or a folder of them: for each person what changed since the last sign-off. May be given "
    "several times.",
)
@book_option
@form_option
@click.pass_context
def changes(
    ctx: click.Context,
    ids: tuple[str, ...],
    against: str | None,
    role: str | None,
    people: tuple[Path, ...],
    folder: Path,
    form: str,
) -> None:
    """Say what changed in procedures, in plain words, and what follows for who was trained before.

    With --against, between a git commit and the book as it is; also which posted sheets are to be replaced. With
    --people, since each of them was last shown or seen it, as their files tell, without git.
    """
    if against is None and not people:
        raise click.UsageError("say since when: --against a git commit, or --people with competence files")
    if against is not None and not is_known(folder, against):
        raise click.UsageError(f"git knows no commit '{against}' in {folder}")
    found = opened(ctx, Given(people, folder)) if people else None
    book = taught_book(ctx, folder) if found is None else found.book
    names = _names(book, Wanted(ids, role))
    rows, sheets = _since_commit(book, names, against) if against is not None else ([], [])
    rows += list(_of_people(found, names)) if found is not None else []
    lines = [*(grouped(rows, "about", "{says}: {follows}") or ["nothing changed that is taught"]), *sheets]
    problems = () if found is None else found.problems
    tell(ctx, Report(today().isoformat(), COLUMNS, rows, lines, problems), form)


def _names(book: TaughtBook, wanted: Wanted) -> tuple[str, ...]:
    """Return the procedures that are looked at: all, where none is named."""
    for name in wanted.ids:
        if name not in book.procedures:
            raise click.UsageError(f"'{clean(name)}' is no procedure; {meant(name, book.procedures, 'see the book')}")
    roles = [*map(str, book.plant.roles.roles)]
    if wanted.role is not None and wanted.role not in roles:
        raise click.UsageError(f"'{clean(wanted.role)}' is no role; {meant(wanted.role, roles, 'see roles.yaml')}")
    of_role = goals(book.plant.training, (wanted.role,)) if wanted.role is not None else {}
    named = (*wanted.ids, *of_role)
    return tuple(dict.fromkeys(named)) if wanted.ids or wanted.role is not None else tuple(book.procedures)


def _since_commit(book: TaughtBook, names: Sequence[str], against: str) -> tuple[list[Mapping[str, str]], list[str]]:
    if not differs(book.folder, against):
        return [], []
    told = told_at(book.folder, against)
    if told is None:
        way_out = "name a commit at which 'tankside check' was clean with --against"
        raise click.UsageError(f"the book had problems at '{against}', so nothing can be compared; {way_out}")
    rows = [row for name in names for row in _of_procedure(book, name, _taught_then(told, name))]
    changed = sheets_changed(book.folder, book.sheets, against, Audience.FLOOR) or frozenset()
    return rows, list(_sheets(book, names, changed))


def _taught_then(told: Told, name: str) -> Taught | None:
    edition = told.editions.get(name)
    if edition is None or not isinstance(edition.written, Procedure):
        return None
    return taught_procedure(edition, told.plant).taught


def _of_procedure(book: TaughtBook, name: str, before: Taught | None) -> Iterator[Mapping[str, str]]:
    own = book.procedures[name]
    about = f"{name} ({own.title})"
    if before is None:
        row = {"about": about, "procedure": name, "title": own.title, "what": "added"}
        yield {**row, "says": "this procedure is new", "follows": FOLLOWS["show"]}
        return
    yield from _rows(book, about, before)


def _rows(book: TaughtBook, about: str, before: Taught) -> Iterator[Mapping[str, str]]:
    own = book.procedures[before.procedure]
    for each in between(before, own.taught):
        yield {
            "about": about,
            "procedure": before.procedure,
            "title": own.title,
            "key": clean(each.key),
            "what": each.what,
            "before": clean(each.before),
            "now": clean(each.now),
            "follows": FOLLOWS[each.follows],
            "says": change_in_words(each, own.steps),
        }


def _of_people(found: Opened, names: Sequence[str]) -> Iterator[Mapping[str, str]]:
    for person in found.people:
        for name in person.procedures:
            last = _last_shown(person, name)
            if last is not None and name in names:
                yield from _rows(found.book, f"{clean(person.initials)}, {name}", last)


def _last_shown(person: Person, name: str) -> Taught | None:
    """Return what somebody was shown or seen to do last; where there is nothing of it, what was read last."""
    signed = [each for each in person.about(name) if each["kind"] == "signed"]
    for method in (SHOWN, METHODS[0]):
        last = next((each for each in reversed(signed) if reaches(each, method)), None)
        if last is not None:
            return person.taught[last["taught"]]
    return None


def _sheets(book: TaughtBook, names: Sequence[str], changed: frozenset[str]) -> Iterator[str]:
    own = [each for each in copies(book.sheets.values()) if each.sheet.id in changed and _is_about(each.sheet, names)]
    if own:
        yield ""
        yield "posted sheets to be replaced"
    for each in own:
        yield f"  {each.place}: {each.sheet.id}, content {each.sheet.short_hash}"


def _is_about(sheet: SheetEdition, names: Sequence[str]) -> bool:
    edition = sheet.edition
    return edition is not None and (edition.id in names or any(part.procedure in names for part in edition.parts))

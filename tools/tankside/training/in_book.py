"""What competence files name that the book does not know."""

from collections.abc import Iterable, Iterator

from tankside.catalogue import Book
from tankside.problems import Problem, meant, quoted
from tankside.records.shape import name_of
from tankside.schema.records import EVENTS
from tankside.training.competence import Competence

_OLD = "it was renamed or taken out of the book; what was entered stays as it is"


def is_of(competence: Competence, book: Book) -> bool:
    """Return whether a competence record belongs to a book."""
    return competence.book == book.plant.facts.book


def unknown_in(competences: Iterable[Competence], book: Book) -> Iterator[Problem]:
    """Return a remark for each record of another book, and for each name that the book does not know."""
    for each in competences:
        if is_of(each, book):
            yield from _names(each, book)
        else:
            message = f"this competence record is of another book, {quoted(each.book)}"
            hint = "it is left out here; name the folder of that book with --book"
            yield each.document.remark("competence-other-book", message, hint, "book")


def _names(competence: Competence, book: Book) -> Iterator[Problem]:
    known = {
        **dict.fromkeys(("role", "assessor_role"), ("role", {*map(str, book.plant.roles.roles)})),
        "procedure": ("procedure", {*map(str, book.procedures)}),
        "path": ("path", {*map(str, book.plant.training.paths)}),
    }
    said = set[tuple[str, str]]()
    for place, event in competence.places:
        for key, (what, names) in known.items():
            name = event.get(key, "")
            if name and name not in names and (what, name) not in said:
                said.add((what, name))
                message = f"{name_of(event, place)} names the {what} {quoted(name)}, which the book does not know"
                code, hint = f"competence-unknown-{what}", meant(name, names, _OLD)
                yield competence.document.remark(code, message, hint, EVENTS, place, key)

"""A new procedure, from a template whose comments explain its keys."""

import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from importlib.resources import files
from pathlib import Path
from string import Template

from tankside.catalogue import Book
from tankside.problems import meant
from tankside.schema.shapes import file_name, schema
from tankside.starting.books import review_day
from tankside.starting.machines import first_machine
from tankside.starting.refusals import CannotStartError
from tankside.starting.schemas import FOLDER

#: families that have a template of their own; all others share one
TEMPLATES = ("lockout", "safety")
GENERAL = "general"
#: a title until the writer has one
NO_TITLE = "Write the title here, verb first"
#: what may stand in YAML without quotes; a book's own texts may hold more
PLAIN = re.compile(r"[A-Za-z][A-Za-z0-9 ,./()'-]*")
EDITOR_LINE = "# yaml-language-server: $schema="


@dataclass(frozen=True)
class Wanted:
    """A procedure that somebody wants to write."""

    family: str
    id: str
    title: str
    #: a role of the book
    done_by: str


def refuse_unfit(book: Book, family: str, name: str) -> None:
    """Refuse a family or an id that cannot be one, or is taken.

    Raises:
        CannotStartError: with a sentence that says what would do.
    """
    for what, given in (("family", family), ("id", name)):
        if not re.fullmatch(schema("common")["$defs"]["id"]["pattern"], given):
            example = "for example check-the-nozzle"
            raise CannotStartError(f"'{given}' is no {what}: write small letters, digits and single hyphens, {example}")
    if family == "plant":
        raise CannotStartError("procedures/plant holds the facts of the workshop; choose another family")
    for taken in (book.procedures.get(name), book.checklists.get(name)):
        if taken is not None:
            raise CannotStartError(f"'{name}' is taken already, by {taken.span.path}; nothing is ever overwritten")


def usual_role(book: Book, family: str) -> str:
    """Return the role that does most procedures of a family, of the whole book where the family is new."""
    return _usual(book, family, "done_by")


def write_procedure(folder: Path, book: Book, wanted: Wanted, today: date) -> Path:
    """Write a new procedure into the book in `folder`, and return its path.

    Raises:
        CannotStartError: an answer does not fit the book, or the file is there already.
    """
    refuse_unfit(book, wanted.family, wanted.id)
    text = _filled(folder, book, wanted, today)
    home = folder / "procedures" / wanted.family
    if home.resolve() != folder.resolve() / "procedures" / wanted.family:
        raise CannotStartError(f"{home} is a link to another place; put a folder there")
    home.mkdir(parents=True, exist_ok=True)
    path = home / f"{wanted.id}.yaml"
    try:
        with path.open("x", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
    except FileExistsError as error:
        raise CannotStartError(f"{path} is there already; nothing is ever overwritten") from error
    return path


def _filled(folder: Path, book: Book, wanted: Wanted, today: date) -> str:
    _refuse_answers(book, wanted)
    kind = wanted.family if wanted.family in TEMPLATES else GENERAL
    template = files("tankside") / "assets" / "starter-templates" / f"{kind}.yaml"
    common = {
        "editor_line": _editor_line(folder),
        "id": wanted.id,
        "title": _scalar(wanted.title),
        "family": wanted.family,
        "done_by": wanted.done_by,
        "today": today.isoformat(),
        "review": review_day(today).isoformat(),
    }
    machine = first_machine(book).filled() if kind == "lockout" else {}
    return Template(template.read_text(encoding="utf-8")).substitute(common, **_found(book, wanted.family), **machine)


def _refuse_answers(book: Book, wanted: Wanted) -> None:
    if not wanted.title.strip() or not wanted.title.isprintable():
        raise CannotStartError("the title is empty or holds what cannot be printed; write one line of words")
    if wanted.done_by not in book.plant.roles.roles:
        known = f"roles of this book are {', '.join(book.plant.roles.roles)}"
        raise CannotStartError(
            f"'{wanted.done_by}' is no role of this book; {meant(wanted.done_by, book.plant.roles.roles, known)}"
        )


def _found(book: Book, family: str) -> Mapping[str, str]:
    """Return names of the book's own that fit, so that the new file is right before it is complete."""
    emergency = _emergency(book)
    valves = (str(tag) for tag, piece in book.plant.equipment.equipment.items() if piece.kind == "valve")
    return {
        "approved": _usual(book, family, "approved"),
        "situation": _situation(book, family),
        "emergency": emergency or "splash",
        # A warning cannot be written without an emergency to go to.
        "signal": "warning" if emergency else "caution",
        "if_it_happens": f"if_it_happens: {emergency}" if emergency else "# if_it_happens: splash",
        "valve": next(valves, "V1"),
        "material": next(map(str, book.plant.materials.materials), "water"),
    }


def _emergency(book: Book) -> str | None:
    """Return the emergency procedure that leads to water, or else the first one."""
    pieces = book.plant.equipment.equipment
    emergencies = [each for each in book.procedures.values() if each.is_emergency]
    emergencies.sort(key=lambda each: not any(pieces[tag].kind == "eyewash" for tag in each.needs))
    return str(emergencies[0].procedure) if emergencies else None


def _usual(book: Book, family: str, key: str) -> str:
    """Return the role that most procedures of a family name, most of the book where the family is new."""
    own = [each for each in book.procedures.values() if each.family == family]
    counted = Counter(str(getattr(each, key)) for each in own or book.procedures.values())
    return counted.most_common(1)[0][0] if counted else str(next(iter(book.plant.roles.roles)))


def _situation(book: Book, family: str) -> str:
    """Return where a reader looks for the family, or the family itself where a situation is called like it."""
    known = schema("common")["$defs"]["situation"]["enum"]
    likely = family if family in known else "making"
    return next((str(each.situation) for each in book.procedures.values() if each.family == family), likely)


def _scalar(text: str) -> str:
    """Return a text as YAML reads it back, in quotes where it needs them."""
    text = text.strip()
    return text if PLAIN.fullmatch(text) else "'" + text.replace("'", "''") + "'"


def _editor_line(folder: Path) -> str:
    """Return the first line, which names the schema where the other files of this book name theirs."""
    first = (folder / "procedures/plant/book.yaml").read_text(encoding="utf-8-sig").partition("\n")[0].strip()
    own, book = file_name("procedure"), file_name("book")
    if first.startswith(EDITOR_LINE) and first.endswith(book):
        return first.removesuffix(book) + own
    return f"{EDITOR_LINE}../../{FOLDER}/{own}"

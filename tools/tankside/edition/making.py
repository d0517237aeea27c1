"""The edition of a procedure or checklist, and how it is made."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from hashlib import sha256

from tankside.catalogue import Book
from tankside.catalogue.walking import texts
from tankside.compute.amounts import WorkedAmount, WorkedBook
from tankside.edition.canonical import canonical_json
from tankside.edition.shown import (
    ConditionShown,
    MaterialShown,
    PieceShown,
    WearableShown,
    condition_shown,
    key,
    limits_of,
    material_shown,
    wearable_shown,
)
from tankside.model.facts import Limits
from tankside.model.procedures import Checklist, Procedure
from tankside.model.references import Refers
from tankside.model.steps import Isolate, Item, Section, every

#: names the layout of the canonical JSON; a reader of old records looks at it first
LAYOUT = "tankside-edition-1"
SHORT = 8


class Audience(StrEnum):
    """Who an edition is for."""

    FLOOR = "floor"
    OFFICE = "office"


class LanguageUnknownError(Exception):
    """The book is not written in the language asked for."""


@dataclass(frozen=True)
class Part:
    """A whole procedure or a section of it, as a checklist shows it."""

    procedure: str
    title: str
    section: str | None
    section_title: str | None
    why: str | None
    #: the edition of the procedure; only in a checklist that lists steps
    edition: "Edition | None"


@dataclass(frozen=True)
class Edition:
    """All that reaches a reader of a procedure or checklist, in one language, for one audience."""

    layout: str
    book: str
    jurisdiction: str
    scenario: str | None
    audience: Audience
    language: str
    written: Procedure | Checklist
    #: role id -> name
    roles: Mapping[str, str]
    equipment: Mapping[str, PieceShown]
    wear: Mapping[str, WearableShown]
    materials: Mapping[str, MaterialShown]
    conditions: Mapping[str, ConditionShown]
    #: "material.limit" -> limits
    limits: Mapping[str, Limits]
    amounts: Mapping[str, WorkedAmount]
    #: other procedures that it points to, id -> title
    procedures: Mapping[str, str]
    #: of a checklist
    parts: tuple[Part, ...] = ()

    @cached_property
    def canonical(self) -> str:
        """The edition as canonical JSON: sorted keys, no blanks, exact numbers as text."""
        return canonical_json(self)

    @cached_property
    def hash(self) -> str:
        """SHA-256 of the canonical JSON in UTF-8, as hexadecimal text."""
        return sha256(self.canonical.encode("utf-8")).hexdigest()

    @property
    def id(self) -> str:
        """The id of the procedure or checklist."""
        return str(self.written.procedure if isinstance(self.written, Procedure) else self.written.checklist)

    @property
    def short_hash(self) -> str:
        """The first digits of the hash, as printed on pages and sheets."""
        return self.hash[:SHORT]


def procedure_edition(worked: WorkedBook, procedure: Procedure, audience: Audience, language: str) -> Edition:
    """Return the edition of a procedure.

    Raises:
        LanguageUnknownError: the book is not written in `language`.
    """
    return _edition(worked, procedure, audience, language, (procedure,), ())


def checklist_edition(worked: WorkedBook, checklist: Checklist, audience: Audience, language: str) -> Edition:
    """Return the edition of a checklist; one that lists steps holds the editions of its procedures.

    Raises:
        LanguageUnknownError: the book is not written in `language`.
    """
    parts = tuple(_part(worked, checklist, index, audience, language) for index in range(len(checklist.items)))
    return _edition(worked, checklist, audience, language, (checklist,), parts)


def _edition(
    worked: WorkedBook,
    written: Procedure | Checklist,
    audience: Audience,
    language: str,
    shown: tuple[object, ...],
    parts: tuple[Part, ...],
) -> Edition:
    book = worked.book
    if language not in book.facts.languages:
        raise LanguageUnknownError(language)
    named = _Named(book, shown)
    amounts = worked.of(written)[0] if isinstance(written, Procedure) else {}
    return Edition(
        layout=LAYOUT,
        book=str(book.facts.book),
        jurisdiction=str(book.facts.jurisdiction),
        scenario=book.facts.scenario,
        audience=audience,
        language=language,
        written=written,
        roles={name: str(book.roles.roles[key(name)].name) for name in named.all("role")},
        equipment=named.equipment(),
        wear={name: wearable_shown(book, name) for name in named.all("wearable")},
        materials={name: material_shown(book, name) for name in named.all("material")},
        conditions={name: condition_shown(book, name) for name in named.all("condition")},
        limits={name: limits_of(book, name) for name in named.all("limit")},
        amounts=amounts,
        procedures={name: str(book.procedures[name].title) for name in named.procedures()},
        parts=parts,
    )


class _Named:
    """What the shown parts name."""

    def __init__(self, book: Book, shown: tuple[object, ...]) -> None:
        self.book = book
        self.shown = shown
        self.names: dict[str, dict[str, None]] = {}
        for part in shown:
            for text, meaning in texts(part):
                if isinstance(meaning, Refers):
                    self.names.setdefault(meaning.to, {})[str(text)] = None

    def all(self, what: str) -> tuple[str, ...]:
        """Return each name of one sort once, in reading order."""
        return tuple(self.names.get(what, {}))

    def procedures(self) -> tuple[str, ...]:
        """Return the procedures that are pointed to; a place may be one, or a section of this one."""
        conditions = (condition_shown(self.book, name).procedure for name in self.all("condition"))
        named = (*self.all("procedure"), *self.all("place"), *conditions)
        return tuple(dict.fromkeys(name for name in named if name is not None and name in self.book.procedures))

    def equipment(self) -> dict[str, PieceShown]:
        """Return the equipment that is named; a lockout also shows the machines it isolates."""
        locked = {str(item.target) for part in self.shown for item in _items(part) if isinstance(item, Isolate)}
        shown = {}
        for tag, piece in self.book.equipment.equipment.items():
            sources = tuple(source for source in piece.energy_sources if source.isolate_at in locked)
            if tag in self.names.get("tag", {}) or sources:
                where = None if piece.where is None else str(piece.where)
                shown[str(tag)] = PieceShown(str(piece.kind), str(piece.name), where, sources)
        return shown


def _items(part: object) -> tuple[Item, ...]:
    return tuple(every(part.steps)) if isinstance(part, Procedure) else ()


def _part(worked: WorkedBook, checklist: Checklist, index: int, audience: Audience, language: str) -> Part:
    item = checklist.items[index]
    procedure = worked.book.procedures[item.procedure]
    sections = {str(each.section): str(each.title) for each in procedure.steps if isinstance(each, Section)}
    wants_steps = checklist.lists == "steps"
    return Part(
        procedure=str(procedure.procedure),
        title=str(procedure.title),
        section=item.section,
        section_title=None if item.section is None else sections[item.section],
        why=item.why,
        edition=procedure_edition(worked, procedure, audience, language) if wants_steps else None,
    )

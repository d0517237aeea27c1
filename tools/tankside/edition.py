"""What a reader gets of a procedure or checklist, and the hash that names exactly that.

Pages, sheets and records read editions, never the book. An edition holds every fact of the plant that it
shows, so a changed bore changes the hash of each procedure whose amounts depend on it.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass, is_dataclass
from enum import StrEnum
from fractions import Fraction
from functools import cached_property
from hashlib import sha256
from typing import Any

from tankside.catalogue import Book
from tankside.catalogue.walking import texts
from tankside.compute.amounts import WorkedAmount, worked_amounts
from tankside.loading.values import Text
from tankside.model.facts import EnergySource, FirstAid, Hazard, Limits
from tankside.model.fields import shape
from tankside.model.procedures import Checklist, Procedure
from tankside.model.references import Refers
from tankside.model.steps import Isolate, Item, Section, every
from tankside.problems import Span
from tankside.quantities.decimal_text import quantity_text
from tankside.units import Quantity

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
class PieceShown:
    """What an edition shows of a piece of equipment."""

    kind: str
    name: str
    where: str | None
    #: only in a lockout, and only those isolated at a point that it locks
    energy_sources: tuple[EnergySource, ...]


@dataclass(frozen=True)
class WearableShown:
    """What an edition shows of a piece of protective equipment."""

    name: str
    sign: str
    made_of: str
    breakthrough: str | None
    look_for: str


@dataclass(frozen=True)
class MaterialShown:
    """What an edition shows of a material that is met."""

    name: str
    look: str
    signal_word: str | None
    pictograms: tuple[str, ...]
    hazards: tuple[Hazard, ...]
    first_aid: FirstAid | None
    #: what it must never meet -> what happens then
    never_with: Mapping[str, str]


@dataclass(frozen=True)
class ConditionShown:
    """What an edition shows of a condition."""

    says: str
    #: the procedure that brings it about, whole or in a section
    procedure: str | None


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
        return json.dumps(_plain(self), sort_keys=True, separators=(",", ":"), ensure_ascii=False)

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


def procedure_edition(book: Book, procedure: Procedure, audience: Audience, language: str) -> Edition:
    """Return the edition of a procedure.

    Raises:
        LanguageUnknownError: the book is not written in `language`.
    """
    return _edition(book, procedure, audience, language, (procedure,), ())


def checklist_edition(book: Book, checklist: Checklist, audience: Audience, language: str) -> Edition:
    """Return the edition of a checklist; one that lists steps holds the editions of its procedures.

    Raises:
        LanguageUnknownError: the book is not written in `language`.
    """
    parts = tuple(_part(book, checklist, index, audience, language) for index in range(len(checklist.items)))
    return _edition(book, checklist, audience, language, (checklist,), parts)


def _edition(
    book: Book,
    written: Procedure | Checklist,
    audience: Audience,
    language: str,
    shown: tuple[object, ...],
    parts: tuple[Part, ...],
) -> Edition:
    if language not in book.facts.languages:
        raise LanguageUnknownError(language)
    named = _Named(book, shown)
    amounts = worked_amounts(book, written)[0] if isinstance(written, Procedure) else {}
    return Edition(
        layout=LAYOUT,
        book=str(book.facts.book),
        jurisdiction=str(book.facts.jurisdiction),
        scenario=book.facts.scenario,
        audience=audience,
        language=language,
        written=written,
        roles={name: str(book.roles.roles[_key(name)].name) for name in named.all("role")},
        equipment=named.equipment(),
        wear={name: _wearable(book, name) for name in named.all("wearable")},
        materials={name: _material(book, name) for name in named.all("material")},
        conditions={name: _condition(book, name) for name in named.all("condition")},
        limits={name: _limits(book, name) for name in named.all("limit")},
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
        conditions = (_condition(self.book, name).procedure for name in self.all("condition"))
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


def _key(name: str) -> Text:
    return Text(name, Span(""))


def _condition(book: Book, name: str) -> ConditionShown:
    found = book.equipment.conditions[_key(name)]
    return ConditionShown(found.says, None if found.from_ is None else found.from_.partition("/")[0])


def _wearable(book: Book, name: str) -> WearableShown:
    found = book.equipment.protective_equipment[_key(name)]
    return WearableShown(found.name, found.sign, found.made_of, found.breakthrough, found.look_for)


def _material(book: Book, name: str) -> MaterialShown:
    found = book.materials.materials[_key(name)]
    return MaterialShown(
        name=found.name,
        look=found.look,
        signal_word=found.signal_word,
        pictograms=found.pictograms,
        hazards=found.hazards,
        first_aid=found.first_aid,
        never_with=never_with(book, name),
    )


def never_with(book: Book, name: str) -> dict[str, str]:
    """Return the names of the groups that a material must never meet, each with what happens then."""
    own = book.materials.materials[_key(name)].groups
    found = {}
    for pair in book.materials.never_meet:
        first, second = pair.groups
        for mine, other in ((first, second), (second, first)):
            if mine in own:
                found[str(book.materials.groups[other])] = str(pair.consequence)
    return found


def _limits(book: Book, name: str) -> Limits:
    material, _, limit = name.partition(".")
    return book.materials.materials[_key(material)].limits[_key(limit)]


def _part(book: Book, checklist: Checklist, index: int, audience: Audience, language: str) -> Part:
    item = checklist.items[index]
    procedure = book.procedures[item.procedure]
    sections = {str(each.section): str(each.title) for each in procedure.steps if isinstance(each, Section)}
    wants_steps = checklist.lists == "steps"
    return Part(
        procedure=str(procedure.procedure),
        title=str(procedure.title),
        section=item.section,
        section_title=None if item.section is None else sections[item.section],
        why=item.why,
        edition=procedure_edition(book, procedure, audience, language) if wants_steps else None,
    )


def _plain(value: Any) -> Any:
    """Return a value as JSON takes it; bookkeeping and what is not given are left out."""
    if isinstance(value, Quantity):
        return {"value": str(value.value), "text": quantity_text(value)}
    if isinstance(value, Fraction):
        return str(value)
    if is_dataclass(value) and not isinstance(value, type):
        pairs = ((each.key, getattr(value, each.name)) for each in shape(type(value)) if not each.is_bookkeeping)
        return {name: _plain(part) for name, part in pairs if part is not None}
    if isinstance(value, Mapping):
        return {str(key): _plain(part) for key, part in value.items()}
    if isinstance(value, (tuple, list)):
        return [_plain(part) for part in value]
    return str(value) if isinstance(value, str) else value

"""The edition of a procedure or checklist, and how it is made."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property
from hashlib import sha256

from tankside.catalogue.walking import texts
from tankside.compute.amounts import WorkedBook
from tankside.compute.worked import WorkedAmount
from tankside.edition.canonical import canonical_json
from tankside.edition.programs import program_shown
from tankside.edition.shown import (
    CallShown,
    ConditionShown,
    EffectsShown,
    LabelsShown,
    MaterialShown,
    PieceShown,
    WearableShown,
    call_shown,
    condition_shown,
    effects_shown,
    key,
    labels_shown,
    limits_of,
    material_shown,
    wearable_shown,
)
from tankside.memory import remembered
from tankside.model.facts import Limits, Plant
from tankside.model.procedures import Checklist, Procedure, Reference
from tankside.model.references import Refers
from tankside.model.steps import Isolate, Section, Step, every
from tankside.plant.stepping import stepping_in
from tankside.quantities.portable import Portable

#: names the layout of the canonical JSON; a reader of old records looks at it first
LAYOUT = "tankside-edition-3"
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
    #: which step leads on to which, from where this part begins to where it ends; only where there is an edition
    program: Portable


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
    #: the products whose labels it changes to
    labels: Mapping[str, LabelsShown]
    #: other procedures that it points to, id -> title
    procedures: Mapping[str, str]
    #: of an emergency: whom to call, and what to say
    call: CallShown | None = None
    #: of a checklist
    parts: tuple[Part, ...] = ()
    #: of a procedure: what its steps, and stopping safely, do to the plant; see `EffectsShown`
    effects: Mapping[str, tuple[Portable, ...]] = field(default_factory=dict)
    stopping: tuple[Portable, ...] = ()
    fold_rules: Portable = None
    volumes: Mapping[str, Portable] = field(default_factory=dict)
    program: Portable = None
    seen: Mapping[str, tuple[Portable, ...]] = field(default_factory=dict)

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
    done = effects_shown(stepping_in(worked, procedure))
    return _edition(worked, procedure, worked.of(procedure)[0], audience, language, (), done)


def checklist_edition(worked: WorkedBook, checklist: Checklist, audience: Audience, language: str) -> Edition:
    """Return the edition of a checklist; one that lists steps holds the editions of its procedures.

    Raises:
        LanguageUnknownError: the book is not written in `language`.
    """
    parts = []
    for item in checklist.items:
        procedure = worked.book.procedures[item.procedure]
        inner = procedure_edition(worked, procedure, audience, language) if checklist.is_followed else None
        way = program_shown(stepping_in(worked, procedure), item.section) if checklist.is_followed else None
        parts.append(_part(procedure, item, inner, way))
    return _edition(worked, checklist, _NO_AMOUNTS, audience, language, tuple(parts), _NO_EFFECTS)


_NO_AMOUNTS: Mapping[str, WorkedAmount] = {}
_NO_EFFECTS = EffectsShown({}, (), None, {}, None, {})


def _edition(
    worked: WorkedBook,
    written: Procedure | Checklist,
    amounts: Mapping[str, WorkedAmount],
    audience: Audience,
    language: str,
    parts: tuple[Part, ...],
    done: EffectsShown,
) -> Edition:
    plant, procedures = worked.book.plant, worked.book.procedures
    if language not in plant.facts.languages:
        raise LanguageUnknownError(language)
    titles = tuple((name, str(procedures[name].title)) for name in _pointed_to(plant, written) if name in procedures)
    return _filled(plant, written, amounts, audience, language, titles, parts, done)


@remembered
def _filled(
    plant: Plant,
    written: Procedure | Checklist,
    amounts: Mapping[str, WorkedAmount],
    audience: Audience,
    language: str,
    titles: tuple[tuple[str, str], ...],
    parts: tuple[Part, ...],
    done: EffectsShown,
) -> Edition:
    named = _named(written)
    return Edition(
        layout=LAYOUT,
        book=str(plant.facts.book),
        jurisdiction=str(plant.facts.jurisdiction),
        scenario=plant.facts.scenario,
        audience=audience,
        language=language,
        written=written,
        roles={name: str(plant.roles.roles[key(name)].name) for name in named("role")},
        equipment=_equipment(plant, written, named("tag")),
        wear={name: wearable_shown(plant, name) for name in named("wearable")},
        materials={name: material_shown(plant, name) for name in named("material")},
        conditions={name: condition_shown(plant, name) for name in named("condition")},
        limits={name: limits_of(plant, name) for name in named("limit")},
        amounts=amounts,
        labels={name: labels_shown(plant, name) for name in named("product")},
        procedures=dict(titles),
        call=call_shown(plant.facts) if isinstance(written, Procedure) and written.is_emergency else None,
        parts=parts,
        effects=done.effects,
        stopping=done.stopping,
        fold_rules=done.fold_rules,
        volumes=done.volumes,
        program=done.program,
        seen=done.seen,
    )


@remembered
def _named(written: Procedure | Checklist) -> Callable[[str], tuple[str, ...]]:
    """Return a look-up of what is named, by its sort: each name once, in reading order."""
    names: dict[str, dict[str, None]] = {}
    for text, meaning in texts(written):
        if isinstance(meaning, Refers):
            names.setdefault(meaning.to, {})[str(text)] = None
    return lambda what: tuple(names.get(what, ()))


def _pointed_to(plant: Plant, written: Procedure | Checklist) -> tuple[str, ...]:
    """Return what may be procedures that it points to; a place is one, or a section of its own."""
    named = _named(written)
    conditions = (condition_shown(plant, name).procedure for name in named("condition"))
    found = (*named("procedure"), *named("place"), *conditions)
    return tuple(dict.fromkeys(name for name in found if name is not None))


def _equipment(plant: Plant, written: Procedure | Checklist, tags: tuple[str, ...]) -> dict[str, PieceShown]:
    """Return the equipment that is named; a lockout also shows the energy of the machines that hands go into."""
    items = tuple(every(written.steps)) if isinstance(written, Procedure) else ()
    locked = {str(item.target) for item in items if isinstance(item, Isolate)}
    opened = {str(tag) for item in items if isinstance(item, Step) for tag in item.works_on}
    shown = {}
    for tag, piece in plant.equipment.equipment.items():
        is_meant = tag in opened or not opened
        sources = tuple(each for each in piece.energy_sources if is_meant and each.isolate_at in locked)
        if tag in tags or sources:
            where = None if piece.where is None else str(piece.where)
            shown[str(tag)] = PieceShown(str(piece.kind), str(piece.name), where, sources)
    return shown


@remembered
def _part(procedure: Procedure, item: Reference, edition: Edition | None, program: Portable) -> Part:
    sections = {str(each.section): str(each.title) for each in procedure.steps if isinstance(each, Section)}
    return Part(
        procedure=str(procedure.procedure),
        title=str(procedure.title),
        section=item.section,
        section_title=None if item.section is None else sections[item.section],
        why=item.why,
        edition=edition,
        program=program,
    )

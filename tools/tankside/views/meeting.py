"""What meets what: each two materials, and what comes into each vessel and line."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations

from tankside.plant.everywhere import Arrivals, arrivals
from tankside.plant.parts import Part
from tankside.plant.reactivity import Allowed, Never, Reactivity, Unknown, Verdict
from tankside.plant.rehearsal import Rehearsal
from tankside.views.steps import numbered

#: what is worse comes first
ORDER = (Never, Unknown, Allowed)
WORDS: Mapping[type[Verdict], str] = {Never: "never", Unknown: "unknown", Allowed: "may"}


@dataclass(frozen=True)
class Reason:
    """Why two materials must not meet or may; several pairs may have the same."""

    number: int
    #: never, unknown or may
    word: str
    text: str
    source: str
    #: no rinse between the two makes them safe in one piece of equipment
    is_separate: bool
    #: numbers of materials: the first of some pairs, and the others
    pairs: tuple[tuple[int, tuple[int, ...]], ...]

    @property
    def count(self) -> int:
        """How many pairs it holds for."""
        return sum(len(others) for _, others in self.pairs)


@dataclass(frozen=True)
class MaterialRow:
    """A material, and what holds for it with each one before it."""

    number: int
    id: str
    name: str
    cells: tuple[Reason, ...]


@dataclass(frozen=True)
class Coming:
    """What brings a material somewhere."""

    procedure: str
    title: str
    step: str
    #: of the step
    number: str


@dataclass(frozen=True)
class Inside:
    """A material in a vessel or line."""

    id: str
    name: str
    is_meant: bool
    #: None when no procedure brings it there
    coming: Coming | None


@dataclass(frozen=True)
class PartView:
    """A piece of equipment, and all that it is meant for or that comes into it."""

    tag: str
    name: str
    #: False where the book does not say what it is meant for
    is_meant_for_some: bool
    inside: tuple[Inside, ...]


@dataclass(frozen=True)
class MeetingView:
    """All that is shown of what meets what."""

    rows: tuple[MaterialRow, ...]
    #: the worse first
    reasons: tuple[Reason, ...]
    parts: tuple[PartView, ...]

    @property
    def separate(self) -> int:
        """How many pairs of materials need equipment of their own."""
        return sum(each.count for each in self.reasons if each.is_separate)


def meeting_view(rehearsal: Rehearsal) -> MeetingView:
    """Return what meets what in a book that was rehearsed."""
    setting = rehearsal.setting
    materials = {str(each): str(about.name) for each, about in rehearsal.facts.materials.materials.items()}
    reasons = tuple(_reasons(setting.reactivity, list(materials)))
    by_pair = {(first, other): each for each in reasons for first, others in each.pairs for other in others}
    rows = (
        MaterialRow(number, name, materials[name], tuple(by_pair[before, number] for before in range(1, number)))
        for number, name in enumerate(materials, 1)
    )
    parts = _Parts(rehearsal, arrivals(rehearsal.all()), materials)
    return MeetingView(
        tuple(rows), reasons, tuple(parts.of(each) for each in setting.plant.parts.values() if parts.has(each))
    )


def _reasons(reactivity: Reactivity, names: list[str]) -> Iterator[Reason]:
    found: dict[Verdict, dict[int, list[int]]] = {}
    for (first, one), (other, another) in combinations(enumerate(names, 1), 2):
        found.setdefault(reactivity.judge(one, another), {}).setdefault(first, []).append(other)
    worst_first = sorted(found, key=lambda verdict: ORDER.index(type(verdict)))
    for number, verdict in enumerate(worst_first, 1):
        text = verdict.consequence if isinstance(verdict, Never) else verdict.why
        yield Reason(
            number=number,
            word=WORDS[type(verdict)],
            text=f"{text[:1].upper()}{text[1:].rstrip('.')}.",
            source="" if isinstance(verdict, Unknown) else verdict.source,
            is_separate=isinstance(verdict, Never) and verdict.is_separate,
            pairs=tuple((first, tuple(others)) for first, others in found[verdict].items()),
        )


@dataclass(frozen=True)
class _Parts:
    rehearsal: Rehearsal
    come: Arrivals
    materials: Mapping[str, str]

    def has(self, part: Part) -> bool:
        """Return whether anything is meant for it or comes into it; a supply only gives."""
        return part.kind != "supply" and (bool(part.holds) or any(tag == part.tag for tag, _ in self.come))

    def of(self, part: Part) -> PartView:
        """Return what is in a part."""
        names = {str(tag): str(piece.name) for tag, piece in self.rehearsal.facts.equipment.equipment.items()}
        inside = (
            Inside(each, name, each in part.holds, self._coming(part.tag, each))
            for each, name in self.materials.items()
            if each in part.holds or (part.tag, each) in self.come
        )
        return PartView(part.tag, names[part.tag], bool(part.holds), tuple(inside))

    def _coming(self, tag: str, material: str) -> Coming | None:
        if (tag, material) not in self.come:
            return None
        name, step = self.come[tag, material]
        procedure = self.rehearsal.worked.book.procedures[name]
        number = next(number for number, each in numbered(procedure.steps) if each.name == step)
        return Coming(name, str(procedure.title), step, number)

"""Which materials must never meet, which may, and of which nobody has said anything.

Published pairs of kinds stand in ``reactivity.json``. The book says which kinds its groups stand for and adds pairs of
its own. What no list says is unknown, and unknown is not allowed. A published pair can only forbid: that the table
lacks a pair does not say that the two are harmless.
"""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from importlib.resources import files
from itertools import combinations_with_replacement
from typing import Any, Final, Literal, TypeVar

from tankside.memory import remembered
from tankside.model.facts import Group, Materials, MayMeet, NeverMeet
from tankside.problems import Problem, quoted

Entry = TypeVar("Entry", MayMeet, NeverMeet)
#: kinds, or groups: both of a pair (one, when it meets its like), or all of a material
Names = frozenset[str]


@dataclass(frozen=True)
class Source:
    """Where a pair is published."""

    says: str
    #: the consequence as this source codes it; empty when it uses words
    letters: tuple[str, ...]
    #: whether it was read, in the document or in a copy of it
    status: Literal["read", "from memory"]

    def __str__(self) -> str:
        """Return the source with the consequence that it codes; what is from memory says so."""
        memory = () if self.status == "read" else (self.status,)
        return ", ".join((self.says, *(_LETTERS[letter] for letter in self.letters), *memory))


@dataclass(frozen=True)
class Pair:
    """Two kinds that are published as reacting."""

    kinds: Names
    consequence: str
    sources: tuple[Source, ...]
    #: no rinse between the two makes them safe in one piece of equipment
    separate_equipment: bool

    @property
    def source(self) -> str:
        """All sources in one line."""
        return "; ".join(map(str, self.sources))


@dataclass(frozen=True)
class Allowed:
    """The two may meet."""

    why: str
    #: empty where it needs none
    source: str = ""


@dataclass(frozen=True)
class Never:
    """The two must never meet."""

    #: what happens to people when they do
    consequence: str
    source: str
    #: True when no rinse will do: they share no vessel, line, pail or hose
    is_separate: bool


@dataclass(frozen=True)
class Unknown:
    """Nobody has said whether the two may meet; they are kept apart as if they must not."""

    #: lower case, no full stop
    why: str


Verdict = Allowed | Never | Unknown

_ITSELF: Final = Allowed("It is the same material.")
_ONE_GROUP: Final = Allowed("Both are of the same group.")
_NO_GROUP: Final = Unknown("a material without a reactivity group may meet nothing but itself")


class Reactivity:
    """What the book and the published table say of any two materials of the book."""

    def __init__(self, materials: Materials) -> None:
        """Judge every set of groups that a material has against every other, once."""
        rules = _Rules(_forbidden(materials), _by_pair(materials.may_meet))
        self._groups = {str(name): Names(material.groups) for name, material in materials.materials.items()}
        sets = set(self._groups.values())
        self._verdicts = {(one, other): rules.verdict(one, other) for one in sets for other in sets}

    def judge(self, first: str, second: str) -> Verdict:
        """Return whether two materials of the book may meet; their order does not matter.

        Raises:
            KeyError: the book has no such material.
        """
        groups, others = self._groups[first], self._groups[second]
        return _ITSELF if first == second else self._verdicts[groups, others]


@dataclass(frozen=True)
class _Rules:
    """Pairs of groups, in the order in which they are said."""

    never: Mapping[Names, Never]
    may: Mapping[Names, MayMeet]

    def verdict(self, groups: Names, others: Names) -> Verdict:
        """Return what holds for two different materials of these groups."""
        if not groups or not others:
            return _NO_GROUP
        pairs = {Names((one, other)) for one in groups for other in others}
        for pair, never in self.never.items():
            if pair in pairs:
                return never
        different = {pair for pair in pairs if len(pair) == 2}
        unsaid = min((sorted(pair) for pair in different - self.may.keys()), default=None)
        if unsaid is not None:
            return Unknown(f"no list says whether the groups {quoted(unsaid[0])} and {quoted(unsaid[1])} may meet")
        entries = [entry for pair, entry in self.may.items() if pair in different]
        if not entries:
            return _ONE_GROUP
        sources = dict.fromkeys(str(entry.source) for entry in entries)
        return Allowed(" ".join(entry.why for entry in entries), "; ".join(sources))


def problems(materials: Materials) -> Iterator[Problem]:
    """Return where a book contradicts itself or the published table: what may meet here must never meet there."""
    forbidden = _forbidden(materials)
    for entry in materials.may_meet:
        never = forbidden.get(Names(entry.groups))
        if never is not None:
            both = " and ".join(map(quoted, entry.groups))
            message = f"{both} may meet here, and must never meet; source: {never.source}"
            hint = f"delete this entry: {never.consequence.rstrip('.')}"
            yield Problem(entry.groups[0].span, "pair-contradicts", message, hint)


def _forbidden(materials: Materials) -> Mapping[Names, Never]:
    """Return the pairs of groups that must never meet: the book's own first, then those that no rinse makes safe."""
    own = _by_pair(materials.never_meet)
    forbidden = {pair: Never(entry.consequence, entry.source, is_separate=True) for pair, entry in own.items()}
    published = [
        (Names((one, other)), pair)
        for one, other in combinations_with_replacement(materials.groups, 2)
        for pair in _published(materials.groups[one], materials.groups[other])
    ]
    for groups, pair in sorted(published, key=lambda each: not each[1].separate_equipment):
        forbidden.setdefault(groups, Never(pair.consequence, pair.source, pair.separate_equipment))
    return forbidden


def _published(group: Group, other: Group) -> Iterator[Pair]:
    kinds = {Names((one, another)) for one in group.stands_for for another in other.stands_for}
    return (pair for pair in PAIRS if pair.kinds in kinds)


def _by_pair(entries: tuple[Entry, ...]) -> dict[Names, Entry]:
    """Return the entries by their two groups; of several for one pair, the first."""
    by_pair: dict[Names, Entry] = {}
    for entry in entries:
        if len(entry.groups) == 2:
            by_pair.setdefault(Names(entry.groups), entry)
    return by_pair


_TABLE = json.loads(files("tankside.plant").joinpath("reactivity.json").read_text(encoding="utf-8"))
_LETTERS: Final[Mapping[str, str]] = _TABLE["letters"]


def _read_pair(row: Mapping[str, Any]) -> Pair:
    sources = tuple(Source(each["says"], tuple(each["letters"]), each["status"]) for each in row["sources"])
    return Pair(Names(row["kinds"]), row["consequence"], sources, row.get("separate_equipment", False))


#: everything published
PAIRS: Final = tuple(map(_read_pair, _TABLE["pairs"]))


@remembered
def reactivity_of(materials: Materials) -> Reactivity:
    """Return the reactivity of a book's materials, put together once."""
    return Reactivity(materials)

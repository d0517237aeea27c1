"""Paths of training as pages and sheets show them."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from tankside.edition.shown import key
from tankside.model.facts import Plant
from tankside.model.training import Path, PathItem, PathPart
from tankside.texts import Words
from tankside.training.taught import digest
from tankside.views.wording import with_degrees

#: digits of the digest in the name of an item that is no procedure
SHORT = 8


@dataclass(frozen=True)
class ItemView:
    """Something to learn."""

    #: its name in the path: `learn-splash-alone`, or `tell-` and a digest of its words: what is told anew is a new item
    key: str
    #: learn, find, pairs or tell
    kind: str
    title: str
    #: of `learn`
    procedure: str
    #: of `learn`: read, shown, supervised or alone
    goal: str
    is_affected: bool
    #: what one must be competent in before: (id, title)
    after: tuple[tuple[str, str], ...]
    #: of the others: a line each
    lines: tuple[str, ...]
    #: of `find`
    tags: tuple[str, ...]
    #: duties of the law that it is meant for
    covers: tuple[str, ...]


@dataclass(frozen=True)
class PartView:
    """What is learnt together."""

    title: str
    day: int
    #: whether nothing may be touched yet
    is_hands_off: bool
    items: tuple[ItemView, ...]


@dataclass(frozen=True)
class PathView:
    """A path."""

    id: str
    title: str
    #: id and name of the role that it trains for
    role: tuple[str, str]
    parts: tuple[PartView, ...]
    #: id and title of the path that was walked before
    builds_on: tuple[str, str] | None

    @property
    def items(self) -> tuple[ItemView, ...]:
        """All its items in order."""
        return tuple(item for part in self.parts for item in part.items)

    @property
    def hands_off(self) -> "PathView":
        """It with those parts only in which nothing is touched."""
        return replace(self, parts=tuple(part for part in self.parts if part.is_hands_off))


def path_views(plant: Plant, titles: Mapping[str, str], say: Words) -> Mapping[str, PathView]:
    """Return the paths of a book by id; `titles` are those of the procedures."""
    return {str(name): path_view(plant, str(name), titles, say) for name in plant.training.paths}


def path_view(plant: Plant, name: str, titles: Mapping[str, str], say: Words) -> PathView:
    """Return one path."""
    return _Views(plant, titles, say).path(name, plant.training.paths[key(name)])


@dataclass(frozen=True)
class _Views:
    plant: Plant
    titles: Mapping[str, str]
    say: Words

    def path(self, name: str, path: Path) -> PathView:
        role = str(path.role)
        role_name = str(self.plant.roles.roles[key(role)].name)
        parts = tuple(map(self._part, path.parts))
        return PathView(name, str(path.title), (role, role_name), parts, self._builds_on(path))

    def _builds_on(self, path: Path) -> tuple[str, str] | None:
        if path.builds_on is None:
            return None
        return str(path.builds_on), str(self.plant.training.paths[path.builds_on].title)

    def _part(self, part: PathPart) -> PartView:
        items = tuple(map(self._item, part.items))
        return PartView(str(part.title), int(part.day), part.touching == "no", items)

    def _item(self, item: PathItem) -> ItemView:
        procedure = "" if item.learn is None else str(item.learn)
        lines = tuple(self._lines(item))
        return ItemView(
            key=f"learn-{procedure}-{item.to}" if procedure else f"{item.kind}-{digest([item.kind, *lines])[:SHORT]}",
            kind=item.kind,
            title=self.titles[procedure] if procedure else self.say(f"path-{item.kind}"),
            procedure=procedure,
            goal=str(item.to or ""),
            is_affected=item.as_ == "affected",
            after=tuple((str(each), self.titles[str(each)]) for each in item.after),
            lines=lines,
            tags=tuple(map(str, item.find)),
            covers=tuple(map(str, item.covers)),
        )

    def _lines(self, item: PathItem) -> Iterator[str]:
        if item.tell is not None:
            yield with_degrees(item.tell)
        for tag in item.find:
            piece = self.plant.equipment.equipment[key(str(tag))]
            where = "" if piece.where is None else f", {piece.where[:1].lower()}{piece.where[1:]}"
            yield f"{tag}: {piece.name}{where}"
        if item.pairs is not None:
            for pair in self.plant.materials.never_meet:
                one, other = (str(self.plant.materials.groups[key(str(each))].name) for each in pair.groups)
                yield self.say("path-pair", one=one, other=other, consequence=pair.consequence)

"""Every name that a book defines, known even when the file that defines it has problems elsewhere."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import PurePosixPath

from tankside.loading.values import Table, Text, Value
from tankside.problems import Span

#: the tables of the plant files, and what the keys in them are names of
TABLES = {
    "roles": {"roles": "role"},
    "equipment": {"equipment": "tag", "protective_equipment": "wearable", "conditions": "condition"},
    "materials": {"materials": "material", "groups": "group"},
    "products": {"products": "product"},
    "sheets": {"places": "wall"},
    "training": {"paths": "path"},
}
#: tables that a file need not have
NEED_NOT_BE = {"sheets": {"places": "wall"}, "training": {"paths": "path"}}


@dataclass
class Names:
    """What is defined, by what it is; filled while the files are read."""

    #: paths of all files of the book
    files: set[str] = field(default_factory=set)
    #: what the names are of -> name -> where it is defined
    defined: dict[str, dict[str, Text]] = field(default_factory=dict)
    #: tag -> kind of equipment
    kinds: dict[str, str] = field(default_factory=dict)
    #: the sorts of names whose file could not be read; nothing can be said of them
    unread: set[str] = field(default_factory=lambda: {what for tables in TABLES.values() for what in tables.values()})
    #: "material.limit"
    limits: set[str] = field(default_factory=set)
    #: "machine.name" of each source of energy
    energy: set[str] = field(default_factory=set)
    #: procedure id -> names of its sections
    sections: dict[str, set[str]] = field(default_factory=dict)

    def of(self, what: str) -> Iterable[str]:
        """Return the names that are defined of one sort."""
        return self.defined.get(what, {})

    def take(self, path: str, shape: str, value: Value | None) -> None:
        """Note the names that a file defines."""
        if shape in ("procedure", "checklist"):
            stem = PurePosixPath(path).stem
            self.defined.setdefault(shape, {})[stem] = _own_id(value, shape) or Text(stem, Span(path))
            if shape == "procedure":
                self.sections[stem] = set(_sections(value))
        elif isinstance(value, Table):
            for table, what in TABLES.get(shape, {}).items():
                self._take_table(value.at(table), what)
            for table, what in NEED_NOT_BE.get(shape, {}).items():
                # What names something in a table that is not there, names nothing known.
                if value.at(table) is None:
                    self.unread.discard(what)
            self._take_details(value)

    def _take_table(self, table: Value | None, what: str) -> None:
        if isinstance(table, Table):
            self.unread.discard(what)
            self.defined.setdefault(what, {}).update({str(key): key for key in table})

    def _take_details(self, value: Table) -> None:
        for tag, piece in _tables(value.at("equipment")):
            kind = piece.at("kind")
            if isinstance(kind, Text):
                self.kinds[tag] = str(kind)
            self.energy.update(f"{tag}.{name}" for name in _energy_names(piece.at("energy_sources")))
        for material, about in _tables(value.at("materials")):
            limits = about.at("limits")
            if isinstance(limits, Table):
                self.limits.update(f"{material}.{name}" for name in limits)


def _tables(value: Value | None) -> Iterable[tuple[str, Table]]:
    if isinstance(value, Table):
        for key, each in value.items():
            if isinstance(each, Table):
                yield str(key), each


def _energy_names(sources: Value | None) -> Iterable[str]:
    for source in sources if isinstance(sources, list) else ():
        name = source.at("name") if isinstance(source, Table) else None
        if isinstance(name, Text):
            yield str(name)


def _own_id(value: Value | None, shape: str) -> Text | None:
    own = value.at(shape) if isinstance(value, Table) else None
    return own if isinstance(own, Text) else None


def _sections(value: Value | None) -> Iterable[str]:
    steps = value.at("steps") if isinstance(value, Table) else None
    for step in steps if isinstance(steps, list) else ():
        name = step.at("section") if isinstance(step, Table) else None
        if isinstance(name, Text):
            yield str(name)

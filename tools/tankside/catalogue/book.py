"""Load a whole book from a folder or a git tree."""

from collections.abc import Iterator, Mapping
from dataclasses import astuple, dataclass, field
from pathlib import PurePosixPath
from typing import Any

from tankside.catalogue.agreement import day_disagreements, disagreements, plant_disagreements
from tankside.catalogue.characters import undrawn
from tankside.catalogue.labels import label_disagreements
from tankside.catalogue.links import Linked, link_problems
from tankside.catalogue.names import Names
from tankside.catalogue.pictures import picture_problems, pictures_of
from tankside.catalogue.sheets import sheet_disagreements
from tankside.catalogue.training import training_disagreements
from tankside.loading.reading import read
from tankside.loading.sources import File, Source
from tankside.loading.values import Table, Value
from tankside.memory import remembered, same_if_equal
from tankside.model.building import CannotBuildError, build
from tankside.model.facts import BookFacts, Equipment, Materials, Plant, Products, Roles
from tankside.model.procedures import Checklist, Procedure
from tankside.model.sheets import Sheets
from tankside.model.training import Training
from tankside.problems import Problem, Span, in_order, meant, unless_spoken
from tankside.schema.fitting import misfits
from tankside.schema.shapes import OPTIONAL_FILES, PLANT_FILES

PLANT = "procedures/plant"
#: file -> class, in the order of the fields of `Plant`
PLANT_CLASSES: Mapping[str, type[Any]] = {
    "book": BookFacts,
    "roles": Roles,
    "equipment": Equipment,
    "materials": Materials,
    "products": Products,
    "sheets": Sheets,
    "training": Training,
}
#: what stands for a file that a book need not have
EMPTY: Mapping[str, Any] = {"sheets": Sheets(), "training": Training()}


@dataclass(frozen=True)
class Book:
    """A book all of whose files could be read and all of whose names are resolved."""

    plant: Plant
    #: by id, in the order of family and id
    procedures: Mapping[str, Procedure]
    checklists: Mapping[str, Checklist]


@dataclass(frozen=True)
class Loaded:
    """What loading gives: a book, or None when a file of it cannot be used at all; and every problem."""

    book: Book | None
    problems: tuple[Problem, ...]
    #: how many files were read
    count: int


@dataclass
class _Reading:
    """What has been read so far."""

    names: Names = field(default_factory=Names)
    problems: list[Problem] = field(default_factory=list)
    plant: dict[str, Any] = field(default_factory=dict)
    procedures: dict[str, Procedure] = field(default_factory=dict)
    checklists: dict[str, Checklist] = field(default_factory=dict)
    is_complete: bool = True
    count: int = 0


@dataclass(frozen=True)
class _Part:
    """What a file holds."""

    #: None when it could not be read
    value: Value | None
    #: None when what the model needs is missing
    built: Any
    problems: tuple[Problem, ...]


def load(source: Source) -> Loaded:
    """Return the book that `source` holds, and all its problems sorted by place."""
    reading = _Reading()
    for file in source.files():
        _take(reading, file)
    missing = tuple(_missing(reading.names.files))
    reading.problems.extend(missing)
    reading.is_complete &= not missing
    linked = Linked(
        names=same_if_equal("names", reading.names),
        plant=tuple(reading.plant.values()),
        procedures=tuple(reading.procedures.values()),
        checklists=tuple(reading.checklists.values()),
        pictures=same_if_equal("names of pictures", source.pictures()),
        is_complete=reading.is_complete,
    )
    book = _book(reading)
    links = link_problems(linked, reading.names.defined)
    named = pictures_of(linked.procedures)
    pictures = picture_problems(named, source.picture_bytes(named))
    for later in (links, pictures, () if book is None else _disagreements(book, reading)):
        reading.problems.extend(unless_spoken(tuple(reading.problems), later))
    return Loaded(book, in_order(reading.problems), reading.count)


def _disagreements(book: Book, reading: _Reading) -> Iterator[Problem]:
    yield from disagreements(book.procedures, book.checklists)
    yield from plant_disagreements(book.plant)
    yield from label_disagreements(book.plant.products, book.procedures)
    yield from day_disagreements(book.plant.facts, book.checklists)
    yield from sheet_disagreements(book.plant, book.procedures, reading.names)
    yield from training_disagreements(book.plant, book.procedures)
    for part in reading.plant.values():
        yield from undrawn(part)


def _missing(files: set[str]) -> Iterator[Problem]:
    if not any(path.startswith("procedures/") for path in files):
        message = "this folder holds no book: it has nothing in procedures/"
        hint = "name the folder of a book; 'tankside --help' says what stands in one"
        yield Problem(Span("procedures"), "book-missing", message, hint)
        return
    for name in PLANT_FILES:
        path = f"{PLANT}/{name}.yaml"
        if path not in files and name not in OPTIONAL_FILES:
            hint = f"write it; {name}.schema.json says what stands in it"
            yield Problem(Span(path), "file-missing", f"the book has no {path}", hint)


_plant = remembered(Plant)


def _book(reading: _Reading) -> Book | None:
    found = {
        **{name: each for name, each in EMPTY.items() if f"{PLANT}/{name}.yaml" not in reading.names.files},
        **reading.plant,
    }
    if set(found) != set(PLANT_FILES):
        return None
    procedures = sorted(reading.procedures.values(), key=lambda each: (each.family, each.procedure))
    return Book(
        plant=_plant(*(found[shape] for shape in PLANT_CLASSES)),
        procedures={str(each.procedure): each for each in procedures},
        checklists=dict(sorted(reading.checklists.items())),
    )


def _take(reading: _Reading, file: File) -> None:
    reading.count += 1
    reading.names.files.add(file.path)
    shape = _shape(file.path)
    if shape is None:
        reading.problems.extend(read(file)[1] if file.leaves_book else (_stray(file.path),))
        return
    part = _part(shape, *astuple(file))
    reading.problems.extend(part.problems)
    reading.is_complete &= not part.problems
    reading.problems.extend(_used_twice(reading.names, file.path, shape))
    reading.names.take(file.path, shape, part.value)
    stem = PurePosixPath(file.path).stem
    if isinstance(part.built, Procedure):
        reading.procedures.setdefault(stem, part.built)
    elif isinstance(part.built, Checklist):
        reading.checklists.setdefault(stem, part.built)
    elif part.built is not None:
        reading.plant[shape] = part.built


def _used_twice(names: Names, path: str, shape: str) -> Iterator[Problem]:
    """An id stands in the address of a page, whether of a procedure or of a checklist."""
    stem = PurePosixPath(path).stem
    for what in ("procedure", "checklist") if shape not in PLANT_FILES else ():
        first = names.defined.get(what, {}).get(stem)
        if first is not None:
            message = f"'{stem}' is already the id of the {what} in {first.span.path}"
            yield Problem(Span(path), "id-used-twice", message, "give one of the two another id")


def _shape(path: str) -> str | None:
    parts = PurePosixPath(path)
    if parts.suffix != ".yaml":
        return None
    if parts.parent.as_posix() == PLANT:
        return parts.stem if parts.stem in PLANT_FILES else None
    if parts.parts[0] == "checklists":
        return "checklist" if len(parts.parts) == 2 else None
    return "procedure" if len(parts.parts) == 3 else None


def _stray(path: str) -> Problem:
    message = "this file has no place in a book"
    hint = "procedures stand in procedures/<family>/<id>.yaml, checklists in checklists/<id>.yaml"
    if path.startswith(f"{PLANT}/"):
        hint = meant(PurePosixPath(path).stem, PLANT_FILES, f"the plant has only {', '.join(PLANT_FILES)}") + " (.yaml)"
    return Problem(Span(path), "file-stray", message, hint)


@remembered
def _part(shape: str, *file: Any) -> _Part:
    """Return what a file of a shape holds; `file` are the fields of a `File`."""
    origin = File(*file)
    value, broken = read(origin)
    misfit = () if value is None else tuple(unless_spoken(broken, misfits(value, shape)))
    problems = (*broken, *misfit)
    built = None
    if value is not None:
        try:
            built = _built(shape, value, origin.path, is_complete=not problems)
        except CannotBuildError:
            assert problems or not isinstance(value, Table), "the schema must ask for what the model needs"
    return _Part(value, built, problems)


def _built(shape: str, value: Value, path: str, *, is_complete: bool) -> Any:
    if shape in PLANT_CLASSES:
        return build(PLANT_CLASSES[shape], value)
    return build(Procedure if shape == "procedure" else Checklist, value, span=Span(path), is_complete=is_complete)

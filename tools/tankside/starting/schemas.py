"""The schema files: those of a book's files, for an editor that completes and explains their keys; those of records."""

from importlib.resources import files
from pathlib import Path

from tankside.schema.shapes import COMPETENCE, RECORD, SHAPES, file_name

#: `common` holds what the others refer to
NAMES = (*SHAPES, "common", RECORD, COMPETENCE)
#: where a book keeps its copies
FOLDER = ".schema"


def schema_text(name: str) -> str:
    """Return the text of one of NAMES."""
    return files("tankside.schema").joinpath(file_name(name)).read_text(encoding="utf-8")


def write_schemas(folder: Path) -> tuple[Path, ...]:
    """Write all schemas into a folder, over those of an earlier version."""
    folder.mkdir(parents=True, exist_ok=True)
    paths = tuple(folder / file_name(name) for name in NAMES)
    for name, path in zip(NAMES, paths, strict=True):
        path.write_text(schema_text(name), encoding="utf-8", newline="\n")
    return paths

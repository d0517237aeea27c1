"""Imports go in one direction, as DESIGN's section 3 draws the house: a room imports only from rooms above it."""

import ast
import sys
from collections.abc import Iterator
from graphlib import TopologicalSorter
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "tools" / "tankside"
#: from the top of the house down; a room may import from those before it
ORDER = (
    "problems",
    "problem_formats",
    "texts",
    "memory",
    "loading",
    "schema",
    "units",
    "quantities",
    "model",
    "catalogue",
    "compute",
    "plant",
    "audit",
    "edition",
    "history",
    "checkup",
    "posted",
    "records",
    "training",
    "views",
    "drawing",
    "templating",
    "render_site",
    "render_print",
    "publish",
    "serving",
    "starting",
    "cli",
)
#: the theme and the printer are known in one room each
KNOWN_ONLY_IN = {
    "mkdocs": {"publish"},
    "weasyprint": {"render_print"},
    "jinja2": {"templating"},
    "click": {"cli"},
    "yaml": {"loading"},
    "jsonschema": {"schema"},
    "lunr": {"render_site"},
    "watchdog": {"serving"},
    "segno": {"drawing"},
    "PIL": {"catalogue"},
}


def name_of(path: Path) -> str:
    parts = ("tankside", *path.relative_to(PACKAGE).with_suffix("").parts)
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


MODULES = {name_of(path): ast.parse(path.read_text(encoding="utf-8")) for path in sorted(PACKAGE.rglob("*.py"))}


def imported(name: str) -> Iterator[str]:
    """Return the modules that a module imports, wherever in it the import stands."""
    for node in ast.walk(MODULES[name]):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{name} imports relatively"
            assert node.module is not None
            whole = {f"{node.module}.{alias.name}" for alias in node.names} & MODULES.keys()
            yield from whole or {node.module}


def room(name: str) -> str:
    """Return the room of a module of the package; the package itself and what starts it belong to the command."""
    parts = name.split(".")
    return "cli" if len(parts) == 1 or parts[1] == "__main__" else parts[1]


def ours(name: str) -> list[str]:
    return [each for each in imported(name) if each.split(".")[0] == "tankside" and each != "tankside"]


def test_every_room_has_its_place_in_the_order() -> None:
    assert {room(name) for name in MODULES} <= set(ORDER)
    assert len({room(name) for name in MODULES}) > 15


@pytest.mark.parametrize("name", MODULES)
def test_module_imports_only_from_rooms_above_its_own(name: str) -> None:
    wrong = [each for each in ours(name) if ORDER.index(room(each)) > ORDER.index(room(name))]
    assert wrong == []


def test_no_module_imports_itself_through_others() -> None:
    # prepare() raises CycleError with the circle in it
    TopologicalSorter({name: set(ours(name)) for name in MODULES}).prepare()


@pytest.mark.parametrize("name", MODULES)
def test_library_is_known_only_in_its_room(name: str) -> None:
    foreign = {each.split(".")[0] for each in imported(name)}
    wrong = {each for each in foreign & KNOWN_ONLY_IN.keys() if room(name) not in KNOWN_ONLY_IN[each]}
    assert wrong == set()


def test_everything_else_that_is_imported_is_a_known_library() -> None:
    foreign = {each.split(".")[0] for name in MODULES for each in imported(name)} - set(sys.stdlib_module_names)
    known = {*KNOWN_ONLY_IN, "tankside", "referencing", "fontTools", "fontpkg_atkinson_hyperlegible", "markupsafe"}
    assert foreign <= known

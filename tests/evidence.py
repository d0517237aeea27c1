"""Read from the tests of the helpers what each one is checked against, and write it for the page that says so.

`python tests/evidence.py` writes the file anew; a test holds that it is up to date.
"""

import ast
import json
import re
from collections.abc import Iterator
from pathlib import Path

from tankside.quantities.registry import NAMED

TESTS = Path(__file__).parent
EVIDENCE = TESTS.parent / "tools" / "tankside" / "assets" / "evidence.json"
#: a published vector, as the list of check values numbers it; a trap is written with a colon
VECTOR = re.compile(r"\b(?:[A-Z][0-9]{2}|T[0-9]{1,2}(?=:))\b(?!\.[0-9])")
#: packages that know nothing of this project
LIBRARIES = ("fluids", "pint", "scipy", "chemicals")


def evidence() -> dict[str, dict[str, list[str]]]:
    """Return the vectors and the independent libraries of each helper, by its name."""
    found: dict[str, dict[str, set[str]]] = {name: {"vectors": set(), "libraries": set()} for name in NAMED}
    for path in sorted(TESTS.glob("test_*.py")):
        for names, vectors, libraries in _tests(path):
            for name in names:
                found[name]["vectors"] |= vectors
                found[name]["libraries"] |= libraries
    return {name: {key: sorted(values) for key, values in each.items()} for name, each in sorted(found.items())}


def _tests(path: Path) -> Iterator[tuple[set[str], set[str], set[str]]]:
    """Return the helpers, vectors and libraries of each test in a file, those of the functions it calls included."""
    text = path.read_text(encoding="utf-8")
    tree = ast.parse(text)
    lines = text.splitlines()
    functions = {each.name: each for each in tree.body if isinstance(each, ast.FunctionDef)}
    imported = {
        alias.asname or alias.name: node.module.split(".")[0]
        for node in tree.body
        if isinstance(node, ast.ImportFrom) and node.module and node.module.split(".")[0] in LIBRARIES
        for alias in node.names
    }
    for name, function in functions.items():
        if not name.startswith("test_"):
            continue
        parts = [function, *(functions[each] for each in _names(function) if each in functions and each != name)]
        helpers = {text for part in parts for text in _texts(part) if text in NAMED}
        libraries = {imported[each] for part in parts for each in _names(part) if each in imported}
        first = min((each.lineno for each in function.decorator_list), default=function.lineno)
        yield helpers, set(VECTOR.findall("\n".join(lines[first - 1 : function.end_lineno]))), libraries


def _names(node: ast.AST) -> set[str]:
    return {each.id for each in ast.walk(node) if isinstance(each, ast.Name)}


def _texts(node: ast.AST) -> Iterator[str]:
    for each in ast.walk(node):
        if isinstance(each, ast.Constant) and isinstance(each.value, str):
            yield each.value


if __name__ == "__main__":
    EVIDENCE.write_text(json.dumps(evidence(), indent=1) + "\n", encoding="utf-8", newline="\n")

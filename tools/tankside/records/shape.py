"""Whether a record has the shape of one, said in plain sentences at the place where it has not."""

import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from tankside.problems import Problem, meant, quoted
from tankside.quantities.portable import Portable
from tankside.records.document import Document
from tankside.records.json_places import Path
from tankside.schema.records import EVENTS, collection_errors, record_errors

Said = Callable[[Document, Path, Any], Iterator[Problem]]


@dataclass(frozen=True)
class Misfit:
    """Something that does not fit."""

    #: the place of the event in which it stands, None where in none
    event: int | None
    #: the keys that lead to it
    path: Path
    problem: Problem


def misfits(document: Document) -> Iterator[Misfit]:
    """Return what in a record does not fit the schema."""
    for path, problem in _said(document, record_errors(document.value, document.sort.name)):
        yield Misfit(int(path[1]) if _is_in_event(path) else None, path, problem)


def misfits_around(document: Document) -> Iterator[Problem]:
    """Return what does not fit in a file of several records, the records themselves left out."""
    return (problem for _, problem in _said(document, collection_errors(document.value, document.sort.name)))


def name_of(event: Portable, number: int) -> str:
    """Return what an event is called when something is said of it; people count from 1."""
    kind = event.get("kind") if isinstance(event, dict) else None
    return f"event {number + 1} ({kind})" if isinstance(kind, str) and kind.isalpha() else f"event {number + 1}"


def _is_in_event(path: Path) -> bool:
    return len(path) > 1 and path[0] == EVENTS


def _said(document: Document, errors: Iterator[tuple[Path, Any]]) -> Iterator[tuple[Path, Problem]]:
    missing = set[Path]()
    for path, error in errors:
        if error.validator == "required":
            # The validator says it once for each key that is missing.
            if path in missing:
                continue
            missing.add(path)
        for problem in _SENTENCES.get(error.validator, _other_form)(document, path, error):
            yield path, problem


def _where(document: Document, path: Path) -> str:
    """Return the beginning of a sentence: the event that it is about."""
    if not _is_in_event(path):
        return ""
    number = int(path[1])
    return f"{name_of(document.value[EVENTS][number], number)}: "


def _unknown_keys(document: Document, path: Path, error: Any) -> Iterator[Problem]:
    known = tuple(error.schema["properties"])
    for key in [each for each in error.instance if each not in known]:
        message = f"{_where(document, path)}key {quoted(key)} is not known here"
        hint = meant(key, known, _changed(document))
        yield document.key_error(document.sort.code("key-unknown"), message, hint, *path, key)


def _missing_keys(document: Document, path: Path, error: Any) -> Iterator[Problem]:
    for key in error.validator_value:
        if key not in error.instance:
            message = f"{_where(document, path)}key '{key}' is missing"
            yield document.error(document.sort.code("key-missing"), message, _changed(document), *path)


def _other_form(document: Document, path: Path, error: Any) -> Iterator[Problem]:
    named = f"'{path[-1]}' " if path and isinstance(path[-1], str) else ""
    message = f"{_where(document, path)}{named}{_shown(error.instance)} has not the form expected here"
    hint = f"expected: {_expected(error)}; {_changed(document)}"
    yield document.error(document.sort.code("value"), message, hint, *path)


def _changed(document: Document) -> str:
    return f"this file was changed, or another program wrote it; {document.sort.save_again}"


def _shown(value: Portable) -> str:
    if isinstance(value, (dict, list)):
        return "with an object" if isinstance(value, dict) else f"with a list of {len(value)}"
    return quoted(value) if isinstance(value, str) else json.dumps(value)


def _expected(error: Any) -> str:
    said = str(error.schema.get("description", "another form")).rstrip(".")
    if error.validator in ("enum", "const"):
        choices = error.validator_value if error.validator == "enum" else [error.validator_value]
        return f"one of {', '.join(map(str, choices))}"
    return f"{said[:1].lower()}{said[1:]}" if not said[1:2].isupper() else said


_SENTENCES: Mapping[str, Said] = {"additionalProperties": _unknown_keys, "required": _missing_keys}

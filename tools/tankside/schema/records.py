"""Whether a record of a sort fits its schema: its frame first, then each event by the definition of its kind.

The schema as a whole says the same; asked so, it would try every kind on every event.
"""

from collections.abc import Iterator
from functools import cache
from typing import Any

from jsonschema import Draft202012Validator
from jsonschema.protocols import Validator

from tankside.schema.shapes import RECORD, inlined, schema

#: where in a record its events stand
EVENTS = "events"


def record_errors(record: Any, name: str = RECORD) -> Iterator[tuple[tuple[str | int, ...], Any]]:
    """Return what in a record does not fit: the keys that lead there, and the validator's error.

    `name` is that of its schema, and of its definition there.
    """
    for error in _frame(name, name).iter_errors(record):
        yield tuple(error.absolute_path), error
    events = record.get(EVENTS) if isinstance(record, dict) else None
    for number, event in enumerate(events if isinstance(events, list) else ()):
        for error in _validator(event, name).iter_errors(event):
            yield (EVENTS, number, *error.absolute_path), error


def collection_errors(file: Any, name: str = RECORD) -> Iterator[tuple[tuple[str | int, ...], Any]]:
    """Return what does not fit in a file of several records, the records themselves left out."""
    for error in _frame(name, f"{name}s").iter_errors(file):
        yield tuple(error.absolute_path), error


def _validator(event: Any, name: str) -> Validator:
    kind = event.get("kind") if isinstance(event, dict) else None
    return _of_kind(kind if isinstance(kind, str) and kind in _kinds(name) else "", name)


@cache
def _kinds(name: str) -> frozenset[str]:
    return frozenset(schema(name)["$defs"]["event"]["dependentSchemas"]["kind"]["properties"]["kind"]["enum"])


@cache
def _of_kind(kind: str, name: str) -> Validator:
    """Return the validator of a kind of event; of none, that which only asks for a known kind."""
    own = schema(name)
    if kind:
        return Draft202012Validator(inlined(own["$defs"][kind], own))
    event = own["$defs"]["event"]
    known = event["dependentSchemas"]["kind"]["properties"]
    return Draft202012Validator({"type": event["type"], "required": event["required"], "properties": known})


@cache
def _frame(name: str, definition: str) -> Validator:
    """Return the validator of a record, or of a file of several, that does not look into its list."""
    own = schema(name)
    frame = own["$defs"][definition]
    properties = {
        key: {part: each for part, each in value.items() if part != "items"}
        for key, value in frame["properties"].items()
    }
    return Draft202012Validator(inlined({**frame, "properties": properties}, own))

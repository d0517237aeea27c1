"""Walk over everything that a part of the model holds."""

from collections.abc import Mapping
from dataclasses import is_dataclass
from typing import Any

from tankside.loading.values import Text
from tankside.memory import remembered
from tankside.model.fields import shape
from tankside.model.references import Meaning

#: a text, and what it means; None for plain words
Found = tuple[Text, Meaning | None]


@remembered
def texts(part: object) -> tuple[Found, ...]:
    """Return every text inside a part of the model, each with what it means."""
    found: list[Found] = []
    _collect(part, None, found)
    return tuple(found)


def _collect(part: Any, meaning: Meaning | None, found: list[Found]) -> None:
    # One list for all: a book has some hundred thousand texts, and each is looked at by several rules.
    if isinstance(part, Text):
        found.append((part, meaning))
    elif isinstance(part, tuple):
        for each in part:
            _collect(each, meaning, found)
    elif isinstance(part, Mapping):
        for each in part.values():
            _collect(each, meaning, found)
    elif is_dataclass(part):
        for each in shape(type(part)):
            _collect(getattr(part, each.name), each.meaning, found)

"""Walk over everything that a part of the model holds."""

from collections.abc import Iterator, Mapping
from dataclasses import is_dataclass
from typing import Any

from tankside.loading.values import Text
from tankside.model.fields import shape
from tankside.model.references import Meaning


def texts(part: Any, meaning: Meaning | None = None) -> Iterator[tuple[Text, Meaning | None]]:
    """Return every text inside a part of the model, each with what it means, None for plain words."""
    if isinstance(part, Text):
        yield part, meaning
    elif isinstance(part, tuple):
        for each in part:
            yield from texts(each, meaning)
    elif isinstance(part, Mapping):
        for each in part.values():
            yield from texts(each)
    elif is_dataclass(part):
        for each in shape(type(part)):
            yield from texts(getattr(part, each.name), each.meaning)

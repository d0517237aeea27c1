"""The fields of a dataclass of the model with what their annotations say."""

from dataclasses import MISSING, dataclass, fields
from functools import cache
from typing import Annotated, Any, get_args, get_origin, get_type_hints

from tankside.model.references import BOOKKEEPING, Claims, Meaning, Measures, Refers


@dataclass(frozen=True)
class FieldShape:
    """A field: how it is called here and in the file, what it holds, what its text means."""

    name: str
    #: the key in the file; a trailing underscore keeps a name from being a word of Python
    key: str
    #: the type without what is annotated
    hint: Any
    meaning: Meaning | None
    is_required: bool
    is_bookkeeping: bool


def shape(kind: Any) -> tuple[FieldShape, ...]:
    """Return the fields of a dataclass in their order."""
    return _shapes(kind)


@cache
def _shapes(kind: Any) -> tuple[FieldShape, ...]:
    hints = get_type_hints(kind, include_extras=True)
    return tuple(_shape(each.name, hints[each.name], _is_required(each)) for each in fields(kind))


def _is_required(each: Any) -> bool:
    return each.default is MISSING and each.default_factory is MISSING


def _shape(name: str, hint: Any, is_required: bool) -> FieldShape:
    said: tuple[Any, ...] = ()
    if get_origin(hint) is Annotated:
        hint, *said_list = get_args(hint)
        said = tuple(said_list)
    meaning = next((each for each in said if isinstance(each, (Refers, Measures, Claims))), None)
    return FieldShape(name, name.rstrip("_"), hint, meaning, is_required, BOOKKEEPING in said)

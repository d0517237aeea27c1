"""From text values to the dataclasses of the model, by their own fields; the schema has spoken before."""

import types
from collections.abc import Mapping
from dataclasses import dataclass, is_dataclass
from typing import Any, TypeVar, Union, get_args, get_origin

from tankside.loading.values import Row, Table, Text, Value
from tankside.model.fields import shape
from tankside.model.steps import CLASS_OF_KIND, Item, Step, derived_name

T = TypeVar("T")


class CannotBuildError(Exception):
    """The value lacks what the schema asks for; the schema's problem is the one to show."""


def build(wanted: type[T], value: Value, **given: Any) -> T:
    """Return `value` as an instance of the dataclass `wanted`; `given` are fields that no key of the file holds.

    A part that cannot be built is left out of the list or table it stands in.

    Raises:
        CannotBuildError: a key that `wanted` cannot be without is missing, or `value` is no table.
    """
    if not isinstance(value, Table):
        raise CannotBuildError
    found = dict(given)
    for each in shape(wanted):
        if each.name in given:
            continue
        part = value.at(each.key)
        if part is not None:
            found[each.name] = _as(each.hint, part)
        elif each.is_required:
            raise CannotBuildError
    return wanted(**found)


def _as(hint: Any, value: Value) -> Any:
    origin = get_origin(hint)
    if origin in (Union, types.UnionType):
        return _as(next(option for option in get_args(hint) if option is not type(None)), value)
    if origin is tuple:
        return _tuple(get_args(hint)[0], value)
    if origin is Mapping:
        return _mapping(get_args(hint)[1], value)
    if hint is Text:
        return _text(value)
    if hint is Item:
        return build_item(value)
    assert is_dataclass(hint)
    assert isinstance(hint, type)
    return build(hint, value)


def _text(value: Value) -> Text:
    if not isinstance(value, Text):
        raise CannotBuildError
    return value


def _tuple(hint: Any, value: Value) -> tuple[Any, ...]:
    if not isinstance(value, Row):
        raise CannotBuildError
    return tuple(built.part for built in (_part(hint, each) for each in value) if built is not None)


def _mapping(hint: Any, value: Value) -> dict[Text, Any]:
    if not isinstance(value, Table):
        raise CannotBuildError
    parts = ((key, _part(hint, each)) for key, each in value.items())
    return {key: built.part for key, built in parts if built is not None}


@dataclass(frozen=True)
class _Built:
    part: Any


def _part(hint: Any, value: Value) -> _Built | None:
    try:
        return _Built(_as(hint, value))
    except CannotBuildError:
        return None


def build_item(value: Value) -> Item:
    """Return an entry of a list of steps.

    Raises:
        CannotBuildError: no key says its kind, or one that its kind cannot be without is missing.
    """
    if not isinstance(value, Table):
        raise CannotBuildError
    kind = next((key for key in value if key in CLASS_OF_KIND), None)
    if kind is None:
        raise CannotBuildError
    wanted = CLASS_OF_KIND[kind]
    own = _text(value[kind])
    given: dict[str, Any] = {"span": value.span, "kind": str(kind)}
    if issubclass(wanted, Step):
        given |= _step_fields(value, kind, own)
    return build(wanted, value, **given, **{wanted.OWN: own})


def _step_fields(value: Table, kind: Text, own: Text) -> dict[str, Any]:
    name = value.at("step")
    derived = Text(derived_name(kind, own, str(value.at("for"))), kind.span)
    optional = {key: _text_or_none(value.at(key)) for key in ("second_person", "picture", "picture_says")}
    lists = {key: _texts_or_none(value.at(key)) for key in ("finds", "leaves", "exposes", "works_on")}
    return {"name": _text_or_none(name) or derived, **optional, **lists}


def _texts_or_none(value: Value | None) -> tuple[Text, ...]:
    return tuple(each for each in value if isinstance(each, Text)) if isinstance(value, Row) else ()


def _text_or_none(value: Value | None) -> Text | None:
    return value if isinstance(value, Text) else None

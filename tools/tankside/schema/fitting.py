"""Whether a file fits its schema, said in plain sentences at the place where it does not."""

from collections.abc import Iterator
from typing import Any

from tankside.loading.values import Row, Table, Text, Value
from tankside.problems import Problem, Span, meant
from tankside.schema.shapes import schema, validator

STEP_KINDS: tuple[str, ...] = tuple(
    name for option in schema("procedure")["$defs"]["item"]["anyOf"] for name in option["required"]
)


def misfits(value: Value, shape: str) -> Iterator[Problem]:
    """Return what in `value` does not fit the schema of `shape`."""
    seen_missing: set[tuple[object, ...]] = set()
    for error in validator(shape).iter_errors(_as_json(value)):
        if error.validator in ("required", "dependentRequired"):
            place = (*error.absolute_path, error.validator)
            if place in seen_missing:
                continue
            seen_missing.add(place)
        yield from _problems(error)


def _as_json(value: Value) -> Any:
    """Return the value as the validator's types know it; texts, tables and rows are str, dict and list."""
    return value


def _problems(error: Any) -> Iterator[Problem]:
    say = _SENTENCES.get(str(error.validator))
    if say is None:
        message = f"'{error.instance}' does not fit: {error.message}"
        yield Problem(_span(error.instance), "value-form", message, "compare with a file that works")
        return
    yield from say(error)


def _span(value: Any) -> Span:
    span = getattr(value, "span", None)
    assert isinstance(span, Span), "every value of a book knows its place"
    return span


def _description(error: Any) -> str:
    assert isinstance(error.schema, dict)
    return str(error.schema.get("description", "another form")).rstrip(".")


def _unknown_keys(error: Any) -> Iterator[Problem]:
    assert isinstance(error.instance, Table)
    assert isinstance(error.schema, dict)
    known = tuple(error.schema.get("properties", {}))
    for key in error.instance:
        if key in known:
            continue
        if key in STEP_KINDS and any(kind in known for kind in STEP_KINDS):
            yield from _two_kinds(error.instance, key)
            return
        others = ", ".join(known)
        yield Problem(key.span, "key-unknown", f"key '{key}' is not known here", meant(key, known, f"one of: {others}"))


def _two_kinds(step: Table, second: Text) -> Iterator[Problem]:
    kinds = [key for key in step if key in STEP_KINDS]
    if second == kinds[-1]:
        message = f"this step is both '{kinds[0]}' and '{second}'"
        yield Problem(second.span, "step-kind", message, "make two steps of it; one key says the kind of a step")


def _missing_keys(error: Any) -> Iterator[Problem]:
    assert isinstance(error.instance, Table)
    for key in error.validator_value:
        if key not in error.instance:
            yield Problem(error.instance.span, "key-missing", f"key '{key}' is missing", f"add '{key}: ...'")


def _missing_companions(error: Any) -> Iterator[Problem]:
    assert isinstance(error.instance, Table)
    for key, companions in error.validator_value.items():
        for companion in companions:
            if key in error.instance and companion not in error.instance:
                message = f"'{key}' stands without '{companion}'"
                yield Problem(error.instance.key_span(key), "key-missing", message, f"add '{companion}: ...'")


def _not_allowed(error: Any) -> Iterator[Problem]:
    choices = ", ".join(map(str, error.validator_value))
    message = f"'{error.instance}' is not one of {choices}"
    yield Problem(
        _span(error.instance),
        "value-not-allowed",
        message,
        meant(str(error.instance), error.validator_value, f"write one of {choices}"),
    )


def _wrong_form(error: Any) -> Iterator[Problem]:
    what = "key" if "propertyNames" in error.absolute_schema_path else "value"
    message = f"{what} '{error.instance}' has not the form expected here"
    yield Problem(_span(error.instance), "value-form", message, f"expected: {_description(error)}")


def _wrong_kind(error: Any) -> Iterator[Problem]:
    kinds = {"array": "a list", "object": "a table of keys", "string": "text"}
    wanted = error.validator_value if isinstance(error.validator_value, str) else "string"
    found: dict[Any, str] = {Row: "a list", Table: "a table of keys", Text: f"the text '{error.instance}'"}
    message = f"{found[type(error.instance)]} stands where {kinds[wanted]} is expected"
    yield Problem(_span(error.instance), "value-kind", message, f"expected: {_description(error)}")


def _too_few(error: Any) -> Iterator[Problem]:
    message = f"fewer than {error.validator_value} stand here"
    yield Problem(_span(error.instance), "list-length", message, f"expected: {_description(error)}")


def _too_many(error: Any) -> Iterator[Problem]:
    message = f"more than {error.validator_value} stand here"
    yield Problem(_span(error.instance), "list-length", message, f"expected: {_description(error)}")


def _no_kind(error: Any) -> Iterator[Problem]:
    if not isinstance(error.instance, Table):
        return
    first = next(iter(error.instance), "")
    message = "this step has no key that says its kind"
    hint = meant(first, STEP_KINDS, f"begin it with one of: {', '.join(STEP_KINDS)}")
    yield Problem(error.instance.span, "step-kind", message, hint)


_SENTENCES = {
    "additionalProperties": _unknown_keys,
    "required": _missing_keys,
    "dependentRequired": _missing_companions,
    "enum": _not_allowed,
    "pattern": _wrong_form,
    "type": _wrong_kind,
    "minItems": _too_few,
    "minProperties": _too_few,
    "maxItems": _too_many,
    "maxProperties": _too_many,
    "anyOf": _no_kind,
}

"""Whether a file fits its schema, said in plain sentences at the place where it does not."""

from collections.abc import Iterator
from typing import Any

from tankside.loading.values import Row, Table, Text, Value
from tankside.problems import Problem, Span, meant, quoted
from tankside.schema.shapes import schema, validator

STEP_KINDS: tuple[str, ...] = tuple(schema("procedure")["$defs"]["item"]["dependentSchemas"])
#: unknown keys of one table that are named one by one
MOST_UNKNOWN = 20


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
        message = f"{quoted(error.instance)} does not fit: {error.validator}"
        yield Problem(_span(error.instance), "value-form", message, "compare with a file that works")
        return
    yield from say(error)


def _span(value: Any) -> Span:
    span = getattr(value, "span", None)
    assert isinstance(span, Span), "every value of a book knows its place"
    return span


def _description(error: Any) -> str:
    assert isinstance(error.schema, dict)
    return _as_clause(str(error.schema.get("description", "another form")))


def _as_clause(sentence: str) -> str:
    text = sentence.rstrip(".")
    return text if text[1:2].isupper() else text[:1].lower() + text[1:]


def _unknown_keys(error: Any) -> Iterator[Problem]:
    assert isinstance(error.instance, Table)
    assert isinstance(error.schema, dict)
    known = tuple(error.schema.get("properties", {}))
    kinds = [key for key in error.instance if key in STEP_KINDS]
    own_kind = next(iter(error.schema.get("required", ())), None)
    if own_kind in STEP_KINDS and len(kinds) > 1:
        yield from _two_kinds(kinds, own_kind)
        return
    hint = f"known here: {', '.join(known)}"
    for key in [key for key in error.instance if key not in known][:MOST_UNKNOWN]:
        yield Problem(key.span, "key-unknown", f"key {quoted(key)} is not known here", meant(key, known, hint))


def _two_kinds(kinds: list[Text], own_kind: str) -> Iterator[Problem]:
    # The schema of each of the kinds finds the others unknown; the first one speaks for all.
    if own_kind == kinds[0]:
        message = f"this step is both '{kinds[0]}' and '{kinds[1]}'"
        yield Problem(kinds[1].span, "step-kind", message, "make two steps of it; one key says the kind of a step")


def _missing_keys(error: Any) -> Iterator[Problem]:
    assert isinstance(error.instance, Table)
    for key in error.validator_value:
        if key not in error.instance:
            hint = f"add '{key}: ...'{_purpose(error.schema, key)}"
            yield Problem(error.instance.span, "key-missing", f"key '{key}' is missing", hint)


def _purpose(table: Any, key: str) -> str:
    own = table["properties"].get(key, {})
    text = own.get("$comment", own.get("description"))
    return f": {_as_clause(text)}" if text else ""


def _missing_companions(error: Any) -> Iterator[Problem]:
    assert isinstance(error.instance, Table)
    for key, companions in error.validator_value.items():
        for companion in companions:
            if key in error.instance and companion not in error.instance:
                message = f"'{key}' stands without '{companion}'"
                yield Problem(error.instance.key_span(key), "key-missing", message, f"add '{companion}: ...'")


def _not_allowed(error: Any) -> Iterator[Problem]:
    if not isinstance(error.instance, Text):
        return
    choices = ", ".join(map(str, error.validator_value))
    message = f"{quoted(error.instance)} is not one of {choices}"
    hint = meant(error.instance, error.validator_value, "write one of them")
    yield Problem(error.instance.span, "value-not-allowed", message, hint)


def _wrong_form(error: Any) -> Iterator[Problem]:
    what = "key" if "propertyNames" in error.absolute_schema_path else "value"
    message = f"{what} {quoted(error.instance)} has not the form expected here"
    yield Problem(_span(error.instance), "value-form", message, f"expected: {_description(error)}")


def _wrong_kind(error: Any) -> Iterator[Problem]:
    kinds = {"array": "a list", "object": "a table of keys", "string": "text"}
    wanted = error.validator_value if isinstance(error.validator_value, str) else "string"
    found: dict[Any, str] = {Row: "a list", Table: "a table of keys", Text: f"the text {quoted(error.instance)}"}
    message = f"{found[type(error.instance)]} stands where {kinds[wanted]} is expected"
    yield Problem(_span(error.instance), "value-kind", message, f"expected: {_description(error)}")


def _too_few(error: Any) -> Iterator[Problem]:
    yield _wrong_length(error, "at least")


def _too_many(error: Any) -> Iterator[Problem]:
    yield _wrong_length(error, "at most")


def _wrong_length(error: Any, bound: str) -> Problem:
    count = len(error.instance)
    held = f"this list has {count}" if isinstance(error.instance, Row) else f"this table has {count}"
    thing = ("entry" if count == 1 else "entries") if isinstance(error.instance, Row) else _keys(error.instance)
    message = f"{held} {thing}, {bound} {error.validator_value} must stand here"
    return Problem(_span(error.instance), "list-length", message, f"expected: {_description(error)}")


def _keys(table: Table) -> str:
    names = ", ".join(map(quoted, table))
    return f"{'key' if len(table) == 1 else 'keys'} ({names})"


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
    "not": _no_kind,
}

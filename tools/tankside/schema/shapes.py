"""Which schema a file of a book must fit, and the validators."""

import json
from functools import cache
from importlib.resources import files
from typing import Any

from jsonschema import Draft202012Validator
from jsonschema.protocols import Validator

PLANT_FILES = ("book", "equipment", "materials", "products", "roles", "sheets", "training")
#: what a book need not have
OPTIONAL_FILES = ("sheets", "training")
SHAPES = ("procedure", "checklist", *PLANT_FILES)
#: what a device saves of a working copy, and of what somebody has learnt; they are no files of a book
RECORD, COMPETENCE = "record", "competence"


def file_name(name: str) -> str:
    """Return the name of the file of a schema."""
    return f"{name}.schema.json"


@cache
def schema(shape: str) -> dict[str, Any]:
    """Return the JSON Schema of a shape, or of the shared `common` definitions."""
    text = files("tankside.schema").joinpath(file_name(shape)).read_text(encoding="utf-8")
    loaded: dict[str, Any] = json.loads(text)
    return loaded


@cache
def validator(shape: str) -> Validator:
    """Return the validator of one of SHAPES."""
    own = schema(shape)
    return Draft202012Validator(_inlined(own, own, RECURSIVE))


def inlined(part: Any, own: dict[str, Any]) -> Any:
    """Return a part of the schema `own` with its references written out."""
    return _inlined(part, own, RECURSIVE)


#: definitions that hold themselves, by way of a step that holds steps; only they stay references
RECURSIVE = ("#/$defs/steps", "#/$defs/inner_steps")


def _inlined(part: Any, own: dict[str, Any], kept: tuple[str, ...]) -> Any:
    """Return a part of a schema with its references written out: following them anew for each value is slow."""
    if isinstance(part, list):
        return [_inlined(each, own, kept) for each in part]
    if not isinstance(part, dict):
        return part
    reference = part.get("$ref")
    if isinstance(reference, str) and reference not in kept:
        file, _, path = reference.partition("#/$defs/")
        home = schema(file.removesuffix(".schema.json")) if file else own
        target = _inlined(home["$defs"][path], home, kept)
        assert part.keys() <= {"$ref", "description"}, "what else stands beside a reference would be lost"
        # The shared definition says what form a value has, the place that refers to it what the value is for.
        purpose = {"$comment": part["description"]} if "description" in part else {}
        return target | purpose
    return {key: _inlined(value, own, kept) for key, value in part.items()}

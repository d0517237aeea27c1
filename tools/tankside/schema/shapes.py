"""Which schema a file of a book must fit, and the validators."""

import json
from functools import cache
from importlib.resources import files
from typing import Any

from jsonschema import Draft202012Validator
from jsonschema.protocols import Validator
from referencing import Registry, Resource

PLANT_FILES = ("book", "equipment", "materials", "products", "roles")
SHAPES = ("procedure", "checklist", *PLANT_FILES)


def schema(shape: str) -> dict[str, Any]:
    """Return the JSON Schema of a shape, or of the shared `common` definitions."""
    text = files("tankside.schema").joinpath(f"{shape}.schema.json").read_text(encoding="utf-8")
    loaded: dict[str, Any] = json.loads(text)
    return loaded


@cache
def validator(shape: str) -> Validator:
    """Return the validator of one of SHAPES."""
    common = Resource.from_contents(schema("common"))
    registry: Registry[Any] = Registry().with_resource("common.schema.json", common)
    return Draft202012Validator(schema(shape), registry=registry)

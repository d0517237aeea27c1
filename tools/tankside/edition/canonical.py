"""A value of the model as canonical JSON: one text for one content, whoever writes it."""

import json
from collections.abc import Mapping
from dataclasses import is_dataclass
from fractions import Fraction
from typing import Any

from tankside.model.fields import shape
from tankside.quantities.decimal_text import quantity_text
from tankside.units import Quantity


def canonical_json(value: Any) -> str:
    """Return a value as JSON with sorted keys, no blanks, and exact numbers as text."""
    return json.dumps(_plain(value), sort_keys=True, separators=(",", ":"), ensure_ascii=False)


def _plain(value: Any) -> Any:
    """Return a value as JSON takes it; bookkeeping and what is not given are left out."""
    if isinstance(value, Quantity):
        return {"value": str(value.value), "text": quantity_text(value)}
    if isinstance(value, Fraction):
        return str(value)
    if is_dataclass(value) and not isinstance(value, type):
        pairs = ((each.key, getattr(value, each.name)) for each in shape(type(value)) if not each.is_bookkeeping)
        return {name: _plain(part) for name, part in pairs if part is not None}
    if isinstance(value, Mapping):
        return {str(key): _plain(part) for key, part in value.items()}
    if isinstance(value, (tuple, list)):
        return [_plain(part) for part in value]
    return str(value) if isinstance(value, str) else value

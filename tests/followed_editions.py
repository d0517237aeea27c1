"""The editions that are carried out in tests: those of the demonstration book, and small ones; read as from a file."""

import json
from functools import cache
from pathlib import Path
from typing import Any

from small_copies import small_editions

from tankside.checkup import check_book

ROOT = Path(__file__).parent.parent


@cache
def demo_editions() -> dict[str, Any]:
    """Return what is followed of the demonstration book, by id; a checklist of titles is not."""
    found = [json.loads(each.canonical) for each in check_book(ROOT).editions.values()]
    assert found, "the demonstration book cannot be read"
    return {_id(each): each for each in found if each["written"].get("lists") != "titles"}


@cache
def followed_editions() -> dict[str, Any]:
    """Return all of them, by id."""
    return {**small_editions(), **{f"demo {name}": each for name, each in demo_editions().items()}}


def _id(edition: Any) -> str:
    written = edition["written"]
    return str(written.get("procedure") or written["checklist"])

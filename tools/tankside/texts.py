"""Every word of our own interface, in one table for pages, sheets and script."""

import json
from collections.abc import Mapping
from functools import cache
from importlib.resources import files


class Words:
    """The words of one language."""

    def __init__(self, table: Mapping[str, str]) -> None:
        """Speak from `table`."""
        self.table = table

    def __call__(self, key: str, **filled: str) -> str:
        """Return the words under `key` with the named gaps filled."""
        return self.table[key].format(**filled)


@cache
def words(language: str) -> Words:
    """Return the words of a language; KeyError when there is none."""
    return Words(json.loads(files("tankside").joinpath("texts.json").read_text(encoding="utf-8"))[language])

"""The parts of a helper's docstring: summary, formula, then named sections."""

import inspect
import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

SECTIONS: Final = ("Args", "Returns", "Raises", "Limits", "Source", "Example")
_HEADING: Final = re.compile(rf"^({'|'.join(SECTIONS)}):\n", re.MULTILINE)


@dataclass(frozen=True)
class Documentation:
    """What a person reads about a helper."""

    summary: str
    formula: str
    #: text of each section by its heading
    sections: Mapping[str, str]


def documentation(docstring: str) -> Documentation:
    """Return the parts of ``docstring``; a section that is missing is a mistake of the helper's author."""
    opening, *rest = _HEADING.split(inspect.cleandoc(docstring))
    summary, _, formula = opening.partition("\n\n")
    sections = {heading: inspect.cleandoc(text) for heading, text in zip(rest[::2], rest[1::2], strict=True)}
    if missing := [heading for heading in SECTIONS if not sections.get(heading)]:
        raise ValueError(f"docstring of a helper lacks {', '.join(missing)}: {summary}")
    return Documentation(summary, formula.strip().replace("``", ""), MappingProxyType(sections))

"""Characters that our type has no drawing for would stand as boxes on a page or sheet."""

from collections.abc import Iterator
from functools import cache

from fontpkg_atkinson_hyperlegible import ROOT as FONT
from fontTools.ttLib import TTFont

from tankside.catalogue.walking import texts
from tankside.problems import Problem

#: what authors reach for, and what says the same in words
INSTEAD = {"→": "to", "←": "from", "✓": "done", "✔": "done", "☐": "a step of its own", "₂": "2"}


@cache
def drawn() -> frozenset[int]:
    """Return the code points that the type can show."""
    with TTFont(FONT / "files" / "AtkinsonHyperlegible-Regular.ttf", lazy=True) as font:
        return frozenset(font.getBestCmap())


def undrawn(part: object) -> Iterator[Problem]:
    """Return a problem for each text with a character that cannot be shown."""
    for text, _ in texts(part):
        for character in dict.fromkeys(text):
            if ord(character) not in drawn() and not character.isspace():
                message = f"the type has no drawing for '{character}' (U+{ord(character):04X})"
                instead = INSTEAD.get(character)
                hint = f"write '{instead}' in its place" if instead else "say it in words"
                yield Problem(text.span, "character-not-drawn", message, hint)

"""Words by which somebody goes into a tank, or is told not to."""

import re
from collections.abc import Iterable

from tankside.audit.reading.wording import sentences

#: what is entered; tags of tanks are added. A tank room, list or level is none
_SPACES = ("tank", "vessel", "hatch", "manhole")
_NO_SPACE = r"(?![\w-]| (?:room|area|list|level|label|number|name|card|sheet|side|lot|volume)\b)"
#: words between a verb and the tank; one that tells a place, such as beside, leads to something else
_BETWEEN = (
    r"(?: (?!at\b|beside\b|by\b|under\b|near\b|of\b|from\b|on\b|behind\b|above\b|below\b|for\b|with\b)[\w-]+){0,3}?"
)
_WAY = r"(?: (?:down|right|over|deep|back|head first|feet first))?"
_INTO = r"(?:into|inside|in|through)"
#: any part of the body behind the opening is entry (29 CFR 1910.146(b))
_GOING = (
    rf"(?:climb|crawl|squeeze|jump|reach|lean|bend|stretch|crouch)(?:s|es|ing)?{_WAY} {_INTO}",
    rf"(?:go|step|get)(?:es|s|ting|ing)?{_WAY} (?:into|inside)",
    rf"(?:put|stick|hold|lower|push)(?:s|ting|ing)? (?:(?:your|an|one|both|the|a) )?"
    rf"(?:head|face|arms?|hands?|legs?|foot|feet|shoulders?|body|yourself){_WAY} {_INTO}",
)
_FORBIDDING = re.compile(r"\b(?:nobody|no one|no-one|no|not|never|neither|nor|cannot)\b|n't\b", re.IGNORECASE)
#: a condition that a sentence begins with; what it denies is not the entry
_CONDITION = re.compile(r"^(?:if|when|while|as|before|after|once|where)\b[^,]*, ", re.IGNORECASE)
_OUTSIDE = re.compile(r"\boutside\b", re.IGNORECASE)
_FORBIDDEN = re.compile(
    r"\b(?:nobody|no one|no-one|never|not|no (?:head|face|hand|arm|body|person|part of (?:a|the) (?:body|person)))\b"
    r"[^.]*"
    r"\b(?:enters?|entered|climbs?|crawls?|reach(?:es)?|leans?|(?:go(?:es)?|gets?|comes?) (?:ever )?in(?:to|side)?)\b"
    r"|\b(?:heads?|arms?|hands?)\b[^.]*\b(?:stays?|keep|kept|keeps)\b[^.]*\bout(?:side)?\b",
    re.IGNORECASE,
)


class Spaces:
    """The tanks of a book, as sentences name them."""

    def __init__(self, tags: Iterable[str]) -> None:
        """Take the tags of the tanks."""
        space = rf"(?:{'|'.join((*_SPACES, *map(re.escape, tags)))}){_NO_SPACE}"
        going = "|".join(_GOING)
        #: a verb and the tank itself
        self._into = re.compile(rf"\b(?:{going}|enter(?:s|ing)?(?: into)?){_BETWEEN} {space}", re.IGNORECASE)
        #: a verb alone, where the tank stands elsewhere in the sentence
        self._in = re.compile(rf"\b(?:{going}|enters? it)(?: it)?(?=[.,;:!?]|$| and\b| to\b| with\b)", re.IGNORECASE)
        self._space = re.compile(rf"\b{space}", re.IGNORECASE)

    def let_in(self, text: str) -> str | None:
        """Return the sentence of a text that lets somebody, or a part of a person, in; None when there is none."""
        return next((each for each in sentences(text) if self._lets_in(_CONDITION.sub("", each, count=1))), None)

    def _lets_in(self, sentence: str) -> bool:
        found = self._into.search(sentence)
        if found is None and self._space.search(sentence):
            found = self._in.search(sentence)
        return found is not None and not _FORBIDDING.search(sentence[: found.start()]) and not _OUTSIDE.search(sentence)


def forbids(text: str) -> bool:
    """Return whether a text says that nobody goes in, or that heads, arms and hands stay out."""
    return any(_FORBIDDEN.search(each) for each in sentences(text))

"""What a piece is made of, read out of its `made_of`.

Only words before a negation count: what stands after `no`, `not`, `never`, `none`, `without` or `free of` in the same
sentence is taken as not there, and so is the first half of `nickel-free`. What an alloy consists of is counted with it.
"""

import re
from collections.abc import Mapping

_SENTENCE = re.compile(r"[.;](?:\s|$)")
_NEGATION = re.compile(r"\b(?:no|not|never|none|without|free of)\b", re.IGNORECASE)
_FREE = re.compile(r"\b[\w-]+-free\b", re.IGNORECASE)
_WORD = re.compile(r"[a-z]+")
#: other spellings
_SAME: Mapping[str, str] = {"aluminum": "aluminium", "galvanized": "galvanised"}
#: what alloys and coatings bring with them; common knowledge
_CONTAINS: Mapping[str, tuple[str, ...]] = {
    "brass": ("copper", "zinc"),
    "bronze": ("copper", "tin"),
    "galvanised": ("zinc", "steel", "iron"),
    "gunmetal": ("copper", "tin", "zinc"),
    "monel": ("nickel", "copper"),
    "solder": ("tin",),
    "stainless": ("steel", "iron", "nickel"),
    "steel": ("iron",),
    "tinned": ("tin",),
    "zamak": ("zinc", "aluminium"),
}
#: what may hide behind the word `metal`
_METALS = ("aluminium", "cobalt", "copper", "iron", "lead", "magnesium", "nickel", "steel", "tin", "zinc")


def substances_in(made_of: str) -> frozenset[str]:
    """Return the words that a text names as being there, with what they bring with them."""
    found: set[str] = set()
    for sentence in _SENTENCE.split(made_of):
        here = _NEGATION.split(_FREE.sub(" ", sentence), maxsplit=1)[0]
        found.update(_SAME.get(word, word) for word in _WORD.findall(here.lower()))
    found.update(*(_CONTAINS.get(word, ()) for word in tuple(found)))
    if found & {"metal", "metals"}:
        found.update(_METALS)
    return frozenset(found)


def attacked_in(made_of: str, attacks: str) -> bool:
    """Return whether a text names what a material attacks, said in one word."""
    word = attacks.lower()
    return _SAME.get(word, word) in substances_in(made_of)

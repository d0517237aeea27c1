"""What somebody is taught of a procedure: its parts, each with its words and two digests to compare it by.

The page that keeps an entry keeps this with it, so what has changed since can be said years later, by a program that
knows no older schema, and by a page that compares digests alone (``training-standing.js``).
"""

from dataclasses import dataclass
from functools import cached_property
from hashlib import sha256

from tankside.edition.canonical import canonical_json
from tankside.quantities.portable import Portable

LAYOUT = "tankside-taught-1"
#: digits of a digest
DIGITS = 16


@dataclass(frozen=True)
class Element:
    """A part of a procedure that is taught."""

    #: sort and name: `step:open-v2`; unique in the procedure
    key: str
    #: whether somebody has to be seen at it again when it changes; else they are shown what changed
    is_critical: bool
    #: in plain words, as the page shows it
    says: str
    #: digest of all that is no wording: kind, tags, materials, claims, limits, formula
    facts: str
    #: digest of the wording, without its spelling
    words: str


@dataclass(frozen=True)
class Taught:
    """A procedure as it is taught."""

    procedure: str
    title: str
    revision: int
    #: hash of the edition
    content: str
    #: since this revision nothing changed but wording, as its authors say
    same_since: int
    #: in reading order
    elements: tuple[Element, ...]

    @cached_property
    def portable(self) -> Portable:
        """It as a JSON object."""
        return {
            "layout": LAYOUT,
            "procedure": self.procedure,
            "title": self.title,
            "revision": self.revision,
            "content": self.content,
            "same_since": self.same_since,
            "elements": [
                {"key": each.key, "critical": each.is_critical, "says": each.says}
                | {"facts": each.facts, "words": each.words}
                for each in self.elements
            ],
        }

    @cached_property
    def hash(self) -> str:
        """SHA-256 of its canonical JSON, as hexadecimal text."""
        return sha256(canonical_json(self.portable).encode("utf-8")).hexdigest()


def digest(value: object) -> str:
    """Return the digest of something as canonical JSON."""
    return sha256(canonical_json(value).encode("utf-8")).hexdigest()[:DIGITS]


def taught_from(value: Portable) -> Taught:
    """Return what a file holds; its shape is that of the schema."""
    elements = tuple(
        Element(each["key"], each["critical"], each["says"], each["facts"], each["words"]) for each in value["elements"]
    )
    about = (value["procedure"], value["title"], value["revision"], value["content"], value["same_since"])
    return Taught(*about, elements)

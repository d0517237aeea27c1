"""Words that must not reach the floor: which they are, and whether one of them stands in a text or a file."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from html import unescape
from unicodedata import normalize
from urllib.parse import unquote

from tankside.loading.values import Text
from tankside.memory import remembered
from tankside.model.facts import Plant

#: what may stand between the parts of a word instead of what the book has there
BETWEEN = r"[\s_\-\u2010-\u2015]+"
#: a word of fewer letters and digits stands inside others by chance, so it is looked for as a word of its own
LONG = 6
#: neither a letter nor a digit stands before, or after
BEFORE, AFTER = r"(?<![^\W_])", r"(?![^\W_])"
_INVISIBLE = re.compile("[\u00ad\u200b-\u200d\u2060\ufeff]")
_ESCAPED = re.compile(r"\\u([0-9a-fA-F]{4})")
_MARKUP = re.compile(r"<[^<>]*>")


@dataclass(frozen=True)
class Secret:
    """A word that must not reach the floor."""

    #: as the book writes it
    word: str
    #: what the floor calls it
    code: str

    @property
    def own_id(self) -> str:
        """The code as an id."""
        return id_of(self.code)

    @property
    def is_long(self) -> bool:
        """Whether it cannot stand inside another word by chance."""
        return sum(map(str.isalnum, self.word)) >= LONG

    @property
    def pattern(self) -> str:
        """A pattern for it, however its parts are joined."""
        return BETWEEN.join(re.escape(part) for part in re.split(BETWEEN, self.word.strip()) if part)


Secrets = tuple[Secret, ...]


def id_of(code: str) -> str:
    """Return a code as an id."""
    return code.lower().replace(" ", "-")


def secrets_of(plant: Plant) -> Secrets:
    """Return the secret words of all confidential materials, the longest first."""
    found = {
        str(word): Secret(str(word), str(material.confidential.code))
        for name, material in plant.materials.materials.items()
        if material.confidential is not None
        for word in (name, material.name, *material.confidential.also_called)
    }
    return tuple(sorted(found.values(), key=lambda each: (-len(each.word), each.word)))


def words_of(plant: Plant) -> Iterator[Text]:
    """Return each secret word as it stands in the book."""
    for name, material in plant.materials.materials.items():
        if material.confidential is not None:
            yield from (name, material.name, *material.confidential.also_called)


def secrets_in(text: str, secrets: Secrets) -> tuple[str, ...]:
    """Return the secret words that stand in a text, written or escaped in whatever way and across its markup."""
    forms = tuple(_forms(text)) if secrets else ()
    return tuple(secret.word for secret in secrets if any(_found(secret).search(form) for form in forms))


@remembered
def secrets_in_file(data: bytes, secrets: Secrets) -> tuple[str, ...]:
    """Return the secret words in the bytes of a file; in one that is no text, only those that are long enough."""
    try:
        return secrets_in(data.decode("utf-8"), secrets)
    except UnicodeDecodeError:
        # Text inside may have two bytes a character.
        forms = (data.decode("latin-1").casefold(), data.replace(b"\0", b"").decode("latin-1").casefold())
    return tuple(each.word for each in secrets if each.is_long and any(_found(each).search(form) for form in forms))


def _forms(text: str) -> Iterator[str]:
    yield _folded(text)
    decoded = unquote(unescape(_ESCAPED.sub(lambda match: chr(int(match[1], 16)), text)))
    if decoded != text:
        yield _folded(decoded)
    if "<" in decoded:
        yield _folded(_MARKUP.sub("", decoded))


def _folded(text: str) -> str:
    return normalize("NFKC", _INVISIBLE.sub("", text)).casefold()


@cache
def _found(secret: Secret) -> re.Pattern[str]:
    pattern = Secret(_folded(secret.word), "").pattern
    return re.compile(pattern if secret.is_long else f"{BEFORE}{pattern}{AFTER}")


def replacing(secrets: Sequence[Secret]) -> re.Pattern[str]:
    """Return a pattern whose group number n is the secret word number n, each as a word of its own in any case."""
    return re.compile("|".join(f"{BEFORE}({each.pattern}){AFTER}" for each in secrets), re.IGNORECASE)

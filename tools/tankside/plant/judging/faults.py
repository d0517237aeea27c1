"""A fault: what a rehearsal found at a step, before its place and the way there are known."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from tankside.quantities.decimal_text import short_text

#: significant digits of a volume in a sentence
DIGITS = 4


@dataclass(frozen=True)
class Fault:
    """What is wrong; lower case, no full stop."""

    code: str
    message: str
    #: what to do, as an imperative
    hint: str


def listed(names: Iterable[str]) -> str:
    """Return names as a list in a sentence."""
    found = list(dict.fromkeys(names))
    return found[0] if len(found) == 1 else f"{', '.join(found[:-1])} and {found[-1]}" if found else "nothing"


def in_short(text: str) -> str:
    """Return the first sentence of a text as the end of another one."""
    first = text.split(". ")[0].rstrip(".")
    return first[:1].lower() + first[1:]


def volume(litres: Fraction) -> str:
    """Return a volume as a sentence shows it."""
    text, is_exact = short_text(litres, DIGITS)
    return f"{text} L" if is_exact else f"about {text} L"

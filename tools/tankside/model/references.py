"""What a text of the model means, said in the annotation of its field: a name, or a number with a unit."""

from dataclasses import dataclass
from typing import Final, Literal

Sign = Literal["any", "above 0", "at least 0"]


@dataclass(frozen=True)
class Refers:
    """The text is the name of something defined elsewhere."""

    #: what is named: role, tag, material, product, wearable, condition, group, procedure, place, step, limit ...
    to: str
    #: for a tag: the kinds of equipment that will do here; empty when any will
    kinds: tuple[str, ...] = ()


@dataclass(frozen=True)
class Measures:
    """The text is a number with its unit."""

    #: the kinds of unit that will do here; empty when any will
    kinds: tuple[str, ...] = ()
    #: what the number must be; a temperature or a limit may be anything
    sign: Sign = "any"


@dataclass(frozen=True)
class Claims:
    """The text is a claim about the plant: `V1 and V2 shut`."""


Meaning = Refers | Measures | Claims
CLAIMS: Final = Claims()
#: marks a field that no reader of a procedure gets and no hash counts
BOOKKEEPING: Final = "bookkeeping"


def refers(to: str, *kinds: str) -> Refers:
    """Return the meaning of a text that is such a name."""
    return Refers(to, kinds)


def measures(*kinds: str, sign: Sign = "any") -> Measures:
    """Return the meaning of a text that is a quantity of one of these kinds."""
    return Measures(kinds, sign)

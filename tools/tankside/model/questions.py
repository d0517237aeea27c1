"""Questions that an author writes for whoever is trained in a procedure."""

from dataclasses import dataclass
from typing import Final

from tankside.loading.values import Text

#: what a question is about that belongs to no step
STOP_SAFELY: Final = "stop-safely"


@dataclass(frozen=True)
class WrongAnswer:
    """An answer that is wrong, and why."""

    says: Text
    because: Text


@dataclass(frozen=True)
class WrittenQuestion:
    """A question with its right answer, why that is right, and the wrong ones."""

    ask: Text
    #: the name of a step, or `STOP_SAFELY`
    about: Text
    right: Text
    because: Text
    wrong: tuple[WrongAnswer, ...]

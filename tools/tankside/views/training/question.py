"""A question to a trainee, with answers to choose from."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Choice:
    """An answer that can be chosen."""

    says: str
    #: one sentence: why it is right, or why it is wrong
    why: str
    is_right: bool


@dataclass(frozen=True)
class Question:
    """A question of which exactly one answer is right."""

    #: unique in the procedure, and the same in the next build: "open-v2.next"
    id: str
    #: "tags", "order", "cautions", "ready", "worn", "stopping", "holds", "measured", "amounts", "emergency", "written"
    kind: str
    asks: str
    #: two to four, no two alike
    choices: tuple[Choice, ...]
    #: the name of the step that it is about, or "stop-safely"
    about: str
    #: in words, where that stands; it may give the answer away, so it is shown with the reasons
    place: str

    @property
    def right(self) -> Choice:
        """The right answer."""
        return next(each for each in self.choices if each.is_right)

"""How people are trained: paths of a role, what a visitor is told, and after what a competence lapses."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Final

from tankside.loading.values import Text
from tankside.model.references import measures, refers

READ: Final = "read"
SHOWN: Final = "shown"
SUPERVISED: Final = "supervised"
ALONE: Final = "alone"
#: how far somebody comes with a procedure, the least first
METHODS: Final = (READ, SHOWN, SUPERVISED, ALONE)
#: the key that holds for every procedure that has none of its own
USUAL: Final = "usual"


@dataclass(frozen=True)
class Lapse:
    """After what time a competence lapses."""

    #: since somebody was seen
    after: Annotated[Text, measures("time", sign="above 0")]
    #: since it was last done: a working copy or a drill
    unused_for: Annotated[Text, measures("time", sign="above 0")]
    #: why these times
    because: Text


@dataclass(frozen=True)
class PathItem:
    """Something to learn: exactly one of `learn`, `find`, `pairs`, `tell` is given."""

    #: a procedure, and how far one comes with it: read, shown, supervised or alone
    learn: Annotated[Text | None, refers("procedure")] = None
    to: Text | None = None
    #: of a lockout: "affected" when it is learnt by people who only have to leave the locks alone
    as_: Text | None = None
    #: what one must be competent in before
    after: Annotated[tuple[Text, ...], refers("procedure")] = ()
    #: tags to be found in the room
    find: Annotated[tuple[Text, ...], refers("tag")] = ()
    #: "all" pairs of materials that must never meet
    pairs: Text | None = None
    #: what somebody tells the trainee
    tell: Text | None = None
    #: the duties of the law that this is meant for
    covers: tuple[Text, ...] = ()

    @property
    def kind(self) -> str:
        """The key that says what it is; "" when none does."""
        given = {"learn": self.learn, "find": self.find, "pairs": self.pairs, "tell": self.tell}
        return next((name for name, value in given.items() if value), "")


@dataclass(frozen=True)
class PathPart:
    """What is learnt together on a day."""

    title: Text
    #: the first day is 1
    day: Text
    items: tuple[PathItem, ...]
    #: "no" while nothing may be touched yet
    touching: Text | None = None


@dataclass(frozen=True)
class Path:
    """What somebody learns for a role, in order."""

    title: Text
    parts: tuple[PathPart, ...]
    role: Annotated[Text, refers("role")]
    #: the path that was walked before
    builds_on: Annotated[Text | None, refers("path")] = None

    @property
    def items(self) -> tuple[PathItem, ...]:
        """All its items in order."""
        return tuple(item for part in self.parts for item in part.items)


@dataclass(frozen=True)
class Visitor:
    """What a visitor is told, on half a page."""

    says: tuple[Text, ...]
    wear: Annotated[tuple[Text, ...], refers("wearable")] = ()


@dataclass(frozen=True)
class Training:
    """procedures/plant/training.yaml."""

    #: `usual`, a family, or a procedure -> when it lapses
    lapses: Mapping[Text, Lapse] = field(default_factory=dict)
    paths: Mapping[Text, Path] = field(default_factory=dict)
    visitor: Visitor | None = None

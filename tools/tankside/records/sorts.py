"""Sorts of files that a device saves: how each is read, and spoken of."""

from dataclasses import dataclass

#: what may be wrong with a file of any sort, or with its chain
_WRONG = (
    *("unreadable", "too-big", "not-utf-8", "cut-off", "not-json", "too-deep", "key-twice", "number"),
    *("foreign", "newer", "older", "key-unknown", "key-missing", "value"),
    *("event-changed", "event-number", "event-order", "event-twice", "event-unlinked", "event-beside"),
    *("events-missing", "contradicts", "shorter", "same"),
)


@dataclass(frozen=True)
class Sort:
    """A sort of file: one chain of events with what is around it, or several such in one file."""

    #: names its schema, its layouts, and begins its codes
    name: str
    #: one of it, in words
    noun: str
    #: what a chain of events is about, in words; one, and several
    thing: str
    things: str
    #: the key of an event that names the chain, and what is said of an event of another one
    chain: str
    foreign: str
    #: the key of an event that names what all are about, and what is said of an event about another
    about: str
    astray: str
    #: whether the first event is chained to what all are about
    is_rooted: bool

    @property
    def layout(self) -> str:
        """Names the layout of a file with one."""
        return f"tankside-{self.name}-1"

    @property
    def layout_of_many(self) -> str:
        """Names the layout of a file with several."""
        return f"tankside-{self.list_key}-1"

    @property
    def list_key(self) -> str:
        """The key under which several stand; also the definition of such a file in the schema."""
        return f"{self.name}s"

    @property
    def save_again(self) -> str:
        """What is to be done with a file that came to harm."""
        return f"save the {self.noun} from the device again"

    @property
    def codes(self) -> tuple[str, ...]:
        """The codes of what is found in files of every sort."""
        return tuple(f"{self.name}-{each}" for each in (*_WRONG, f"other-{self.chain}", f"other-{self.about}"))

    def code(self, what: str) -> str:
        """Return one of its codes."""
        code = f"{self.name}-{what}"
        assert code in self.codes, code
        return code


RECORD = Sort(
    name="record",
    noun="record",
    thing="working copy",
    things="working copies",
    chain="copy",
    foreign="belongs to another working copy, {value}",
    about="edition",
    astray="follows another edition, {value:.8}",
    is_rooted=True,
)
COMPETENCE = Sort(
    name="competence",
    noun="competence record",
    thing="competence record",
    things="people",
    chain="competence",
    foreign="belongs to another competence record, {value}",
    about="person",
    astray="is about another person, '{value}'",
    is_rooted=False,
)

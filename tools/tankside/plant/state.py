"""The state of the plant and of the person: what is known of each piece at one moment."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields, replace
from functools import cached_property
from typing import Any

from tankside.plant.volumes import Contents

#: of a piece about which nothing has been said
UNKNOWN = "unknown"


@dataclass(frozen=True)
class Piece:
    """What is known of one piece; fields that mean nothing for its kind keep their value for ever."""

    is_open: bool = False
    is_running: bool = False
    is_locked: bool = False
    is_in_order: bool = True
    is_under_pressure: bool = False
    #: air has been shown to move at the hood
    is_proved: bool = False
    #: what its loose end is joined to
    joined_to: str | None = None
    #: None where nothing stands in it
    contents: Contents | None = None
    #: what has touched its walls and has not been seen to be gone
    traces: frozenset[str] = frozenset()
    #: unknown, dirty, rinsed or clean
    wash: str = UNKNOWN
    #: unknown, unlabelled, in process, released or on hold
    label: str = UNKNOWN
    #: names of sources of energy
    dissipated: frozenset[str] = frozenset()
    verified: frozenset[str] = frozenset()

    def __hash__(self) -> int:
        """Return the same number for equal pieces; a piece is in many states, so it is worked out once."""
        return self._hash

    @cached_property
    def _hash(self) -> int:
        return hash((self.outline, self.contents, self.traces))

    @property
    def present(self) -> frozenset[str]:
        """What may be in it, or on its walls."""
        return self.traces if self.contents is None else self.traces.union(self.contents.materials)

    @cached_property
    def outline(self) -> tuple[object, ...]:
        """All of it but what stands in it and on its walls."""
        return tuple(getattr(self, name) for name in _OUTLINE)


_OUTLINE = tuple(each.name for each in fields(Piece) if each.name not in ("contents", "traces"))


class State:
    """All pieces and what the person wears; equal when all of it is equal, and never changed."""

    __slots__ = ("_hash", "pieces", "worn")

    def __init__(self, pieces: Mapping[str, Piece], worn: frozenset[str] = frozenset()) -> None:
        """Hold the pieces by tag; `worn` are ids of protective equipment."""
        self.pieces = pieces
        self.worn = worn
        self._hash: int | None = None

    def __getitem__(self, tag: str) -> Piece:
        """Return what is known of a piece."""
        return self.pieces[tag]

    def with_piece(self, tag: str, **changes: Any) -> "State":
        """Return the state with something else known of one piece."""
        before = self.pieces[tag]
        if all(getattr(before, name) == value for name, value in changes.items()):
            return self
        return State({**self.pieces, tag: replace(before, **changes)}, self.worn)

    def with_worn(self, worn: Iterable[str]) -> "State":
        """Return the state with other things worn."""
        return State(self.pieces, frozenset(worn))

    def __eq__(self, other: object) -> bool:
        """Return whether all that is known is the same."""
        if not isinstance(other, State):
            return NotImplemented
        return self is other or (self.worn == other.worn and self.pieces == other.pieces)

    def __hash__(self) -> int:
        """Return the same number for equal states."""
        if self._hash is None:
            self._hash = hash((self.worn, tuple(self.pieces.values())))
        return self._hash

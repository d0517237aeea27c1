"""Where in a JSON text each value stands: looked for only when something has to be said of it."""

import json
import re
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from tankside.problems import Span

#: keys, and places in lists, that lead to a value
Path = tuple[str | int, ...]
#: skips a value; numbers are not looked at
_SKIPPING = json.JSONDecoder(parse_int=str, parse_float=str, parse_constant=str)
_BLANKS = re.compile(r"[ \t\n\r]*")


@dataclass(frozen=True)
class Member:
    """A member of an object or list."""

    #: its key, or its place in the list
    name: str | int
    #: offset of its key; in a list that of the value
    key_at: int
    #: offset of its value
    at: int


class Places:
    """The places in a text that is known to be JSON."""

    def __init__(self, path: str, text: str) -> None:
        """Keep the text of the file `path`."""
        self.path, self.text = path, text
        self._members: dict[Path, dict[str | int, Member]] = {}

    def span(self, path: Path) -> Span:
        """Return where a value stands, or what would hold it when it is not there."""
        member = self._member(path)
        return self.span_at(self.start if member is None else member.at)

    def key_span(self, path: Path) -> Span:
        """Return where the key of a value stands, or what would hold it when it is not there."""
        member = self._member(path)
        return self.span_at(self.start if member is None else member.key_at)

    def span_at(self, offset: int) -> Span:
        """Return the place of a character."""
        line = bisect_right(self._lines, offset)
        return Span(self.path, line, offset - self._lines[line - 1] + 1)

    @cached_property
    def start(self) -> int:
        """The offset of the outermost value."""
        return self._after_blanks(0)

    def members(self, at: int) -> Iterator[Member]:
        """Return the members of the object or list at an offset, none of any other value."""
        opening = self.text[at]
        if opening not in "{[":
            return
        at, count = self._after_blanks(at + 1), 0
        while self.text[at] not in "}]":
            member, end = self._next(at, count, is_object=opening == "{")
            yield member
            at, count = self._after_blanks(end), count + 1
            if self.text[at] == ",":
                at = self._after_blanks(at + 1)

    def _next(self, key_at: int, count: int, *, is_object: bool) -> tuple[Member, int]:
        """Return a member and where it ends."""
        name: str | int = count
        at = key_at
        if is_object:
            name, end = _SKIPPING.raw_decode(self.text, key_at)
            at = self._after_blanks(self._after_blanks(end) + len(":"))
        return Member(name, key_at, at), _SKIPPING.raw_decode(self.text, at)[1]

    def _member(self, path: Path) -> Member | None:
        """Return a member, or the innermost one on the way that is there; None for the outermost value."""
        found: Member | None = None
        for depth, name in enumerate(path):
            known = self._members.get(path[:depth])
            if known is None:
                at = self.start if found is None else found.at
                known = self._members[path[:depth]] = {each.name: each for each in self.members(at)}
            if name not in known:
                return found
            found = known[name]
        return found

    def _after_blanks(self, at: int) -> int:
        found = _BLANKS.match(self.text, at)
        return at if found is None else found.end()

    @cached_property
    def _lines(self) -> list[int]:
        """The offset at which each line begins."""
        return [0, *(found.end() for found in re.finditer("\n", self.text))]

"""What pure functions returned, kept from one build to the next while a book is being written.

A function is marked with `remembered`. Outside `Memory.in_use` the mark does nothing. Two arguments are the same when
they are one object, or equal text, bytes or numbers: an object that came out of a remembered function is one object
for as long as nothing it was made of has changed.
"""

from collections.abc import Callable, Hashable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import wraps
from typing import Any, ParamSpec, TypeVar, cast

P = ParamSpec("P")
R = TypeVar("R")
T = TypeVar("T")

_in_use: ContextVar["Memory | None"] = ContextVar("memory", default=None)
_MOST_SEEN = 4
#: exactly these types are compared by value; a text that knows its place is not one of them
_BY_VALUE = (str, bytes, int, bool, type(None))


class _Same:
    """An object as a key: equal to itself only, and kept alive by it."""

    __slots__ = ("thing",)

    def __init__(self, thing: object) -> None:
        self.thing = thing

    def __hash__(self) -> int:
        return id(self.thing)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and self.thing is other.thing


def _key(argument: object) -> Hashable:
    if type(argument) in _BY_VALUE:
        return argument
    return tuple(map(_key, argument)) if type(argument) is tuple else _Same(argument)


class Memory:
    """What was worked out, by function and arguments."""

    def __init__(self) -> None:
        """Begin with nothing."""
        self._kept: dict[Hashable, Any] = {}
        #: what was asked for since the last `forget_unasked`
        self._asked: dict[Hashable, Any] = {}

    @contextmanager
    def in_use(self) -> Iterator[None]:
        """Remember what is worked out inside."""
        before = _in_use.set(self)
        try:
            yield
        finally:
            _in_use.reset(before)

    def recall(self, key: Hashable, make: Callable[[], R]) -> R:
        """Return what is kept under a key, made when there is nothing; what it raises is not kept."""
        for store in (self._asked, self._kept):
            if key in store:
                self._asked[key] = store[key]
                return cast(R, store[key])
        made = self._asked[key] = make()
        return made

    def forget_unasked(self) -> None:
        """Forget what nobody has asked for since the last call."""
        self._kept, self._asked = self._asked, {}

    def forget_all(self) -> None:
        """Forget everything."""
        self._kept, self._asked = {}, {}


def remembered(function: Callable[P, R]) -> Callable[P, R]:
    """Mark a function that depends on its arguments alone and whose results nobody changes."""

    @wraps(function)
    def recalled(*args: P.args, **kwargs: P.kwargs) -> R:
        memory = _in_use.get()
        if memory is None:
            return function(*args, **kwargs)
        key = (function, _key(args), _key(tuple(sorted(kwargs.items()))))
        return memory.recall(key, lambda: function(*args, **kwargs))

    return recalled


def same_if_equal(name: str, value: T) -> T:
    """Return an object that stood under `name` before and is equal to `value`, so that it counts as the same."""
    seen = store("same_if_equal", name).setdefault("seen", [])
    found = next((each for each in seen if each == value), value)
    # The book as it is and as it was committed take turns here.
    seen[:] = [found, *(each for each in seen if each is not found)][:_MOST_SEEN]
    return cast(T, found)


def store(*name: Hashable) -> dict[Any, Any]:
    """Return a table that is kept under a name; an empty one where nothing is remembered."""
    memory = _in_use.get()
    return {} if memory is None else memory.recall(("store", name), dict)

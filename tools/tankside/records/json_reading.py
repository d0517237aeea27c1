"""JSON read strictly: what two readers may take for two things is refused."""

import json
import re
from collections.abc import Iterator
from typing import Any, NoReturn

from tankside.problems import quoted
from tankside.quantities.portable import Portable
from tankside.records.json_places import Member, Places
from tankside.records.sorts import Sort

#: a record of the demonstration book comes to 17; what goes much deeper would come to the end of Python's stack
DEEPEST = 60
#: digits of a whole number that every reader takes for the same: 2**53, where a browser begins to round, has 16
MOST_DIGITS = 15
_NUMBER = re.compile(r"-?[0-9][0-9.eE+-]*")
#: what some readers take for numbers
_NO_JSON = ("NaN", "Infinity", "-Infinity")


class NotSureError(Exception):
    """A text that is no JSON, or of which two readers may make two things."""

    def __init__(self, what: str, message: str, hint: str, at: int) -> None:
        """Keep what a problem is made of; `what` ends its code, `at` counts characters of the text from 0."""
        super().__init__(message)
        self.what, self.message, self.hint, self.at = what, message, hint, at


def read_json(places: Places, sort: Sort) -> Portable:
    """Return what a JSON text of a sort of file says.

    Raises:
        NotSureError: it says nothing, or nothing sure.
    """
    try:
        value = _STRICT.decode(places.text)
        if _is_deep(value, DEEPEST):
            raise _SuspectError
    except json.JSONDecodeError as error:
        raise _broken(places.text, error, sort) from error
    except RecursionError as error:
        raise _too_deep(0) from error
    except _SuspectError:
        raise next(_refused(places, sort)) from None
    return value


class _SuspectError(Exception):
    """Something is to be refused; its place has still to be looked for."""


def _suspect(_: str) -> NoReturn:
    raise _SuspectError


def _whole(digits: str) -> int:
    if len(digits.lstrip("-")) > MOST_DIGITS:
        raise _SuspectError
    return int(digits)


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        raise _SuspectError
    return found


_STRICT = json.JSONDecoder(object_pairs_hook=_once, parse_int=_whole, parse_float=_suspect, parse_constant=_suspect)


def _is_deep(value: Portable, most: int) -> bool:
    if not isinstance(value, (dict, list)):
        return False
    inside = value.values() if isinstance(value, dict) else value
    return most == 0 or any(_is_deep(each, most - 1) for each in inside)


def _broken(text: str, error: json.JSONDecodeError, sort: Sort) -> NotSureError:
    """Return what is said of a text that is no JSON."""
    if not text.strip():
        return NotSureError("cut-off", "this file is empty", sort.save_again, 0)
    if error.pos >= len(text.rstrip()) or error.msg.startswith("Unterminated"):
        message = f"this file ends in the middle of a {sort.noun}"
        hint = f"it was cut off when it was saved or copied; {sort.save_again}"
        return NotSureError("cut-off", message, hint, min(error.pos, len(text.rstrip()) - 1))
    message = f"this is not JSON: {error.msg[:1].lower()}{error.msg[1:]}"
    hint = "name files that a device has saved; if this is one, it was changed since: save it again"
    return NotSureError("not-json", message, hint, error.pos)


def _too_deep(at: int) -> NotSureError:
    message = f"this is nested more than {DEEPEST} deep"
    return NotSureError("too-deep", message, "name a file that a device has saved; none goes so deep", at)


def _refused(places: Places, sort: Sort) -> Iterator[NotSureError]:
    """Return what is refused, in the order of the text."""
    todo = [(places.start, 0)]
    while todo:
        at, depth = todo.pop()
        members = list(places.members(at))
        if depth >= DEEPEST and places.text[at] in "{[":
            yield _too_deep(at)
            return
        yield from _refused_keys(members, sort)
        yield from _refused_value(places.text, at, sort)
        todo += [(each.at, depth + 1) for each in reversed(members)]


def _refused_keys(members: list[Member], sort: Sort) -> Iterator[NotSureError]:
    seen = set[str | int]()
    for member in members:
        if member.name in seen:
            message = f"key {quoted(member.name)} stands twice here, and readers differ in which one counts"
            hint = f"this file was changed by hand; {sort.save_again}"
            yield NotSureError("key-twice", message, hint, member.key_at)
        seen.add(member.name)


def _refused_value(text: str, at: int, sort: Sort) -> Iterator[NotSureError]:
    kept = f"values of a {sort.noun} are text, and its numbers are whole"
    hint = f"{kept}; this file was changed, or another program wrote it"
    for word in _NO_JSON:
        if text.startswith(word, at):
            yield NotSureError("number", f"'{word}' is no number of JSON", hint, at)
    number = _NUMBER.match(text, at)
    if number is not None and not re.fullmatch(rf"-?[0-9]{{1,{MOST_DIGITS}}}", number[0]):
        message = f"{quoted(number[0])} is not a whole number of at most {MOST_DIGITS} digits"
        yield NotSureError("number", message, hint, at)

"""JSON read strictly: what two readers may take for two things is refused."""

import json
import re
from collections.abc import Iterator
from typing import Any, NoReturn

from tankside.problems import quoted
from tankside.quantities.portable import Portable
from tankside.records.json_places import Member, Places

#: a record of the demonstration book comes to 17; what goes much deeper would come to the end of Python's stack
DEEPEST = 60
#: digits of a whole number that every reader takes for the same: 2**53, where a browser begins to round, has 16
MOST_DIGITS = 15
_NUMBER = re.compile(r"-?[0-9][0-9.eE+-]*")
#: what some readers take for numbers
_NO_JSON = ("NaN", "Infinity", "-Infinity")


class NotSureError(Exception):
    """A text that is no JSON, or of which two readers may make two things."""

    def __init__(self, code: str, message: str, hint: str, at: int) -> None:
        """Keep what a problem is made of; `at` counts characters of the text from 0."""
        super().__init__(message)
        self.code, self.message, self.hint, self.at = code, message, hint, at


def read_json(places: Places) -> Portable:
    """Return what a JSON text says.

    Raises:
        NotSureError: it says nothing, or nothing sure.
    """
    try:
        value = _STRICT.decode(places.text)
        if _is_deep(value, DEEPEST):
            raise _SuspectError
    except json.JSONDecodeError as error:
        raise _broken(places.text, error) from error
    except RecursionError as error:
        raise _too_deep(0) from error
    except _SuspectError:
        raise next(_refused(places)) from None
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


def _broken(text: str, error: json.JSONDecodeError) -> NotSureError:
    """Return what is said of a text that is no JSON."""
    if not text.strip():
        return NotSureError("record-cut-off", "this file is empty", "save the record from the device again", 0)
    if error.pos >= len(text.rstrip()) or error.msg.startswith("Unterminated"):
        message = "this file ends in the middle of a record"
        hint = "it was cut off when it was saved or copied; save the record from the device again"
        return NotSureError("record-cut-off", message, hint, min(error.pos, len(text.rstrip()) - 1))
    message = f"this is not JSON: {error.msg[:1].lower()}{error.msg[1:]}"
    hint = "name files that a device has saved; if this is one, it was changed since: save it again"
    return NotSureError("record-not-json", message, hint, error.pos)


def _too_deep(at: int) -> NotSureError:
    message = f"this is nested more than {DEEPEST} deep"
    return NotSureError("record-too-deep", message, "name a file that a device has saved; none goes so deep", at)


def _refused(places: Places) -> Iterator[NotSureError]:
    """Return what is refused, in the order of the text."""
    todo = [(places.start, 0)]
    while todo:
        at, depth = todo.pop()
        members = list(places.members(at))
        if depth >= DEEPEST and places.text[at] in "{[":
            yield _too_deep(at)
            return
        yield from _refused_keys(members)
        yield from _refused_value(places.text, at)
        todo += [(each.at, depth + 1) for each in reversed(members)]


def _refused_keys(members: list[Member]) -> Iterator[NotSureError]:
    seen = set[str | int]()
    for member in members:
        if member.name in seen:
            message = f"key {quoted(member.name)} stands twice here, and readers differ in which one counts"
            hint = "this file was changed by hand; save the record from the device again"
            yield NotSureError("record-key-twice", message, hint, member.key_at)
        seen.add(member.name)


def _refused_value(text: str, at: int) -> Iterator[NotSureError]:
    hint = "values of a record are text, and its numbers are whole; this file was changed, or another program wrote it"
    for word in _NO_JSON:
        if text.startswith(word, at):
            yield NotSureError("record-number", f"'{word}' is no number of JSON", hint, at)
    number = _NUMBER.match(text, at)
    if number is not None and not re.fullmatch(rf"-?[0-9]{{1,{MOST_DIGITS}}}", number[0]):
        message = f"{quoted(number[0])} is not a whole number of at most {MOST_DIGITS} digits"
        yield NotSureError("record-number", message, hint, at)

"""Trade secrets of a book: what the floor could not be kept from learning, and codes that tell too much."""

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import is_dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from tankside.catalogue.book import Book
from tankside.catalogue.floor import floor_book
from tankside.catalogue.secrets import AFTER, BEFORE, Secret, Secrets, id_of, secrets_in, secrets_of, words_of
from tankside.loading.values import Text
from tankside.memory import remembered, same_if_equal
from tankside.model.facts import Plant
from tankside.model.fields import shape
from tankside.model.procedures import Checklist, Procedure
from tankside.problems import Problem, quoted
from tankside.quantities.registry import HELPERS
from tankside.schema.shapes import SHAPES, schema
from tankside.units import QuantityError, parse_quantity

#: a shorter word stands everywhere
SHORTEST = 3
_NUMBER = re.compile(r"[0-9.,%\s]+")


def confidential_problems(book: Book) -> Iterator[Problem]:
    """Return what is wrong with what a book keeps from the floor."""
    secrets = same_if_equal("secrets", secrets_of(book.plant))
    if not secrets:
        return
    unfit = tuple(_unfit_words(book))
    yield from unfit
    yield from _codes(book, secrets)
    yield from _ids(book, secrets)
    if not unfit:
        yield from _left(book, secrets)


def _unfit_words(book: Book) -> Iterator[Problem]:
    for word in words_of(book.plant):
        why = _unfit(str(word))
        if why:
            hint = "call the material by a word that stands for it alone, or take the word out of 'also_called'"
            yield Problem(word.span, "confidential-word", f"{quoted(word)} cannot be kept from the floor: {why}", hint)


@cache
def _unfit(word: str) -> str:
    if _NUMBER.fullmatch(word) or _is_quantity(word):
        return "a bare number stands for many things"
    if sum(map(str.isalnum, word)) < SHORTEST:
        return f"it has fewer than {SHORTEST} letters and digits"
    if secrets_in(_own_words(), (Secret(word, ""),)):
        return "it is a word of our own pages or files as well"
    return ""


def _is_quantity(word: str) -> bool:
    try:
        parse_quantity(word, ())
    except QuantityError:
        return False
    return True


@cache
def _own_words() -> str:
    """Return the words of our interface, and those that the files of any book and record are written with."""
    table = json.loads(files("tankside").joinpath("texts.json").read_text(encoding="utf-8"))
    said = (text for language in table.values() for text in language.values())
    return "\n".join((*said, *HELPERS, *(word for shape in SHAPES for word in _fixed(schema(shape)))))


def _fixed(part: Any) -> Iterator[str]:
    if isinstance(part, dict):
        yield from (each for each in part.get("enum", ()) if isinstance(each, str))
        properties = part.get("properties", {})
        yield from (properties if isinstance(properties, dict) else ())
    for each in part.values() if isinstance(part, dict) else part if isinstance(part, list) else ():
        yield from _fixed(each)


def _codes(book: Book, secrets: Secrets) -> Iterator[Problem]:
    taken = _names(book)
    for name, material in book.plant.materials.materials.items():
        if material.confidential is None:
            continue
        code = material.confidential.code
        other = taken.get(code.casefold(), name)
        if told := secrets_in(code, secrets):
            message, hint = f"code '{code}' tells '{told[0]}'", "take a code that tells nothing"
        elif other != name:
            message, hint = f"code '{code}' is what '{other}' is called", "give one of the two another code"
        elif _is_used(book, id_of(code)):
            message, hint = f"'{id_of(code)}', the id of code '{code}', stands in the book already", "take another code"
        else:
            continue
        yield Problem(code.span, "confidential-code", message, hint)


def _names(book: Book) -> Mapping[str, Text]:
    """Return whose name or code each one is, the names before the codes."""
    plant, found = book.plant, dict[str, Text]()
    tables = (plant.materials.materials, plant.products.products, plant.equipment.equipment)
    for key, each in ((key, each) for table in tables for key, each in table.items()):
        found.setdefault(each.name.casefold(), key)
    for key, material in plant.materials.materials.items():
        if material.confidential is not None:
            found.setdefault(material.confidential.code.casefold(), key)
    return found


def _is_used(book: Book, own_id: str) -> bool:
    return any(_is_used_in(part, own_id) for part in _parts(book))


@remembered
def _is_used_in(part: Any, own_id: str) -> bool:
    pattern = re.compile(f"{BEFORE}{re.escape(own_id)}{AFTER}")
    return any(pattern.search(text) for text in _texts(part))


def _ids(book: Book, secrets: Secrets) -> Iterator[Problem]:
    """An id and a folder stand in addresses, and in what records say of their origin."""
    every: tuple[Procedure | Checklist, ...] = (*book.procedures.values(), *book.checklists.values())
    for written in every:
        if told := secrets_in(written.span.path, secrets):
            message = f"the name of this file tells '{told[0]}', and it stands in the address of its page"
            yield Problem(written.span, "confidential-id", message, "rename the file, and its id or family with it")


def _left(book: Book, secrets: Secrets) -> Iterator[Problem]:
    """Return what no code could be put in place of: a plural, a word inside another one, the name of a picture."""
    for part in _parts(floor_book(book)):
        yield from _left_in(part, secrets)


@remembered
def _left_in(part: Any, secrets: Secrets) -> tuple[Problem, ...]:
    # Of several words in a text, the longest.
    found = ((text, word) for text in _texts(part) for word in secrets_in(text, secrets)[:1])
    hint = "write the word as it stands in materials.yaml, or add this form to its 'also_called'"
    return tuple(
        Problem(text.span, "confidential-left", f"{quoted(text)} would tell the floor '{word}'", hint)
        for text, word in found
    )


def _texts(part: Any) -> Iterator[Text]:
    """Return every text in a part of the model, the names in its tables too."""
    if isinstance(part, Text):
        yield part
    elif isinstance(part, tuple):
        yield from (text for each in part for text in _texts(each))
    elif isinstance(part, Mapping):
        yield from (text for pair in part.items() for each in pair for text in _texts(each))
    elif is_dataclass(part):
        yield from (text for each in shape(type(part)) for text in _texts(getattr(part, each.name)))


def _parts(book: Book) -> tuple[Any, ...]:
    plant = book.plant
    written = (*book.procedures.values(), *book.checklists.values())
    return (*(getattr(plant, each.name) for each in shape(Plant)), *written)

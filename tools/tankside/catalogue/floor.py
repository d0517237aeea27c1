"""The book as the floor gets it: a code in place of each secret word, made by one pass over everything it holds.

Whatever is made of this book knows nothing that could be told: pages, sheets, search, working copies, records.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, is_dataclass, replace
from typing import Any

from tankside.catalogue.book import Book
from tankside.catalogue.secrets import Secrets, replacing, secrets_of
from tankside.loading.values import Text
from tankside.memory import remembered, same_if_equal
from tankside.model.facts import WITHHELD, Material, Materials, Plant, Product, Products, RecipeLine
from tankside.model.fields import shape
from tankside.model.references import Claims, Meaning, Measures, Refers
from tankside.problems import Span

#: a text that is nothing but a name in small letters
_NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")
#: what stands around a name inside a longer text: `<amount>`, `one-part-of-it`, `ingredient.mass`
_OPENS, _CLOSES = re.compile(r"[-<]"), re.compile(r"[->]|\.[a-z]")
#: these name files, and helpers of ours
_NOT_OURS = ("picture", "helper")

_plant = remembered(Plant)


def floor_book(book: Book) -> Book:
    """Return the book with nothing confidential in it; the book itself when nothing is."""
    if not holds_secrets(book.plant):
        return book
    secrets = same_if_equal("secrets", secrets_of(book.plant))
    parts = {each.name: _hidden(getattr(book.plant, each.name), secrets) for each in shape(Plant)}
    parts["materials"] = _materials(parts["materials"])
    parts["products"] = _products(parts["products"], parts["materials"])
    return Book(
        plant=_plant(*parts.values()),
        procedures={name: _hidden(each, secrets) for name, each in book.procedures.items()},
        checklists={name: _hidden(each, secrets) for name, each in book.checklists.items()},
    )


def holds_secrets(plant: Plant) -> bool:
    """Return whether anything of a plant is confidential."""
    lines = (line for product in plant.products.products.values() for line in product.recipe)
    return any(is_confidential(plant.materials, line) for line in lines) or bool(secrets_of(plant))


def is_confidential(materials: Materials, line: RecipeLine) -> bool:
    """Return whether the share of a recipe line is not for the floor."""
    material = materials.materials.get(line.ingredient)
    return line.confidential is not None or (material is not None and material.confidential is not None)


@remembered
def _hidden(part: Any, secrets: Secrets) -> Any:
    """Return a part of the model without secret words; the very same one where it has none."""
    return _Veil(replacing(secrets), secrets).over(part, None) if secrets else part


@dataclass(frozen=True)
class _Veil:
    """Puts codes in place of secret words."""

    pattern: re.Pattern[str]
    secrets: Secrets

    def over(self, part: Any, meaning: Meaning | None) -> Any:
        """Return a part of the model without secret words; the very same one where it has none."""
        if isinstance(part, Text):
            return self._over_text(part, meaning)
        if isinstance(part, tuple):
            done = tuple(self.over(each, meaning) for each in part)
            return part if all(new is old for new, old in zip(done, part, strict=True)) else done
        if isinstance(part, Mapping):
            return self._over_mapping(part, meaning)
        if is_dataclass(part) and not isinstance(part, (type, Span)):
            return self._over_fields(part)
        return part

    def _over_mapping(self, part: Mapping[Any, Any], meaning: Meaning | None) -> Mapping[Any, Any]:
        done = {self.over(key, None): self.over(value, meaning) for key, value in part.items()}
        is_same = all(new is old for new, old in zip(done.values(), part.values(), strict=True))
        return part if is_same and tuple(done) == tuple(part) else done

    def _over_fields(self, part: Any) -> Any:
        fields = ((each, getattr(part, each.name)) for each in shape(type(part)))
        done = ((each.name, old, self.over(old, each.meaning)) for each, old in fields)
        changed = {name: new for name, old, new in done if new is not old}
        return replace(part, **changed) if changed else part

    def _over_text(self, text: Text, meaning: Meaning | None) -> Text:
        if isinstance(meaning, Measures) or (isinstance(meaning, Refers) and meaning.to in _NOT_OURS):
            return text
        is_name = isinstance(meaning, (Refers, Claims)) or _NAME.fullmatch(text) is not None
        done = self.pattern.sub(lambda match: self._code(match, is_name=is_name), text)
        return text if done == text else Text(done, text.span)

    def _code(self, match: re.Match[str], *, is_name: bool) -> str:
        assert match.lastindex is not None, "each alternative of the pattern is a group"
        secret, text = self.secrets[match.lastindex - 1], match.string
        opens, closes = _OPENS.fullmatch(text[match.start() - 1 : match.start()]), _CLOSES.match(text, match.end())
        return secret.own_id if is_name or opens or closes else secret.code


@remembered
def _materials(hidden: Materials) -> Materials:
    """Return the materials with each confidential one under its code alone."""
    return replace(hidden, materials={name: _material(each) for name, each in hidden.materials.items()})


def _material(hidden: Material) -> Material:
    if hidden.confidential is None:
        return hidden
    name = Text(hidden.confidential.code, hidden.name.span)
    return replace(hidden, name=name, confidential=replace(hidden.confidential, also_called=()))


@remembered
def _products(hidden: Products, materials: Materials) -> Products:
    """Return the products with each confidential line marked, and without what it is there for."""
    return Products({name: _product(each, materials) for name, each in hidden.products.items()})


def _product(product: Product, materials: Materials) -> Product:
    return replace(product, recipe=tuple(_line(line, materials) for line in product.recipe))


def _line(line: RecipeLine, materials: Materials) -> RecipeLine:
    if not is_confidential(materials, line):
        return line
    return replace(line, why=None, confidential=Text(WITHHELD, line.ingredient.span))

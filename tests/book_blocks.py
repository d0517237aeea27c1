"""Pieces, materials and products of the demo book as blocks of text, to be changed one line at a time."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from demo_book import ROOT

EQUIPMENT = "procedures/plant/equipment.yaml"
MATERIALS = "procedures/plant/materials.yaml"
PRODUCTS = "procedures/plant/products.yaml"


@dataclass(frozen=True)
class Block:
    """Everything that a plant file says under one name."""

    key: str
    #: whole lines, the one of the key first
    text: str

    def value(self, field: str) -> str | None:
        """Return what stands under a field, on one line; None when there is no such field."""
        found = re.search(_field(field), self.text, re.MULTILINE)
        return None if found is None else " ".join(found[1].removeprefix(">-").split())

    def without(self, field: str) -> str:
        """Return the text without a field that is there."""
        text, count = re.subn(_field(field), "", self.text, flags=re.MULTILINE)
        assert count == 1, f"{self.key} has no {field}"
        return text

    def having(self, field: str, value: str) -> str:
        """Return the text with another value under a field, or with that field at its end."""
        if self.value(field) is None:
            return f"{self.text}    {field}: {value}\n"
        return re.sub(_field(field), lambda _: f"    {field}: {value}\n", self.text, flags=re.MULTILINE)


def _field(name: str) -> str:
    return rf"^    {name}:((?: .*)?\n(?:     .*\n)*)"


def blocks(path: str, table: str) -> Iterator[Block]:
    """Return the blocks of one table of a plant file."""
    (inside,) = re.findall(rf"^{table}:\n((?:(?: .*)?\n)*)", (ROOT / path).read_text(encoding="utf-8"), re.MULTILINE)
    for found in re.finditer(r"^  ([\w-]+):\n(?:    .*\n)*", inside, re.MULTILINE):
        yield Block(found[1], found[0])


def pieces() -> tuple[Block, ...]:
    """Return the pieces of equipment of the demo book."""
    return tuple(blocks(EQUIPMENT, "equipment"))


def materials() -> tuple[Block, ...]:
    """Return the materials of the demo book."""
    return tuple(blocks(MATERIALS, "materials"))


def products() -> tuple[Block, ...]:
    """Return the products of the demo book."""
    return tuple(blocks(PRODUCTS, "products"))

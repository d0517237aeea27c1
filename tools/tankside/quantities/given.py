"""What can be given: a quantity, one word of a few, a list, pairs, groups, or a recipe; and how each is written."""

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Final

from tankside.quantities.helper import Argument
from tankside.quantities.recipe import Recipe
from tankside.quantities.refusals import ChoiceUnknownError, ListEmptyError, PairFormError
from tankside.units import NUMBER, Quantity, Unit, parse_quantity

#: Between the parts of an entry: a stroke before a digit, so that the one in "mg/m3" is none.
_STROKE: Final = re.compile(r"\s*/\s*(?=-?[0-9])")
#: A list has at most this many entries.
MOST: Final = 500


@dataclass(frozen=True)
class Choice:
    """One of the words that an argument may be."""

    word: str


@dataclass(frozen=True)
class Listed:
    """Quantities of one kind, in the order they were given."""

    entries: tuple[Quantity, ...]


@dataclass(frozen=True)
class Pairs:
    """Pairs of quantities, in the order they were given."""

    entries: tuple[tuple[Quantity, Quantity], ...]


@dataclass(frozen=True)
class Groups:
    """Groups of quantities of one kind, in the order they were given."""

    entries: tuple[tuple[Quantity, ...], ...]


Worth = Quantity | Choice | Listed | Pairs | Groups | Recipe
Given = Mapping[str, Worth]


def read_worth(argument: Argument, text: str) -> Quantity | Choice | Listed | Pairs | Groups:
    """Read what was written for an argument that is no recipe.

    Raises:
        QuantityError: it is not written as this argument is.
    """
    text = text.strip()
    if argument.choices:
        if text not in argument.choices:
            raise ChoiceUnknownError(argument.name, text, argument.choices)
        return Choice(text)
    if argument.pair_kinds:
        return Pairs(tuple(_pair(argument, argument.pair_kinds, part) for part in _parts(argument, text)))
    if argument.is_grouped:
        return Groups(_groups(argument, [_STROKE.split(part) for part in _parts(argument, text)]))
    if argument.is_list:
        return Listed(_entries(argument, _parts(argument, text)))
    return parse_quantity(text, argument.kinds, argument.name)


def _parts(argument: Argument, text: str) -> list[str]:
    parts = [part.strip() for part in text.split(",")]
    if not all(parts) or len(parts) > MOST:
        raise ListEmptyError(argument.name, text, argument.example, MOST)
    return parts


def _entries(argument: Argument, parts: list[str]) -> tuple[Quantity, ...]:
    """Read each entry; one without a unit has that of the last."""
    last = parse_quantity(parts[-1], argument.kinds, argument.name)
    return tuple(_with_unit(part, last.unit, argument.kinds, argument.name) for part in parts)


def _groups(argument: Argument, groups: list[list[str]]) -> tuple[tuple[Quantity, ...], ...]:
    """Read each entry of each group; one without a unit has that of the last of all."""
    last = parse_quantity(groups[-1][-1], argument.kinds, argument.name)
    return tuple(
        tuple(_with_unit(part, last.unit, argument.kinds, argument.name) for part in group) for group in groups
    )


def _with_unit(part: str, unit: Unit, kinds: Collection[str], name: str) -> Quantity:
    """Read a quantity; a bare number has the unit of its neighbour, where it may be of that kind."""
    is_bare = NUMBER.fullmatch(part) and unit.kind.name in kinds
    return parse_quantity(f"{part} {unit.symbol}" if is_bare else part, kinds, name)


def _pair(argument: Argument, kinds: tuple[tuple[str, ...], tuple[str, ...]], part: str) -> tuple[Quantity, Quantity]:
    halves = _STROKE.split(part)
    if len(halves) != 2:
        raise PairFormError(argument.name, part, argument.example)
    two = parse_quantity(halves[1], kinds[1], argument.name)
    return _with_unit(halves[0], two.unit, kinds[0], argument.name), two


def facts_of(name: str, worth: Worth) -> Mapping[str, Quantity]:
    """Return the quantities in a worth under the names that trees use; a word has none."""
    match worth:
        case Quantity():
            return {name: worth}
        case Recipe():
            return worth.facts()
        case Listed(entries):
            return {f"{name}.{number}": entry for number, entry in enumerate(entries, 1)}
        case Pairs(entries):
            return {
                f"{name}.{number}.{side}": entry
                for number, pair in enumerate(entries, 1)
                for side, entry in zip(("first", "second"), pair, strict=True)
            }
        case Groups(groups):
            return {
                f"{name}.{number}.{place}": entry
                for number, group in enumerate(groups, 1)
                for place, entry in enumerate(group, 1)
            }
    return {}


def counts_of(given: Given) -> Mapping[str, int]:
    """Return how long each list is."""
    return {name: len(worth.entries) for name, worth in given.items() if isinstance(worth, (Listed, Pairs))}

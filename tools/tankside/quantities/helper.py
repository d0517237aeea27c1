"""What a helper is: arguments, results, the forms of its formula, and its documentation."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from types import MappingProxyType
from typing import Final, Literal

from tankside.quantities.dimension import DimensionError, dimension_of
from tankside.quantities.documentation import Documentation, documentation
from tankside.quantities.expression import Constant, Expression, Name
from tankside.quantities.recipe import FACTS
from tankside.units import KINDS, UNITS, Unit

#: The kind of an argument that is a recipe of the book and no quantity.
RECIPE: Final = "recipe"

#: Result name -> its tree. A tree may name results before it.
Trees = Mapping[str, Expression]


@dataclass(frozen=True)
class Bound:
    """One end of a range."""

    #: in base units
    value: Fraction
    inclusive: bool


ABOVE_ZERO: Final = Bound(Fraction(0), inclusive=False)
FROM_ZERO: Final = Bound(Fraction(0), inclusive=True)
BELOW_ONE: Final = Bound(Fraction(1), inclusive=False)


@dataclass(frozen=True)
class Argument:
    """A value a helper asks for."""

    name: str
    #: kinds of unit accepted
    kinds: tuple[str, ...]
    says: str
    #: a value as it may be written
    example: str
    required: bool = True
    low: Bound | None = None
    high: Bound | None = None
    is_whole: bool = False
    #: the words it may be, where it is no quantity
    choices: tuple[str, ...] = ()
    #: whether it is a list of quantities of one kind
    is_list: bool = False
    #: the kinds of the first and of the second half, where it is a list of pairs
    pair_kinds: tuple[tuple[str, ...], tuple[str, ...]] | None = None
    #: whether it is a list of groups of quantities of one kind
    is_grouped: bool = False
    #: the low end by kind, or by half of a pair, where one for all would not do
    lows: Mapping[str, Bound] = field(default_factory=dict)

    def low_of(self, part: str, kind: str) -> Bound | None:
        """Return the low end for a part of what is given, ``first`` and ``second`` of a pair."""
        return self.lows.get(part, self.lows.get(kind, self.low))


@dataclass(frozen=True)
class Result:
    """A value a helper works out."""

    name: str
    #: unit shown unless an argument in ``like`` is of the same kind
    unit: str
    #: the rounding that is safe when the amount is measured out
    direction: Literal["up", "down", "nearest"]
    says: str
    like: tuple[str, ...] = ()


@dataclass(frozen=True)
class AtMost:
    """A condition between two arguments: ``name`` is at most ``other``."""

    name: str
    other: str
    #: words between the two values when it is broken
    broken: str
    hint: str
    #: an argument with which it need not hold
    unless: str = ""


@dataclass(frozen=True)
class Below(AtMost):
    """A condition between two arguments: ``name`` is below ``other``, equal is not enough."""


@dataclass(frozen=True)
class TotalAtMost:
    """A condition on a list of pairs: the first halves add up to at most ``most``."""

    name: str
    most: Constant
    hint: str


@dataclass(frozen=True)
class NeverWith:
    """A condition between two arguments that are words: one of each is never given together."""

    name: str
    word: str
    other: str
    other_word: str
    #: words between the two when they are
    broken: str
    hint: str


Condition = AtMost | TotalAtMost | NeverWith


@dataclass(frozen=True)
class Variant:
    """One form of the formula, for one combination of kinds."""

    #: the arguments it takes, each of one kind; for a word that is the word itself, for pairs both kinds with a stroke
    kinds: Mapping[str, str]
    #: what an argument stands for in the formula, where that is not its plain value
    stands_for: Mapping[str, Expression] = field(default_factory=dict)
    #: the unit of a result, where that is not the one the helper names for all forms
    units: Mapping[str, str] = field(default_factory=dict)

    def operand(self, name: str) -> Expression:
        return self.stands_for.get(name, Name(name))

    def unit_of(self, result: Result) -> Unit:
        return UNITS[self.units.get(result.name, result.unit)]


_NO_LISTS: Final[Mapping[str, int]] = MappingProxyType({})


@dataclass(frozen=True)
class Contract:
    """What is asked for and what comes out, with everything said about it."""

    name: str
    task: str
    arguments: tuple[Argument, ...]
    results: tuple[Result, ...]
    variants: tuple[Variant, ...]
    conditions: tuple[Condition, ...]
    #: the combinations of kinds there are, as an imperative
    choice: str
    documentation: Documentation

    def argument(self, name: str) -> Argument:
        return next(argument for argument in self.arguments if argument.name == name)

    def result(self, name: str) -> Result:
        return next(result for result in self.results if result.name == name)


@dataclass(frozen=True)
class Helper(Contract):
    """A published formula."""

    formula: Callable[..., Trees]
    #: given values and results in base units -> results that are words
    words: Callable[[Mapping[str, Fraction]], Mapping[str, str]] | None

    def trees(self, variant: Variant, counts: Mapping[str, int] = _NO_LISTS) -> Trees:
        """Return the tree of each result in the order they are worked out; ``counts`` says how long each list is."""
        asked = inspect.signature(self.formula).parameters
        wanted = {name: self._operand(variant, name, counts.get(name, 2)) for name in asked if name in variant.kinds}
        # A published figure in mL for a volume and in g for a mass has to know which it is.
        return self.formula(**wanted, **({"kinds": variant.kinds} if "kinds" in asked else {}))

    def _operand(self, variant: Variant, name: str, count: int) -> object:
        argument = self.argument(name)
        entries = [f"{name}.{number}" for number in range(1, count + 1)]
        if argument.choices:
            return variant.kinds[name]
        if argument.pair_kinds:
            return tuple((Name(f"{entry}.first"), Name(f"{entry}.second")) for entry in entries)
        return tuple(map(Name, entries)) if argument.is_list else variant.operand(name)


def helper(
    *,
    task: str,
    arguments: tuple[Argument, ...],
    results: tuple[Result, ...],
    variants: tuple[Variant, ...],
    conditions: tuple[Condition, ...] = (),
    choice: str = "",
    words: Callable[[Mapping[str, Fraction]], Mapping[str, str]] | None = None,
) -> Callable[[Callable[..., Trees]], Helper]:
    """Make a helper of a function that returns its trees, and check their dimensions there and then."""

    def make(formula: Callable[..., Trees]) -> Helper:
        name = formula.__name__.replace("_", "-")
        text = documentation(formula.__doc__ or "")
        made = Helper(name, task, arguments, results, variants, conditions, choice, text, formula, words)
        check_dimensions(made)
        return made

    return make


def _kinds_of_names(helper: Helper, variant: Variant) -> dict[str, str]:
    """Return the kind of each name in the trees for lists of two."""
    kinds: dict[str, str] = {}
    for name, kind in variant.kinds.items():
        argument = helper.argument(name)
        if argument.pair_kinds:
            halves = tuple(zip(("first", "second"), kind.split(" / "), strict=True))
            kinds |= {f"{name}.{number}.{side}": each for number in (1, 2) for side, each in halves}
        elif argument.is_list:
            kinds |= {f"{name}.{number}": kind for number in (1, 2)}
        elif kind != RECIPE and not argument.choices:
            kinds[name] = kind
    return kinds


def check_dimensions(helper: Helper) -> None:
    """Refuse a helper one of whose trees has not the dimension of its result."""
    for variant in helper.variants:
        kinds = {**FACTS, **_kinds_of_names(helper, variant)}
        dimensions = {name: KINDS[kind].dimension for name, kind in kinds.items()}
        for name, tree in helper.trees(variant).items():
            # A result may have the name of an argument; the trees after it mean the result.
            kind, found = variant.unit_of(helper.result(name)).kind, dimension_of(tree, dimensions)
            if found != kind.dimension:
                raise DimensionError(f"{helper.name}: {name} is no {kind.name}")
            dimensions[name] = found

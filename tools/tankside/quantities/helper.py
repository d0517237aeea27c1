"""What a helper is: arguments, results, the forms of its formula, and its documentation."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final, Literal

from tankside.quantities.dimension import DimensionError, dimension_of
from tankside.quantities.documentation import Documentation, documentation
from tankside.quantities.expression import Expression, Name
from tankside.quantities.recipe import FACTS
from tankside.units import KINDS, UNITS

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

    @property
    def kind(self) -> str:
        return UNITS[self.unit].kind.name


@dataclass(frozen=True)
class AtMost:
    """A condition between two arguments: ``name`` is at most ``other``."""

    name: str
    other: str
    #: words between the two values when it is broken
    broken: str
    hint: str


@dataclass(frozen=True)
class Variant:
    """One form of the formula, for one combination of kinds."""

    #: the arguments it takes, each of one kind
    kinds: Mapping[str, str]
    #: what an argument stands for in the formula, where that is not its plain value
    stands_for: Mapping[str, Expression] = field(default_factory=dict)

    def operand(self, name: str) -> Expression:
        return self.stands_for.get(name, Name(name))


@dataclass(frozen=True)
class Helper:
    """A published formula with everything said about it."""

    name: str
    task: str
    arguments: tuple[Argument, ...]
    results: tuple[Result, ...]
    variants: tuple[Variant, ...]
    conditions: tuple[AtMost, ...]
    #: the combinations of kinds there are, as an imperative
    choice: str
    formula: Callable[..., Trees]
    documentation: Documentation

    def argument(self, name: str) -> Argument:
        return next(argument for argument in self.arguments if argument.name == name)

    def result(self, name: str) -> Result:
        return next(result for result in self.results if result.name == name)

    def trees(self, variant: Variant) -> Trees:
        """Return the tree of each result in the order they are worked out."""
        wanted = [name for name in inspect.signature(self.formula).parameters if name in variant.kinds]
        return self.formula(**{name: variant.operand(name) for name in wanted})


def helper(
    *,
    task: str,
    arguments: tuple[Argument, ...],
    results: tuple[Result, ...],
    variants: tuple[Variant, ...],
    conditions: tuple[AtMost, ...] = (),
    choice: str = "",
) -> Callable[[Callable[..., Trees]], Helper]:
    """Make a helper of a function that returns its trees, and check their dimensions there and then."""

    def make(formula: Callable[..., Trees]) -> Helper:
        name = formula.__name__.replace("_", "-")
        text = documentation(formula.__doc__ or "")
        made = Helper(name, task, arguments, results, variants, conditions, choice, formula, text)
        check_dimensions(made)
        return made

    return make


def check_dimensions(helper: Helper) -> None:
    """Refuse a helper one of whose trees has not the dimension of its result."""
    for variant in helper.variants:
        kinds = {**FACTS, **variant.kinds, **{result.name: result.kind for result in helper.results}}
        dimensions = {name: KINDS[kind].dimension for name, kind in kinds.items() if kind != RECIPE}
        for name, tree in helper.trees(variant).items():
            if dimension_of(tree, dimensions) != dimensions[name]:
                raise DimensionError(f"{helper.name}: {name} is no {kinds[name]}")

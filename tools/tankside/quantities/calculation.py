"""A helper worked out with what it was given."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

from tankside.quantities.domain import kinds_of, require_in_domain, require_possible, variant_for
from tankside.quantities.evaluate import evaluate
from tankside.quantities.expression import Expression, Name, Number, names_in, substitute
from tankside.quantities.given import Given, counts_of, facts_of
from tankside.quantities.helper import Contract, Helper, Result, Trees, Variant
from tankside.quantities.recipe import EACH, Recipe
from tankside.quantities.working import working
from tankside.units import Quantity, Unit


@dataclass(frozen=True)
class Calculation:
    """What came out, exact: rounding to a measuring vessel is a later step of its own."""

    helper: Helper
    #: result name -> value, in the order worked out
    results: Mapping[str, Quantity]
    #: argument or recipe value -> value, under the names that trees use
    given: Mapping[str, Quantity]
    #: result name -> its tree, with names for arguments, recipe values and earlier results
    trees: Trees
    #: results that are words
    words: Mapping[str, str]

    @cached_property
    def working(self) -> tuple[str, ...]:
        """The working of each result, line by line."""
        lines: list[str] = []
        known = dict(self.given)
        for name, result in self.results.items():
            lines += working(name, self.trees[name], known, result)
            known[name] = result
        return tuple(lines)


def calculate(helper: Helper, given: Given) -> Calculation:
    """Work ``helper`` out; what is missing, of the wrong kind or out of its domain is refused."""
    variant = variant_for(helper, kinds_of(helper, given))
    values = _values(given)
    require_in_domain(helper, variant, given)
    trees = trees_of(helper, variant, given)
    results: dict[str, Quantity] = {}
    for name, tree in trees.items():
        value = evaluate(tree, {each: (values | results)[each].value for each in names_in(tree)})
        results[name] = Quantity(value, result_unit(result_of(helper, name), variant, values))
        require_possible(name, results[name])
    known = {name: quantity.value for name, quantity in (values | results).items()}
    words = {} if helper.words is None else helper.words(known)
    return Calculation(helper, MappingProxyType(results), MappingProxyType(values), MappingProxyType(trees), words)


def tree_with_constants(helper: Helper, given: Given, inputs: Mapping[str, Unit] = MappingProxyType({})) -> Trees:
    """Return each result's tree with the given values filled in and earlier results put in place.

    Args:
        helper: the helper.
        given: the values that are constants.
        inputs: the arguments left open, with the unit each will be given in; their values are in base units.
    """
    kinds = {**kinds_of(helper, given), **{name: unit.kind.name for name, unit in inputs.items()}}
    constants = _values(given)
    variant = variant_for(helper, kinds)
    filled: dict[str, Expression] = {name: Number(quantity.value) for name, quantity in constants.items()}
    trees: dict[str, Expression] = {}
    for name, tree in trees_of(helper, variant, given).items():
        trees[name] = substitute(tree, filled | trees)
    return MappingProxyType(trees)


def trees_of(helper: Helper, variant: Variant, given: Given) -> Trees:
    """Return the tree of each result, with names for arguments, recipe values and earlier results."""
    return _for_each_ingredient(helper.trees(variant, counts_of(given)), given)


def result_of(helper: Contract, name: str) -> Result:
    """Return what the helper says of a result; ``citric-acid.mass`` is one of ``<ingredient>.mass``."""
    names = [result.name for result in helper.results]
    return helper.result(name if name in names else f"{EACH}.{name.rpartition('.')[2]}")


def _values(given: Given) -> dict[str, Quantity]:
    values: dict[str, Quantity] = {}
    for name, worth in given.items():
        values |= facts_of(name, worth)
    return values


def _for_each_ingredient(trees: Trees, given: Given) -> dict[str, Expression]:
    """Return the trees as they are, or once for each ingredient of the recipe among the arguments."""
    recipes = [value for value in given.values() if isinstance(value, Recipe)]
    if not recipes:
        return dict(trees)
    return {
        name.replace(EACH, ingredient.name): _named_for(tree, ingredient.name)
        for ingredient in recipes[0].ingredients
        for name, tree in trees.items()
    }


def _named_for(tree: Expression, ingredient: str) -> Expression:
    return substitute(tree, {name: Name(name.replace(EACH, ingredient)) for name in names_in(tree)})


def result_unit(result: Result, variant: Variant, values: Mapping[str, Quantity]) -> Unit:
    """Return the unit of the first argument the result is like and of a kind with, else the result's own."""
    own = variant.unit_of(result)
    alike = [values[each].unit for name in result.like for each in (name, f"{name}.1") if each in values]
    return next((unit for unit in alike if unit.kind == own.kind), own)

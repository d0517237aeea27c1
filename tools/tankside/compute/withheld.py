"""Amounts that come from a confidential recipe, as the floor gets them: without the formula and without its working."""

from dataclasses import replace

from tankside.catalogue.floor import is_confidential
from tankside.compute.proportional import NotProportionalError, proportional
from tankside.compute.trouble import CannotWorkOutError
from tankside.compute.worked import Worked, WorkedAmount
from tankside.loading.values import Text
from tankside.model.facts import Plant, Product
from tankside.model.procedures import Procedure
from tankside.problems import Problem
from tankside.quantities.expression import Call, Expression, from_json, to_json
from tankside.quantities.helper import RECIPE
from tankside.quantities.portable import Portable
from tankside.quantities.registry import HELPERS


def as_told(plant: Plant, procedure: Procedure, name: Text, worked: WorkedAmount) -> WorkedAmount:
    """Return an amount as its readers get it: on the floor without the formula, where its recipe is confidential.

    Every amount of such a recipe, also that of an open line: its data would hold the whole recipe.

    Raises:
        CannotWorkOutError: the recipe is confidential, and the amount could not be told without it.
    """
    recipes = _recipes(plant, procedure, name)
    if not any(is_confidential(plant.materials, line) for each in recipes for line in each.recipe):
        return worked
    try:
        told = _without_formula(worked)
    except NotProportionalError as error:
        message = f"'{name}' comes from a confidential recipe and does not grow in step with '{worked.input}'"
        hint = "give it a helper whose result does, or a number of its own; else its formula would tell the recipe"
        raise CannotWorkOutError(Problem(name.span, "confidential-amount", message, hint)) from error
    return told if any(line.is_withheld for each in recipes for line in each.recipe) else worked


def _recipes(plant: Plant, procedure: Procedure, name: Text) -> tuple[Product, ...]:
    """Return the products whose recipes an amount comes from, itself or through other amounts."""
    amount = procedure.amounts[name]
    wanted = {each.name for each in HELPERS[amount.calculate].arguments if each.kinds == (RECIPE,)}
    found: list[Product] = []
    for key, value in amount.with_.items():
        if key in wanted:
            found.append(plant.products.products[value])
        elif value in procedure.amounts:
            found += _recipes(plant, procedure, value)
    return tuple(found)


def _without_formula(worked: WorkedAmount) -> WorkedAmount:
    tree = proportional(from_json(worked.tree))
    return replace(
        worked,
        tree=to_json(tree),
        usual=_without_working(worked.usual),
        table=tuple(map(_without_working, worked.table)),
        live=worked.live and _live(worked, tree),
    )


def _without_working(worked: Worked) -> Worked:
    return replace(worked, working=())


def _live(worked: WorkedAmount, tree: Expression) -> Portable:
    """Return what a page works it out from: the number and the input; it rounds to the vessel by itself."""
    is_rounded = worked.measure_in is not None
    exact = tree.args[0] if is_rounded and isinstance(tree, Call) else tree
    form = {
        "ranges": [],
        "conditions": [],
        "results": [[worked.result, to_json(exact), worked.usual.exact.unit.symbol]],
    }
    return {**worked.live, "given": {}, "open": {worked.input: worked.input}, "form": form}

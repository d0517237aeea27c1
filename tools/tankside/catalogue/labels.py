"""Labels of products: which bottle a code stands for, and whether what is taken out is counted in again."""

from collections.abc import Iterator, Mapping

from tankside.loading.values import Text
from tankside.memory import remembered
from tankside.model.facts import Product, Products
from tankside.model.procedures import Procedure
from tankside.model.steps import Labels, every
from tankside.problems import Problem

OUT, IN = "out", "in"
OTHER = {OUT: IN, IN: OUT}


def label_disagreements(products: Products, procedures: Mapping[str, Procedure]) -> Iterator[Problem]:
    """Return codes that cannot tell one bottle from another, and labels that nobody could account for."""
    for name, product in products.products.items():
        yield from _bottles_filled(name, product)
    yield from _codes_once(products)
    for procedure in procedures.values():
        yield from _in_procedure(procedure, products)


def _bottles_filled(name: Text, product: Product) -> Iterator[Problem]:
    # Sizes are compared as they are written: a working copy offers them, and looks the code up, by their text.
    for size in product.labels:
        if size not in product.bottles:
            message = f"labels of '{name}' name '{size}', and it is filled into no such bottle"
            hint = f"write a size as it stands under 'bottles' ({', '.join(product.bottles)}), or add it there"
            yield Problem(size.span, "label-without-bottle", message, hint)


def _codes_once(products: Products) -> Iterator[Problem]:
    taken: dict[str, str] = {}
    for name, product in products.products.items():
        for size, code in product.labels.items():
            what = f"'{name}' in '{size}'"
            other = taken.setdefault(str(code), what)
            if other != what:
                message = f"code '{code}' stands on the labels of {other} already"
                yield Problem(code.span, "label-code-twice", message, "give one of the two a code of its own")


@remembered
def _in_procedure(procedure: Procedure, products: Products) -> tuple[Problem, ...]:
    found = [item for item in every(procedure.steps) if isinstance(item, Labels)]
    return (*_codes_known(found, products), *(_counted_both_ways(found) if procedure.is_complete else ()))


def _codes_known(steps: list[Labels], products: Products) -> Iterator[Problem]:
    for product in dict.fromkeys(each.product for each in steps):
        # The links have spoken of a product that is not known.
        if product in products.products:
            yield from _each_bottle_has_one(product, products.products[product])


def _each_bottle_has_one(name: Text, product: Product) -> Iterator[Problem]:
    without = [f"'{size}'" for size in product.bottles if size not in product.labels]
    if without:
        message = f"labels of '{name}' are changed to, and there is no code for {', '.join(without)}"
        hint = f"write it under 'labels' of '{name}' in products.yaml, under the size of the bottle"
        yield Problem(name.span, "labels-without-code", message, hint)


def _counted_both_ways(steps: list[Labels]) -> Iterator[Problem]:
    for step in steps:
        other = OTHER[step.counted]
        if not any(each.product == step.product and each.counted == other for each in steps):
            yield _counted_once(step)


def _counted_once(step: Labels) -> Problem:
    if step.counted == OUT:
        message = f"labels of '{step.product}' are taken out and never counted in"
        return Problem(step.span, "labels-not-in", message, f"count them where they are put away: 'counted: {IN}'")
    message = f"labels of '{step.product}' are counted in and never taken out"
    return Problem(step.span, "labels-not-out", message, f"count them where they are taken out: 'counted: {OUT}'")

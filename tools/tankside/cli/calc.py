"""``tankside calc``: one amount worked out at the command line."""

import json
from collections.abc import Sequence
from itertools import groupby
from pathlib import Path

import click

from tankside.quantities.calculation import Calculation, calculate, result_of
from tankside.quantities.counterpart import counterpart
from tankside.quantities.decimal_text import decimal_text, short_quantity
from tankside.quantities.documentation import Documentation
from tankside.quantities.helper import RECIPE, Argument, Helper
from tankside.quantities.infix import infix
from tankside.quantities.recipe import Recipe
from tankside.quantities.refusals import ArgumentFormError, ArgumentTwiceError, ArgumentUnknownError
from tankside.quantities.registry import HELPERS, helper_named
from tankside.units import Quantity, QuantityError, parse_quantity

_SIGNIFICANT = 6
#: Sections of a helper's documentation shown to people, under the words used for them.
_SHOWN = {"Args": "Arguments", "Returns": "Results", "Limits": "Limits", "Example": "Example", "Source": "Source"}


@click.command("calc", add_help_option=False)
@click.argument("name", required=False)
@click.argument("values", nargs=-1, metavar='[ARGUMENT="VALUE UNIT"]...')
@click.option("--working", is_flag=True, help="Show the working, line by line.")
@click.option("--json", "as_json", is_flag=True, help="Print exact values as JSON.")
@click.option(
    "--book",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    default=Path(),
    help="Folder of the book that knows the product.  [default: this folder]",
)
@click.option("--help", "wants_help", is_flag=True, help="Explain a helper, or list them all.")
@click.pass_context
def calc(
    ctx: click.Context,
    name: str | None,
    values: tuple[str, ...],
    working: bool,
    as_json: bool,
    book: Path,
    wants_help: bool,
) -> None:
    """Work out an amount with a published formula, exactly."""
    try:
        if name is None:
            click.echo(f"{ctx.get_help()}\n\n{_list_of_helpers()}" if wants_help else _list_of_helpers())
        elif wants_help or not values:
            click.echo(_explanation(helper_named(name)))
        else:
            calculation = _calculation(helper_named(name), values, book)
            click.echo(_json_text(calculation) if as_json else _text(calculation, working))
    except QuantityError as error:
        click.echo(f"error: {error.sentence} [{error.code}]\n    hint: {error.hint}", err=True)
        ctx.exit(2)


def _list_of_helpers() -> str:
    width = max(map(len, HELPERS))
    blocks = []
    for task, helpers in groupby(sorted(HELPERS.values(), key=lambda helper: helper.task), lambda helper: helper.task):
        lines = [f"  {helper.name:{width}}  {_gist(helper.documentation)}" for helper in helpers]
        blocks.append("\n".join((task, *lines)))
    closing = 'tankside calc NAME explains one; tankside calc NAME ARGUMENT="VALUE UNIT" ... works it out.'
    return "\n\n".join((*blocks, closing))


def _explanation(helper: Helper) -> str:
    text = helper.documentation
    shown = [("Formula", _formulas(helper)), *((title, text.sections[heading]) for heading, title in _SHOWN.items())]
    blocks = [f"{title}\n{_indented(body)}" for title, body in shown]
    return "\n\n".join((f"{helper.name}: {_gist(text)}", *blocks))


def _formulas(helper: Helper) -> str:
    """Return each form of each formula once, written as the working writes it."""
    forms = (
        f"{name} = {infix(tree, str)}" for variant in helper.variants for name, tree in helper.trees(variant).items()
    )
    return "\n".join(dict.fromkeys(forms))


def _gist(text: Documentation) -> str:
    return text.summary.removeprefix("Return ").removesuffix(".")


def _indented(body: str) -> str:
    return "\n".join(f"  {line}".rstrip() for line in body.splitlines())


def _calculation(helper: Helper, values: Sequence[str], book: Path) -> Calculation:
    given: dict[str, Quantity | Recipe] = {}
    for value in values:
        name, mark, text = value.partition("=")
        if not mark:
            raise ArgumentFormError(value)
        if name in given:
            raise ArgumentTwiceError(helper.name, name)
        given[name] = _value(_argument(helper, name), text, book)
    return calculate(helper, given)


def _argument(helper: Helper, name: str) -> Argument:
    known = [argument.name for argument in helper.arguments]
    if name not in known:
        raise ArgumentUnknownError(helper.name, name, known)
    return helper.argument(name)


def _value(argument: Argument, text: str, book: Path) -> Quantity | Recipe:
    if argument.kinds == (RECIPE,):
        return _recipe(book, text)
    return parse_quantity(text, argument.kinds, argument.name)


def _recipe(book: Path, product: str) -> Recipe:
    # Only this helper reads a book; the others start without the cost of loading one.
    from tankside.compute.recipes import BookHasProblemsError, recipe_from_folder
    from tankside.compute.trouble import CannotWorkOutError

    try:
        return recipe_from_folder(book, product)
    except BookHasProblemsError as error:
        click.echo(error.problem.as_text(), err=True)
        click.echo("Nothing was worked out: the book has problems; 'tankside check' lists them all.", err=True)
        raise click.exceptions.Exit(1) from error
    except CannotWorkOutError as error:
        click.echo(error.problem.as_text(), err=True)
        raise click.exceptions.Exit(2) from error


def _json_text(calculation: Calculation) -> str:
    results = {
        name: {"value": decimal_text(quantity.number), "unit": quantity.unit.symbol}
        for name, quantity in calculation.results.items()
    }
    found = {"helper": calculation.helper.name, "results": results, "working": calculation.working}
    return json.dumps(found, ensure_ascii=False, indent=2)


def _text(calculation: Calculation, working: bool) -> str:
    width = max(map(len, calculation.results))
    lines = [
        f"{name:{width}}  {_both_systems(quantity)}  {result_of(calculation.helper, name).says}"
        for name, quantity in calculation.results.items()
    ]
    return "\n".join((*lines, "", *calculation.working) if working else lines)


def _both_systems(quantity: Quantity) -> str:
    other = counterpart(quantity)
    return f"{_short(quantity)} ({_short(other)})" if other else _short(quantity)


def _short(quantity: Quantity) -> str:
    text, exact = short_quantity(quantity, _SIGNIFICANT)
    return text if exact else f"≈ {text}"

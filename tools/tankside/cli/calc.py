"""``tankside calc``: one amount worked out at the command line."""

import json
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import click

from tankside.cli.drawing import findings_svg
from tankside.cli.explaining import explanation, list_of_helpers
from tankside.quantities.calculation import Calculation, calculate, result_of
from tankside.quantities.columns import LARGEST, read_columns
from tankside.quantities.counterpart import counterpart
from tankside.quantities.decimal_text import decimal_text, short_quantity
from tankside.quantities.given import Choice, Given, Worth, read_worth
from tankside.quantities.helper import RECIPE, Argument, Contract, Helper
from tankside.quantities.recipe import Recipe
from tankside.quantities.refusals import ArgumentFormError, ArgumentTwiceError, ArgumentUnknownError, FileFormError
from tankside.quantities.registry import REPORTS, helper_named
from tankside.quantities.report import Findings, Report, findings
from tankside.units import Quantity, QuantityError

if TYPE_CHECKING:
    from tankside.compute.jurisdiction import Law

_SIGNIFICANT = 6
_Read = TypeVar("_Read")


@click.command("calc", add_help_option=False)
@click.argument("name", required=False)
@click.argument("values", nargs=-1, metavar='[ARGUMENT="VALUE UNIT"]...')
@click.option("--working", is_flag=True, help="Show the working, line by line.")
@click.option("--json", "as_json", is_flag=True, help="Print exact values as JSON.")
@click.option(
    "--book",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    default=Path(),
    help="Folder of the book that knows the product, or whose law applies.  [default: this folder]",
)
@click.option(
    "--draw",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Draw the values of a report against its limits, into an SVG file; nothing is overwritten.",
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
    draw: Path | None,
    wants_help: bool,
) -> None:
    """Work out an amount with a published formula, exactly."""
    try:
        if name is None:
            click.echo(f"{ctx.get_help()}\n\n{list_of_helpers()}" if wants_help else list_of_helpers())
        elif wants_help or not values:
            click.echo(explanation(helper_named(name)))
        else:
            helper = helper_named(name)
            outcome = _outcome(helper, _given(helper, values, book), book)
            if draw is not None:
                _draw(helper, outcome, draw)
            click.echo(_json_text(helper, outcome) if as_json else _text(helper, outcome, working))
    except QuantityError as error:
        click.echo(f"error: {error.sentence} [{error.code}]\n    hint: {error.hint}", err=True)
        ctx.exit(2)


def _draw(helper: Contract, outcome: Calculation | Findings, file: Path) -> None:
    if not isinstance(outcome, Findings):
        raise click.UsageError(f"'{helper.name}' has nothing to draw; {', '.join(REPORTS)} have")
    try:
        with file.open("x", encoding="utf-8", newline="\n") as stream:
            stream.write(findings_svg(helper.name, outcome) + "\n")
    except OSError as error:
        raise click.UsageError(f"{file} cannot be written: {error.strerror or error}") from error


def _given(helper: Contract, values: Sequence[str], book: Path) -> Given:
    given: dict[str, Worth] = {}
    for value in values:
        name, mark, text = value.partition("=")
        if not mark:
            raise ArgumentFormError(value)
        if name in given:
            raise ArgumentTwiceError(helper.name, name)
        given[name] = _value(_argument(helper, name), text, book)
    return given


def _outcome(helper: Helper | Report, given: Given, book: Path) -> Calculation | Findings:
    if isinstance(helper, Helper):
        return calculate(helper, given)
    law = _law(book) if any(argument.name == "law" for argument in helper.arguments) else None
    if law is None:
        return findings(helper, given)
    wants_rows = given.get("law") == Choice("US") and "density" in given and "variations" not in given
    if wants_rows and law.liquid_variations is not None:
        given = {**given, "variations": law.liquid_variations}
    return findings(helper, given).under(law.jurisdiction)


def _argument(helper: Contract, name: str) -> Argument:
    known = [argument.name for argument in helper.arguments]
    if name not in known:
        raise ArgumentUnknownError(helper.name, name, known)
    return helper.argument(name)


def _value(argument: Argument, text: str, book: Path) -> Worth:
    if argument.kinds == (RECIPE,):
        return _recipe(book, text)
    if (argument.is_list or argument.is_grouped) and text.lower().endswith(".csv"):
        return read_columns(argument, text, _bytes_of(text))
    return read_worth(argument, text)


def _bytes_of(file: str) -> bytes:
    """Return what a file begins with; a byte more than allowed is enough to see that it is too large."""
    try:
        if not Path(file).is_file():
            raise FileNotFoundError(file)
        with Path(file).open("rb") as stream:
            return stream.read(LARGEST + 1)
    except (OSError, ValueError) as error:
        raise FileFormError(f"{file} cannot be read", "name a CSV file as seen from this folder") from error


def _recipe(book: Path, product: str) -> Recipe:
    # Only this helper needs a recipe; the others start without the cost of loading a book.
    from tankside.compute.recipes import recipe_from_folder

    return _from_book(lambda: recipe_from_folder(book, product))


def _law(book: Path) -> "Law | None":
    from tankside.compute.jurisdiction import law_from_folder

    return _from_book(lambda: law_from_folder(book))


def _from_book(read: Callable[[], _Read]) -> _Read:
    from tankside.compute.recipes import BookHasProblemsError
    from tankside.compute.trouble import CannotWorkOutError

    try:
        return read()
    except BookHasProblemsError as error:
        click.echo(error.problem.as_text(), err=True)
        click.echo("Nothing was worked out: the book has problems; 'tankside check' lists them all.", err=True)
        raise click.exceptions.Exit(1) from error
    except CannotWorkOutError as error:
        click.echo(error.problem.as_text(), err=True)
        raise click.exceptions.Exit(2) from error


def _json_text(helper: Contract, outcome: Calculation | Findings) -> str:
    results = {
        name: {"value": decimal_text(quantity.number), "unit": quantity.unit.symbol}
        for name, quantity in outcome.results.items()
    }
    results |= {name: {"value": word, "unit": ""} for name, word in outcome.words.items()}
    found = {"helper": helper.name, "results": results, "working": outcome.working}
    return json.dumps(found, ensure_ascii=False, indent=2)


def _text(helper: Contract, outcome: Calculation | Findings, working: bool) -> str:
    width = max(map(len, (*outcome.results, *outcome.words)))
    lines = [f"{name:{width}}  {word}" for name, word in outcome.words.items()]
    lines += [
        f"{name:{width}}  {_both_systems(quantity)}  {result_of(helper, name).says}"
        for name, quantity in outcome.results.items()
    ]
    return "\n".join((*lines, "", *outcome.working) if working else lines)


def _both_systems(quantity: Quantity) -> str:
    other = counterpart(quantity)
    return f"{_short(quantity)} ({_short(other)})" if other else _short(quantity)


def _short(quantity: Quantity) -> str:
    text, exact = short_quantity(quantity, _SIGNIFICANT)
    return text if exact else f"≈ {text}"

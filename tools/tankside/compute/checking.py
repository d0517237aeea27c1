"""Every quantity of a book read, every amount worked out: what is wrong with them."""

from collections.abc import Iterator

from tankside.catalogue.walking import texts
from tankside.compute.amounts import WorkedBook
from tankside.compute.facts import limits_problem, quantity
from tankside.compute.measuring import range_problem
from tankside.compute.recipes import recipe_of
from tankside.compute.trouble import CannotWorkOutError, NotResolvedError
from tankside.loading.values import Text
from tankside.memory import remembered
from tankside.model.facts import Limits, Plant
from tankside.model.procedures import Input, Procedure
from tankside.model.references import Measures
from tankside.model.steps import Add, every
from tankside.problems import Problem, unless_spoken


def amount_problems(worked: WorkedBook) -> Iterator[Problem]:
    """Return the problems of all quantities, limits, recipes and amounts."""
    book = worked.book
    plant = book.plant
    parts = (plant.equipment, plant.materials, plant.products, *book.procedures.values())
    unreadable = tuple(problem for part in parts for problem in _unreadable(part))
    yield from unreadable
    yield from unless_spoken(unreadable, _unworkable(worked))


def _unworkable(worked: WorkedBook) -> Iterator[Problem]:
    book = worked.book
    yield from _limits(book.plant)
    yield from _recipes(book.plant)
    for procedure in book.procedures.values():
        for chosen in procedure.inputs.values():
            yield from _input(chosen)
        if procedure.is_complete:
            yield from _additions(procedure)
        yield from worked.of(procedure)[1]


@remembered
def _unreadable(part: object) -> tuple[Problem, ...]:
    problems = []
    for text, meaning in texts(part):
        if isinstance(meaning, Measures):
            try:
                quantity(text, *meaning.kinds, sign=meaning.sign)
            except CannotWorkOutError as error:
                problems.append(error.problem)
    return tuple(problems)


def _limits(plant: Plant) -> Iterator[Problem]:
    ranges = [piece.range for piece in plant.equipment.equipment.values() if piece.range is not None]
    limits = [each for material in plant.materials.materials.values() for each in material.limits.values()]
    for each in (*ranges, *limits):
        yield from _reversed(each)
    for piece in plant.equipment.equipment.values():
        problem = range_problem(piece)
        yield from () if problem is None else (problem,)


def _reversed(limits: Limits) -> Iterator[Problem]:
    try:
        problem = limits_problem(limits)
    except CannotWorkOutError as error:
        problem = error.problem
    if problem is not None:
        yield problem


def _recipes(plant: Plant) -> Iterator[Problem]:
    for name in plant.products.products:
        try:
            recipe_of(plant, name)
        except CannotWorkOutError as error:
            yield error.problem
        except NotResolvedError:
            continue


def _input(chosen: Input) -> Iterator[Problem]:
    try:
        reversed_ends = limits_problem(Limits(chosen.from_, chosen.to))
        if reversed_ends is not None:
            yield reversed_ends
            return
        low = quantity(chosen.from_)
        high = quantity(chosen.to, low.unit.kind.name)
        values = [(each, quantity(each, low.unit.kind.name)) for each in (chosen.usual, *chosen.table)]
    except CannotWorkOutError as error:
        yield error.problem
        return
    for text, value in values:
        if not low.value <= value.value <= high.value:
            message = f"'{text}' is not from '{chosen.from_}' to '{chosen.to}'"
            yield Problem(text.span, "input-out-of-range", message, "correct it or the range")


def _additions(procedure: Procedure) -> Iterator[Problem]:
    """An addition is weighed or measured: its amount is one of the procedure's, with a vessel and a tolerance."""
    for item in every(procedure.steps):
        if isinstance(item, Add):
            amount = procedure.amounts.get(Text(item.amount.strip("<>"), item.amount.span))
            if amount is None or amount.measure_in is None:
                message = f"'{item.amount}' does not say with what it is measured"
                hint = "name an amount of this procedure, as <name>, that has 'measure_in' and 'tolerance'"
                yield Problem(item.amount.span, "addition-not-measured", message, hint)

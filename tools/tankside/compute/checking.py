"""Every quantity of a book read, every amount worked out: what is wrong with them."""

from collections.abc import Iterator
from fractions import Fraction

from tankside.catalogue.walking import texts
from tankside.compute.amounts import WorkedBook
from tankside.compute.charts import capacity_of, dilution_chart, dip_chart, fill_chart, purge_chart
from tankside.compute.facts import limits_problem, quantity
from tankside.compute.measuring import DIGITS, range_problem
from tankside.compute.recipes import recipe_of
from tankside.compute.trouble import CannotWorkOutError, NotResolvedError
from tankside.loading.values import Text
from tankside.memory import remembered
from tankside.model.claims import ClaimUnclearError, read_claim
from tankside.model.facts import Limits, Piece, Plant, Shape
from tankside.model.procedures import Input, Procedure
from tankside.model.references import Claims, Measures
from tankside.model.steps import Add, every
from tankside.problems import Problem, unless_spoken
from tankside.quantities.decimal_text import short_quantity
from tankside.units import Quantity

#: how far the capacity said may be from the one worked out from the shape; rounded ends and fittings take some
CAPACITY_OFF = Fraction(1, 10)


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
    yield from _charts(book.plant)
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
        try:
            if isinstance(meaning, Measures):
                quantity(text, *meaning.kinds, sign=meaning.sign)
            elif isinstance(meaning, Claims):
                _claimed(text)
        except CannotWorkOutError as error:
            problems.append(error.problem)
    return tuple(problems)


def _claimed(text: Text) -> None:
    try:
        claim = read_claim(text)
    except ClaimUnclearError:
        # The links have spoken of it.
        return
    if claim.quantity is not None:
        quantity(claim.quantity, "volume", sign="at least 0")


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


def _charts(plant: Plant) -> Iterator[Problem]:
    """Return what stands in the way of the charts, and tanks that do not hold what is said of them."""
    for tag, piece in plant.equipment.equipment.items():
        try:
            if piece.shape is not None:
                dip_chart(str(tag), piece)
                yield from _capacity(tag, piece, piece.shape)
            if piece.air is not None:
                purge_chart(str(tag), piece.air)
        except CannotWorkOutError as error:
            yield error.problem
    for name, material in plant.materials.materials.items():
        try:
            dilution_chart(str(name), material)
        except CannotWorkOutError as error:
            yield error.problem
    for name, product in plant.products.products.items():
        try:
            fill_chart(plant, str(name), product)
        except CannotWorkOutError as error:
            yield error.problem
        except NotResolvedError:
            continue


def _capacity(tag: Text, piece: Piece, shape: Shape) -> Iterator[Problem]:
    if piece.capacity is None:
        return
    said, found = quantity(piece.capacity, "volume", sign="above 0"), capacity_of(shape)
    if abs(found.value / said.value - 1) > CAPACITY_OFF:
        text = short_quantity(Quantity(found.value, said.unit), DIGITS)[0]
        message = f"'{tag}' has the capacity '{piece.capacity}', but its shape holds {text}"
        yield Problem(
            piece.capacity.span, "capacity-differs", message, "measure the tank again and correct one of them"
        )


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

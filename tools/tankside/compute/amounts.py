"""Every amount of a procedure, worked out for each value its input may take."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from tankside.catalogue import Book
from tankside.catalogue.links import is_number
from tankside.compute.facts import fact, quantity, shape_named
from tankside.compute.live import live_calculation, live_receiver, live_vessel
from tankside.compute.measuring import Measured, measured, receiver_problem, vessel_problems
from tankside.compute.recipes import recipe_of
from tankside.compute.trouble import CannotWorkOutError, NotResolvedError, standing_at
from tankside.compute.withheld import as_told
from tankside.compute.worked import Worked, WorkedAmount
from tankside.loading.values import Text
from tankside.memory import remembered
from tankside.model.facts import Plant
from tankside.model.procedures import Amount, Input, Procedure
from tankside.problems import Problem, Span, quoted
from tankside.quantities.calculation import Calculation, calculate, result_of, tree_with_constants
from tankside.quantities.expression import Expression, Json, Name, substitute, to_json
from tankside.quantities.given import Given, Worth, read_worth
from tankside.quantities.helper import RECIPE, Argument, Helper
from tankside.quantities.portable import Portable
from tankside.quantities.refusals import ArgumentNotUsedError, ArgumentUnknownError
from tankside.quantities.registry import HELPERS
from tankside.units import Quantity, QuantityError, Unit


class WorkedBook:
    """The amounts of a book, each procedure's worked out once."""

    def __init__(self, book: Book) -> None:
        """Work out the amounts of `book` when they are asked for."""
        self.book = book
        self._done: dict[str, tuple[Mapping[str, WorkedAmount], tuple[Problem, ...]]] = {}

    def of(self, procedure: Procedure) -> tuple[Mapping[str, WorkedAmount], tuple[Problem, ...]]:
        """Return what `worked_amounts` does."""
        name = str(procedure.procedure)
        if name not in self._done:
            self._done[name] = worked_amounts(self.book.plant, procedure)
        return self._done[name]


@remembered
def worked_amounts(plant: Plant, procedure: Procedure) -> tuple[Mapping[str, WorkedAmount], tuple[Problem, ...]]:
    """Return the amounts of a procedure that could be worked out, by name, and the problems of all."""
    amounts: dict[str, WorkedAmount] = {}
    problems: list[Problem] = []
    for name in procedure.amounts:
        worker = _Worker(plant, procedure, name, ())
        try:
            amounts[str(name)] = as_told(plant, procedure, name, worker.worked())
            problems.extend(worker.problems())
        except CannotWorkOutError as error:
            problems.append(error.problem)
        except NotResolvedError:
            continue
    return amounts, tuple(problems)


@dataclass(frozen=True)
class _Worker:
    """Works out one amount of a procedure."""

    plant: Plant
    procedure: Procedure
    name: Text
    #: the amounts that wait for this one
    waiting: tuple[str, ...]

    @cached_property
    def amount(self) -> Amount:
        if self.name in self.waiting:
            raise CannotWorkOutError(self._circle(self.waiting[self.waiting.index(self.name) :]))
        return self.procedure.amounts[self.name]

    def _circle(self, members: tuple[str, ...]) -> Problem:
        """Return the same problem whichever of the members was asked for."""
        defined = [name for name in self.procedure.amounts if name in members]
        start = members.index(defined[0])
        chain = " needs ".join(f"'{name}'" for name in (*members[start:], *members[:start], defined[0]))
        hint = "give one of them a number or a fact instead"
        return Problem(defined[0].span, "amount-circular", f"this amount needs itself: {chain}", hint)

    @cached_property
    def helper(self) -> Helper:
        if self.amount.calculate not in HELPERS:
            raise NotResolvedError
        return HELPERS[self.amount.calculate]

    @cached_property
    def input_name(self) -> Text | None:
        """The input it depends on, itself or through another amount."""
        for value in self.amount.with_.values():
            if value in self.procedure.inputs:
                return value
            inherited = self._other(value).input_name if value in self.procedure.amounts else None
            if inherited is not None:
                return inherited
        return None

    @cached_property
    def input(self) -> Input | None:
        return None if self.input_name is None else self.procedure.inputs[self.input_name]

    @cached_property
    def usual(self) -> Quantity | None:
        return None if self.input is None else quantity(self.input.usual)

    @cached_property
    def result(self) -> str:
        """The name of the wanted result; a helper with one result needs none."""
        known = tuple(self._calculation(self.usual).results)
        wanted = self.amount.result
        if wanted in known:
            return str(wanted)
        if wanted is None and len(known) == 1:
            return known[0]
        message = (
            f"it does not say which result of '{self.helper.name}' is meant"
            if wanted is None
            else f"{quoted(wanted)} is no result of '{self.helper.name}'"
        )
        hint = f"write 'result: ...' with one of: {', '.join(known)}"
        raise CannotWorkOutError(Problem((wanted or self.amount.calculate).span, "result-unclear", message, hint))

    def worked(self) -> WorkedAmount:
        """Return the amount at the usual value of its input, and at each value of the table."""
        amount = self.amount
        return WorkedAmount(
            name=str(self.name),
            title=str(amount.title),
            helper=str(amount.calculate),
            result=self.result,
            input=_plain(self.input_name),
            measure_in=_plain(amount.measure_in),
            tolerance=None if amount.tolerance is None else quantity(amount.tolerance),
            collect_in=_plain(amount.collect_in),
            tree=self._tree(),
            usual=self._at(self.usual),
            least=min(self._shown(), key=lambda each: each.value),
            most=max(self._shown(), key=lambda each: each.value),
            table=() if self.input is None else tuple(self._at(quantity(each)) for each in self.input.table),
            live=None if self.input is None else self._live(),
        )

    def _shown(self) -> tuple[Quantity, ...]:
        """Return what is measured out at each value of the input that it must hold for."""
        exact = tuple(self._exact(value) for value in self._values_to_hold_for())
        rounded = (self._rounding(each) for each in exact)
        return tuple(one if other is None else other.shown for one, other in zip(exact, rounded, strict=True))

    def problems(self) -> Iterator[Problem]:
        """Return what is wrong with the amount at the values of its input that it must hold for."""
        exact = [self._exact(value) for value in self._values_to_hold_for()]
        rounded = [each for each in map(self._rounding, exact) if each is not None]
        if rounded and self.amount.tolerance is not None:
            yield from vessel_problems(self.plant.equipment, rounded, self.amount.tolerance)
        if self.amount.collect_in is not None and self.amount.collect_in in self.plant.equipment.equipment:
            shown = [each.shown for each in rounded] or exact
            most = max(shown, key=lambda each: each.value)
            problem = receiver_problem(self.plant.equipment, self.amount.collect_in, most)
            yield from () if problem is None else (problem,)

    def _values_to_hold_for(self) -> tuple[Quantity | None, ...]:
        if self.input is None:
            return (None,)
        return tuple(quantity(each) for each in (self.input.from_, self.input.to, self.input.usual, *self.input.table))

    def _at(self, chosen: Quantity | None) -> Worked:
        done = self._calculation(chosen)
        exact = done.results[self.result]
        rounding = self._rounding(exact)
        if rounding is None:
            return Worked(chosen, exact, exact, done.working)
        return Worked(chosen, exact, rounding.shown, (*done.working, *rounding.working))

    def _exact(self, chosen: Quantity | None) -> Quantity:
        return self._calculation(chosen).results[self.result]

    @cached_property
    def _done(self) -> dict[Quantity | None, Calculation]:
        return {}

    def _calculation(self, chosen: Quantity | None) -> Calculation:
        if chosen not in self._done:
            self._done[chosen] = self._calculated(chosen)
        return self._done[chosen]

    def _calculated(self, chosen: Quantity | None) -> Calculation:
        given = self._given(chosen)
        try:
            return calculate(self.helper, given)
        except QuantityError as error:
            with standing_at(self._place_of(error)):
                raise

    def _given(self, chosen: Quantity | None) -> Given:
        given: dict[str, Worth] = {}
        for key, value in self.amount.with_.items():
            given |= self._worths(key, value, chosen)
        return given

    def _place_of(self, error: QuantityError) -> Span:
        """Return where the argument stands that a refusal is about, else where the helper is named."""
        # The sentence of a value that is refused begins with the name of its argument.
        unused = error.name if isinstance(error, ArgumentNotUsedError) else None
        blamed = (
            value for key, value in self.amount.with_.items() if key == unused or error.sentence.startswith(f"{key} '")
        )
        return next(blamed, self.amount.calculate).span

    def _rounding(self, exact: Quantity) -> Measured | None:
        if self.amount.measure_in is None:
            return None
        if self.amount.measure_in not in self.plant.equipment.equipment:
            raise NotResolvedError
        direction = result_of(self.helper, self.result).direction
        return measured(self.plant.equipment, self.amount.measure_in, exact, direction)

    def _live(self) -> Portable:
        amount, equipment = self.amount, self.plant.equipment
        sources = {str(key): str(value) for key, value in amount.with_.items() if self._is_open(value)}
        rounding = self._rounding(self._exact(self.usual))
        return {
            "name": str(self.name),
            "title": str(amount.title),
            **live_calculation(self.helper, self._given(self.usual), sources),
            "result": self.result,
            "vessel": rounding and amount.tolerance and live_vessel(equipment, rounding, amount.tolerance),
            "receiver": amount.collect_in and live_receiver(equipment, amount.collect_in),
        }

    def _is_open(self, value: Text) -> bool:
        """Whether a value is another one for another value of the input."""
        amounts = self.procedure.amounts
        return value in self.procedure.inputs or (value in amounts and self._other(value).input_name is not None)

    def _tree(self) -> Json:
        tree = self._exact_tree()
        rounding = self._rounding(self._exact(self.usual))
        return to_json(tree if rounding is None else rounding.tree(tree))

    def _exact_tree(self) -> Expression:
        """Return the formula before rounding, with the input as its only name."""
        constants: dict[str, Worth] = {}
        units: dict[str, Unit] = {}
        open_parts: dict[str, Expression] = {}
        for key, value in self.amount.with_.items():
            worths = self._worths(key, value, self.usual)
            worth = worths.get(str(key))
            if isinstance(worth, Quantity) and value in self.procedure.inputs:
                units[str(key)], open_parts[str(key)] = worth.unit, Name(str(value))
            elif isinstance(worth, Quantity) and value in self.procedure.amounts:
                units[str(key)], open_parts[str(key)] = worth.unit, self._other(value)._exact_tree()
            else:
                constants |= worths
        return substitute(tree_with_constants(self.helper, constants, units)[self.result], open_parts)

    def _worths(self, key: Text, value: Text, chosen: Quantity | None) -> Mapping[str, Worth]:
        """Return what an argument of the book stands for: itself, or a tank's shape with all its sizes."""
        is_known = any(each.name == key and each.choices for each in self.helper.arguments)
        if is_known and "." in value:
            return shape_named(self.plant.equipment, value)
        return {str(key): self._value(key, value, chosen)}

    def _value(self, key: Text, value: Text, chosen: Quantity | None) -> Worth:
        known = {each.name: each for each in self.helper.arguments}
        if key not in known:
            with standing_at(key.span):
                raise ArgumentUnknownError(self.helper.name, str(key), known)
        if known[key].kinds == (RECIPE,):
            return recipe_of(self.plant, value)
        if value in self.procedure.inputs:
            assert chosen is not None, "an amount with an input is worked out for a value of it"
            return chosen
        if value in self.procedure.amounts:
            return self._other(value)._exact(chosen)
        return self._constant(known[key], value)

    def _constant(self, argument: Argument, value: Text) -> Worth:
        if is_number(value) or argument.choices:
            with standing_at(value.span):
                return read_worth(argument, value)
        if value.partition(".")[0] not in self.plant.equipment.equipment:
            raise NotResolvedError
        return fact(self.plant.equipment, value)

    def _other(self, name: Text) -> "_Worker":
        return _Worker(self.plant, self.procedure, name, (*self.waiting, str(self.name)))


def _plain(text: Text | None) -> str | None:
    return None if text is None else str(text)

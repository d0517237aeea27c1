"""Every amount of a procedure, worked out for each value its input may take."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from tankside.catalogue import Book
from tankside.compute.facts import fact, quantity
from tankside.compute.measuring import Measured, measured, receiver_problem
from tankside.compute.recipes import recipe_of
from tankside.compute.trouble import CannotWorkOutError, standing_at
from tankside.loading.values import Text
from tankside.model.procedures import Amount, Input, Procedure
from tankside.problems import Problem
from tankside.quantities.calculation import Calculation, calculate, result_of, tree_with_constants
from tankside.quantities.expression import Json, Name, substitute, to_json
from tankside.quantities.helper import RECIPE, Helper
from tankside.quantities.recipe import Recipe
from tankside.quantities.refusals import ArgumentUnknownError
from tankside.quantities.registry import HELPERS
from tankside.units import Quantity, Unit, parse_quantity


@dataclass(frozen=True)
class Worked:
    """An amount for one value of the input."""

    #: the input's value; None when the amount does not depend on it
    at: Quantity | None
    exact: Quantity
    #: what to measure out: rounded to the vessel where one is named, else the same as `exact`
    shown: Quantity
    working: tuple[str, ...]


@dataclass(frozen=True)
class WorkedAmount:
    """An amount of a procedure with all that a reader gets of it."""

    name: str
    title: str
    helper: str
    result: str
    #: the input it depends on
    input: str | None
    measure_in: str | None
    #: how far what is measured may be off
    tolerance: Quantity | None
    collect_in: str | None
    #: the formula with this workshop's constants filled in and rounding to the vessel, in base units
    tree: Json
    usual: Worked
    #: for each value that the sheet lists; empty when it does not depend on the input
    table: tuple[Worked, ...]


class _NotResolvedError(Exception):
    """The amount needs a name that is not defined; resolving names has said so."""


def worked_amounts(book: Book, procedure: Procedure) -> tuple[Mapping[str, WorkedAmount], tuple[Problem, ...]]:
    """Return the amounts of a procedure that could be worked out, by name, and the problems of all."""
    amounts: dict[str, WorkedAmount] = {}
    problems: list[Problem] = []
    for name in procedure.amounts:
        worker = _Worker(book, procedure, name, ())
        try:
            amounts[str(name)] = worker.worked()
            problems.extend(worker.problems())
        except CannotWorkOutError as error:
            problems.append(error.problem)
        except _NotResolvedError:
            continue
    return amounts, tuple(problems)


@dataclass(frozen=True)
class _Worker:
    """Works out one amount of a procedure."""

    book: Book
    procedure: Procedure
    name: Text
    #: the amounts that wait for this one
    waiting: tuple[str, ...]

    @cached_property
    def amount(self) -> Amount:
        if self.name in self.waiting:
            chain = " needs ".join((*self.waiting[self.waiting.index(self.name) :], self.name))
            message = f"this amount needs itself: {chain}"
            raise CannotWorkOutError(Problem(self.name.span, "amount-circular", message, "break the circle"))
        return self.procedure.amounts[self.name]

    @cached_property
    def helper(self) -> Helper:
        if self.amount.calculate not in HELPERS:
            raise _NotResolvedError
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
            else f"'{wanted}' is no result of '{self.helper.name}'"
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
            table=() if self.input is None else tuple(self._at(quantity(each)) for each in self.input.table),
        )

    def problems(self) -> Iterator[Problem]:
        """Return what is wrong with the amount at the values of its input that it must hold for."""
        for value in self._values_to_hold_for():
            exact = self._exact(value)
            rounding = self._rounding(exact)
            if rounding is not None and self.amount.tolerance is not None:
                yield from rounding.problems(self.book.equipment, self.amount.tolerance)
            if self.amount.collect_in is not None:
                yield from receiver_problem(self.book.equipment, self.amount.collect_in, exact)

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

    def _calculation(self, chosen: Quantity | None) -> Calculation:
        given = {str(key): self._value(key, value, chosen) for key, value in self.amount.with_.items()}
        with standing_at(self.amount.calculate.span):
            return calculate(self.helper, given)

    def _rounding(self, exact: Quantity) -> Measured | None:
        if self.amount.measure_in is None:
            return None
        if self.amount.measure_in not in self.book.equipment.equipment:
            raise _NotResolvedError
        direction = result_of(self.helper, self.result).direction
        return measured(self.book.equipment, self.amount.measure_in, exact, direction)

    def _tree(self) -> Json:
        constants: dict[str, Quantity | Recipe] = {}
        units: dict[str, Unit] = {}
        names: dict[str, Name] = {}
        for key, value in self.amount.with_.items():
            worth = self._value(key, value, self.usual)
            if isinstance(worth, Quantity) and (value in self.procedure.inputs or value in self.procedure.amounts):
                units[str(key)], names[str(key)] = worth.unit, Name(str(value))
            else:
                constants[str(key)] = worth
        tree = substitute(tree_with_constants(self.helper, constants, units)[self.result], names)
        rounding = self._rounding(self._exact(self.usual))
        return to_json(tree if rounding is None else rounding.tree(tree))

    def _value(self, key: Text, value: Text, chosen: Quantity | None) -> Quantity | Recipe:
        kinds = {each.name: each.kinds for each in self.helper.arguments}
        if key not in kinds:
            with standing_at(key.span):
                raise ArgumentUnknownError(self.helper.name, str(key), kinds)
        if kinds[key] == (RECIPE,):
            if value not in self.book.products.products:
                raise _NotResolvedError
            return recipe_of(self.book, value)
        if value in self.procedure.inputs:
            assert chosen is not None, "an amount with an input is worked out for a value of it"
            return chosen
        if value in self.procedure.amounts:
            return self._other(value)._exact(chosen)
        return self._constant(key, value, kinds[key])

    def _constant(self, key: Text, value: Text, kinds: tuple[str, ...]) -> Quantity:
        if value[:1].isdigit() or value[:1] in "+-":
            with standing_at(value.span):
                return parse_quantity(value, kinds, str(key))
        if value.partition(".")[0] not in self.book.equipment.equipment:
            raise _NotResolvedError
        return fact(self.book.equipment, value)

    def _other(self, name: Text) -> "_Worker":
        return _Worker(self.book, self.procedure, name, (*self.waiting, str(self.name)))


def _plain(text: Text | None) -> str | None:
    return None if text is None else str(text)

"""Amounts as they are shown: inside a sentence, as a list with their workings, as a table by the input."""

from collections.abc import Mapping
from dataclasses import dataclass

from tankside.compute.worked import Worked, WorkedAmount
from tankside.model.procedures import Procedure
from tankside.texts import Words
from tankside.views.numbers import exact_text, other_text, primary_text
from tankside.views.wording import Run


@dataclass(frozen=True)
class AmountTexts:
    """The words for amounts in one edition."""

    #: id of the procedure
    procedure: str
    amounts: Mapping[str, WorkedAmount]
    say: Words
    units: str
    #: True on what is laminated: it must not carry the numbers of one batch
    is_laminated: bool
    #: whether it is for a page that works amounts out again for another value of the input
    is_live: bool

    def inside(self, name: str) -> Run:
        """Return the words for an amount inside a sentence."""
        amount = self.amounts[name]
        if amount.input is None:
            return Run(self.value(amount.usual), "amount")
        if self.is_laminated:
            return Run(self.say("amount-from-table", title=amount.title), "amount")
        words = f"{self.value(amount.usual)} ({self.at(amount.usual)})"
        return Run(words, "amount", follows=self.follows(amount))

    def follows(self, amount: WorkedAmount) -> str | None:
        """Return the name under which a live page finds each place of an amount that follows the input."""
        return f"{self.procedure}/{amount.name}" if self.is_live and amount.input is not None else None

    def by_input(self, name: str) -> tuple[tuple[str, str], ...]:
        """Return what stands at the step on a laminated sheet, nothing for an amount that depends on no input."""
        amount = self.amounts.get(name)
        if not self.is_laminated or amount is None:
            return ()
        return tuple((self.at(worked), self.value(worked)) for worked in amount.table)

    def value(self, worked: Worked) -> str:
        """Return the amount to measure out."""
        return primary_text(worked.shown, self.units, self.say)

    def both(self, worked: Worked) -> str:
        """Return the amount in both systems of units."""
        other = other_text(worked.shown, self.units, self.say)
        return self.value(worked) if other is None else f"{self.value(worked)} ({other})"

    def at(self, worked: Worked) -> str:
        """Return the words for the input's value that the amount is for."""
        assert worked.at is not None
        return self.say("amount-for", value=exact_text(worked.at))


@dataclass(frozen=True)
class AmountView:
    """An amount with how to measure it and how it was worked out."""

    title: str
    #: in both systems of units; for the usual value of its input
    value: str
    #: "for 200 L", empty when it depends on no input
    at: str
    #: see `Run`
    follows: str | None
    #: how to measure it, where to collect it
    remarks: tuple[str, ...]
    working: tuple[str, ...]


@dataclass(frozen=True)
class TableView:
    """The amounts that depend on the input, a row each, for the values that are listed."""

    by: str
    columns: tuple[str, ...]
    #: title and the amount for each column
    rows: tuple[tuple[str, tuple[str, ...]], ...]


def amount_views(texts: AmountTexts) -> tuple[AmountView, ...]:
    """Return every amount."""
    return tuple(_view(texts, amount) for amount in texts.amounts.values())


def _view(texts: AmountTexts, amount: WorkedAmount) -> AmountView:
    return AmountView(
        title=amount.title,
        value=texts.both(amount.usual),
        at="" if amount.input is None else texts.at(amount.usual),
        follows=texts.follows(amount),
        remarks=tuple(_remarks(texts, amount)),
        working=amount.usual.working,
    )


def _remarks(texts: AmountTexts, amount: WorkedAmount) -> list[str]:
    found = []
    if amount.measure_in is not None and amount.tolerance is not None:
        tolerance = primary_text(amount.tolerance, texts.units, texts.say)
        found.append(texts.say("amount-measured", tag=amount.measure_in, tolerance=tolerance))
    if amount.collect_in is not None:
        found.append(texts.say("amount-collected", tag=amount.collect_in))
    return found


def table_view(texts: AmountTexts, procedure: Procedure) -> TableView | None:
    """Return the table by the input, None when no amount depends on one."""
    dependent = [amount for amount in texts.amounts.values() if amount.table]
    if not dependent:
        return None
    asks = next(iter(procedure.inputs.values())).asks
    return TableView(
        by=str(asks),
        columns=tuple(exact_text(worked.at) for worked in dependent[0].table if worked.at is not None),
        rows=tuple((amount.title, tuple(map(texts.value, amount.table))) for amount in dependent),
    )

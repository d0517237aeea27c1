"""What the rules of the audit look at: the book, its dry runs, and the day."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from tankside.catalogue import Book
from tankside.memory import remembered
from tankside.model.facts import Plant
from tankside.model.procedures import Procedure
from tankside.model.steps import Caution, Item, Note, Section, Step, nested
from tankside.plant.rehearsal import Rehearsal


@dataclass(frozen=True)
class Placed:
    """A step where it stands."""

    step: Step
    #: counts from 0 in reading order, steps inside choices and repeats included
    number: int
    section: Section | None
    #: the cautions that stand before it and name it under `covers`
    cautions: tuple[Caution, ...]
    #: the cautions and notes directly before it, with no other step between
    directly_before: tuple[Caution | Note, ...]


@dataclass(frozen=True)
class Audited:
    """A book on a day."""

    rehearsal: Rehearsal
    day: date

    @property
    def book(self) -> Book:
        """The book."""
        return self.rehearsal.worked.book

    @property
    def plant(self) -> Plant:
        """What the book says of the workshop."""
        return self.book.plant

    @property
    def procedures(self) -> tuple[Procedure, ...]:
        """All procedures in the order of their ids."""
        return tuple(self.book.procedures[name] for name in sorted(self.book.procedures))

    def exposed(self, procedure: Procedure) -> Mapping[str, frozenset[str]]:
        """Return what may reach the person at each step, by its name: materials whose label has a signal word."""
        return self._exposed[str(procedure.procedure)]

    @cached_property
    def _exposed(self) -> Mapping[str, Mapping[str, frozenset[str]]]:
        return {str(each.procedure): self._of_steps(each) for each in self.procedures}

    def _of_steps(self, procedure: Procedure) -> Mapping[str, frozenset[str]]:
        hazardous = self.rehearsal.setting.hazardous
        found = self.rehearsal.of(str(procedure.procedure)).exposed
        met = {step: frozenset[str]().union(*(each.materials for each in all_)) for step, all_ in found.items()}
        return {step: materials & hazardous for step, materials in met.items() if materials & hazardous}


@remembered
def placed(procedure: Procedure) -> tuple[Placed, ...]:
    """Return the steps of a procedure in reading order, each with what stands before it."""
    return tuple(_placed(procedure))


def _placed(procedure: Procedure) -> Iterator[Placed]:
    section: Section | None = None
    before: list[Caution] = []
    near: list[Caution | Note] = []
    for number, item in enumerate(_flat(procedure.steps)):
        if isinstance(item, Section):
            section, near = item, []
        elif isinstance(item, Caution):
            before.append(item)
            near.append(item)
        elif isinstance(item, Note):
            near.append(item)
        elif isinstance(item, Step):
            covering = tuple(each for each in before if item.name in each.covers)
            yield Placed(item, number, section, covering, tuple(near))
            near = []


def _flat(items: tuple[Item, ...]) -> Iterator[Item]:
    for item in items:
        yield item
        for inner in nested(item):
            yield from _flat(inner)

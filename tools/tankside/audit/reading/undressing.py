"""Working days: what they put on and leave on, and whether hands are washed after the last gloves come off."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.dressing import put_on, taken_off
from tankside.audit.reading.wearing import HANDS, signed
from tankside.audit.reading.wording import sentences, words
from tankside.model.procedures import Checklist, Procedure, Reference
from tankside.model.steps import Do, Step
from tankside.plant.running import Run

#: what is done to hands, and with what
CLEANING = frozenset({"wash", "clean", "scrub"})
CLEANED = frozenset({"hands", "soap"})


@dataclass(frozen=True)
class Item:
    """An item of a checklist, as it is done in a day."""

    checklist: Checklist
    reference: Reference
    procedure: Procedure

    @property
    def steps(self) -> Iterator[Step]:
        """Its steps in reading order, without those that one is only sent to."""
        for each in placed(self.procedure):
            named, entered = (each.section.section, each.section.entered) if each.section else (None, None)
            if entered is None if self.reference.section is None else named == self.reference.section:
                yield each.step


@dataclass(frozen=True)
class WorkingDay:
    """Checklists that are followed one after the other."""

    items: tuple[Item, ...]
    run: Run

    def left_on(self) -> Iterator[tuple[Item, tuple[str, ...]]]:
        """Return what may still be on at the end, with the last item that put it on."""
        left = frozenset[str]().union(*(state.worn for state in self.run.ends))
        for item in reversed(self.items):
            put = frozenset[str]().union(*(put_on(item.procedure, each) for each in item.steps)) & left
            left -= put
            if put:
                yield item, tuple(sorted(put))

    def unwashed(self, audited: Audited) -> Item | None:
        """Return the item in which the last gloves come off, where no step after that says to wash hands."""
        found = None
        for item in self.items:
            for step in item.steps:
                worn = (name for name in item.procedure.wear if name in taken_off(item.procedure, step))
                if signed(audited.plant, tuple(worn), HANDS):
                    found = item
                if _washes(step):
                    found = None
        return found


def working_days(audited: Audited) -> Iterator[WorkingDay]:
    """Return the days of a book, and each checklist that is followed and stands in none as a day of its own."""
    days = audited.plant.facts.days.values()
    in_days = set(chain.from_iterable(days))
    alone = (name for name, each in audited.book.checklists.items() if each.is_followed and name not in in_days)
    for names, is_day in chain(((day, True) for day in days), (((name,), False) for name in alone)):
        checklists = (audited.book.checklists[name] for name in names)
        pairs = ((checklist, reference) for checklist in checklists for reference in checklist.items)
        items = (Item(each, reference, audited.book.procedures[reference.procedure]) for each, reference in pairs)
        yield WorkingDay(tuple(items), audited.rehearsal.of_checklists(map(str, names), is_day=is_day))


def _washes(step: Step) -> bool:
    if not isinstance(step, Do):
        return False
    said = ({word.lower() for word in words(sentence)} for sentence in sentences(step.text))
    return any(CLEANING & each and CLEANED & each for each in said)

"""What each kind of step does to the plant: its effects, which depend on the book alone and not on a state."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from weakref import WeakKeyDictionary

from tankside.catalogue.links import PLACEHOLDER
from tankside.compute.amounts import WorkedBook
from tankside.compute.facts import quantity
from tankside.compute.worked import WorkedAmount
from tankside.loading.values import Text
from tankside.memory import remembered
from tankside.model.procedures import Procedure
from tankside.model.steps import Add, Choose, Drive, Isolate, Move, Step, TurnValve
from tankside.plant.claiming import Claiming, claim_of
from tankside.plant.effects import Effect, Flows, sets
from tankside.plant.parts import litres
from tankside.plant.setting import Setting, setting_of
from tankside.plant.volumes import FAR, ZERO, Interval
from tankside.plant.ways import shortest_possible
from tankside.units import Quantity


@dataclass(frozen=True)
class Stepping:
    """Makes the effects of one procedure's steps."""

    setting: Setting
    procedure: Procedure
    amounts: Mapping[str, WorkedAmount]

    @cached_property
    def claiming(self) -> Claiming:
        """Judges the claims of this procedure."""
        wear = frozenset(map(str, self.procedure.wear))
        return Claiming(self.setting.plant, self.setting.naming, self.setting.rules, wear)

    def effects(self, step: Step) -> tuple[Effect, ...]:
        """Return what a step does, in order."""
        return (*self._own(step), *self._left(step))

    def seen(self, step: Step) -> tuple[Effect, ...]:
        """Return what is known of the plant once it has been seen that what a step looks at is so, on whatever way."""
        branches = step.branches if isinstance(step, Choose) else ()
        texts = (*step.finds, *(text for branch in branches for text in branch.finds))
        return tuple(effect for text in texts for effect in self.claiming.seen(claim_of(text)))

    def stopping(self) -> tuple[Effect, ...]:
        """Return what `stop_safely` does."""
        claims = map(claim_of, self.procedure.stop_leaves)
        return tuple(effect for claim in claims for effect in self.claiming.effects(claim))

    def _left(self, step: Step) -> Iterator[Effect]:
        for text in step.leaves:
            claim = claim_of(text)
            if claim.state != "empty":
                yield from self.claiming.effects(claim)

    def _own(self, step: Step) -> Iterator[Effect]:
        match step:
            case TurnValve():
                yield sets(str(step.target), "is_open", step.kind == "open")
            case Drive():
                yield sets(str(step.target), "is_running", step.kind == "start")
            case Isolate():
                yield sets(str(step.target), "is_locked", step.kind == "lock")
            case Move():
                first, *between, last = map(str, step.path)
                yield Flows("flows", first, str(step.material), tuple(between), last, self._moved(step))
            case Add():
                yield self._added(step)

    def _moved(self, step: Move) -> Interval | None:
        if any(claim_of(text).state == "empty" for text in step.leaves):
            return None
        if step.amount is not None:
            return self.volume(step.amount, str(step.material))
        named = PLACEHOLDER.search(step.until or "")
        if named is not None:
            return self.volume(Text(named[0], step.span), str(step.material))
        return Interval(ZERO, FAR)

    def _added(self, step: Add) -> Flows:
        material, target = str(step.material), str(step.to)
        amount = self.volume(step.amount, material)
        if step.from_ is None:
            through = () if step.with_ is None else (str(step.with_),)
            return Flows("flows", None, material, through, target, amount)
        way = shortest_possible(self.setting.plant, str(step.from_), target) or (str(step.from_), target)
        return Flows("flows", str(step.from_), material, tuple(way[1:-1]), target, amount)

    def volume(self, text: Text, material: str) -> Interval:
        """Return what an amount of a step may come to [L], its tolerance included."""
        amount = self.amounts.get(text.strip("<>"))
        if amount is None:
            found = self.litres(quantity(text, "volume", "mass"), material)
            return Interval(found, found)
        off = ZERO if amount.tolerance is None else self.litres(amount.tolerance, material)
        low, high = self.litres(amount.least, material), self.litres(amount.most, material)
        return Interval(max(low - off, ZERO), high + off)

    def litres(self, amount: Quantity, material: str) -> Fraction:
        """Return an amount of a material as its volume [L]."""
        if amount.unit.kind.name == "volume":
            return litres(amount)
        found = self.setting.facts.materials.materials[Text(material, self.procedure.span)]
        density = quantity(found.density, "mass concentration", sign="above 0")
        return litres(Quantity(amount.value / density.value, amount.unit))


@remembered
def stepping_of(setting: Setting, procedure: Procedure, amounts: Mapping[str, WorkedAmount]) -> Stepping:
    """Return what makes the effects of a procedure's steps."""
    return Stepping(setting, procedure, amounts)


#: the setting of each book while somebody has the book: it is made once also where nothing is remembered
_SETTINGS: WeakKeyDictionary[WorkedBook, Setting] = WeakKeyDictionary()


def setting_in(worked: WorkedBook) -> Setting:
    """Return the setting of a book."""
    if worked not in _SETTINGS:
        _SETTINGS[worked] = setting_of(worked.book.plant)
    return _SETTINGS[worked]


def stepping_in(worked: WorkedBook, procedure: Procedure) -> Stepping:
    """Return what makes the effects of the steps of a procedure of a book."""
    return stepping_of(setting_in(worked), procedure, worked.of(procedure)[0])

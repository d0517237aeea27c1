"""Everything that stays the same while procedures are rehearsed on one plant."""

from dataclasses import dataclass
from functools import cached_property

from tankside.memory import remembered
from tankside.model.facts import Plant as Facts
from tankside.plant.fold import Rules, rules_of
from tankside.plant.naming import Naming, naming_of
from tankside.plant.parts import Plant, plant_of
from tankside.plant.pressure import settled
from tankside.plant.reactivity import Reactivity, reactivity_of
from tankside.plant.state import Piece, State
from tankside.plant.volumes import EMPTY, anything_of


@dataclass(frozen=True)
class Setting:
    """The plant of a book and what its materials do."""

    facts: Facts

    @cached_property
    def plant(self) -> Plant:
        """The plant as a graph."""
        return plant_of(self.facts.equipment)

    @cached_property
    def naming(self) -> Naming:
        """What mixtures may be called."""
        return naming_of(self.facts)

    @cached_property
    def reactivity(self) -> Reactivity:
        """What must not meet."""
        return reactivity_of(self.facts.materials)

    @cached_property
    def rules(self) -> Rules:
        """What a fold must know."""
        return rules_of(self.plant, self.naming.waters)

    @cached_property
    def wear_for(self) -> dict[str, frozenset[str]]:
        """What is worn when a material is handled open."""
        found = self.facts.materials.materials.items()
        return {str(name): frozenset(map(str, each.wear)) for name, each in found}

    @cached_property
    def hazardous(self) -> frozenset[str]:
        """The materials whose label has a signal word."""
        found = self.facts.materials.materials.items()
        return frozenset(str(name) for name, each in found if each.signal_word is not None)

    @cached_property
    def at_rest(self) -> State:
        """The plant while nobody works: all shut and stopped, nothing known of what is inside."""
        pieces = {}
        for tag, part in self.plant.parts.items():
            held = None
            if (part.is_vessel or part.is_line) and part.capacity is not None:
                held = anything_of(part.holds, part.capacity) if part.holds else EMPTY
            pieces[tag] = Piece(
                is_open=part.rests_active and part.kind in ("valve", "port"),
                is_running=part.rests_active and part.kind not in ("valve", "port"),
                contents=held,
            )
        return settled(self.rules.pressure, State(pieces))


@remembered
def setting_of(facts: Facts) -> Setting:
    """Return the setting of a book."""
    return Setting(facts)

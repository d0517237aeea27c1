"""The machine that a new lockout is written for: the lines of its template that follow from its sources of energy."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from tankside.catalogue import Book
from tankside.model.facts import EnergySource
from tankside.model.steps import DRIVEN
from tankside.plant.claiming import claim_of
from tankside.plant.judging.exposure import near
from tankside.plant.judging.faults import listed
from tankside.plant.setting import setting_of
from tankside.starting.refusals import CannotStartError

#: the form of energy that ends where it is switched off
ELECTRICAL = "electrical"
LOCK = """\
  - lock: {point}
    how: own padlock, tag with name, date and reason
"""
SHUT = """\
  - shut: {valve}
"""
SWITCH_OFF = """\
  - do: Switch {machine} off at {point} (write here how).
    step: cut-off-{step}
"""
UNLOCK = """\
  - unlock: {point}
    how: only the person who locked it
"""
LET_GO = """\
  # {source}: {release}
  - do: Write here how {machine}.{name} is let go, verb first.
    step: let-go-{name}
    leaves:
      - {machine}.{name} dissipated
"""


@dataclass(frozen=True)
class Machine:
    """A machine of a book, with what a template says of it."""

    book: Book
    tag: str
    sources: tuple[EnergySource, ...]

    def filled(self) -> Mapping[str, str]:
        """Return what stands for each name of the template."""
        return {
            "machine": self.tag,
            "points": listed(self._points),
            "sources": listed(f"{self.tag}.{source.name}" for source in self.sources),
            "locks": "".join(LOCK.format(point=point) for point in self._points),
            "unlocks": "".join(UNLOCK.format(point=point) for point in reversed(self._points)),
            "cut_offs": "".join(map(self._cut_off, self._points)),
            "let_go": "".join(self._let_go(source) for source in self.sources if source.form != ELECTRICAL),
            "wear": _line("wear", self._wear(), "goggles, gloves"),
            "prerequisites": _line("prerequisites", self._conditions(), "eyewash-clear"),
        }

    @cached_property
    def _points(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(str(source.isolate_at) for source in self.sources))

    def _cut_off(self, point: str) -> str:
        """Return what brings a point into the place that its lock then keeps, and so ends what is electrical."""
        valves = setting_of(self.book.plant).plant.valves_at(point)
        if valves:
            return "".join(SHUT.format(valve=valve) for valve in valves)
        ended = [each for each in self.sources if each.form == ELECTRICAL and each.isolate_at == point]
        leaves = "".join(f"      - {self.tag}.{source.name} dissipated\n" for source in ended)
        step = SWITCH_OFF.format(machine=self.tag, point=point, step=point.lower())
        return step + (f"    leaves:\n{leaves}" if leaves else "")

    def _let_go(self, source: EnergySource) -> str:
        facts = {"name": source.name, "source": source.source, "release": source.release}
        # Each is one line of a comment, however many lines the book takes for it.
        return LET_GO.format(machine=self.tag, **{key: " ".join(text.split()) for key, text in facts.items()})

    def _wear(self) -> Iterator[str]:
        """Return what is worn for everything that may be in the machine and beside it."""
        setting = setting_of(self.book.plant)
        wanted = frozenset[str]().union(*map(setting.wear_for.__getitem__, near(setting, setting.at_rest, self.tag)))
        return (str(name) for name in self.book.plant.equipment.protective_equipment if name in wanted)

    def _conditions(self) -> Iterator[str]:
        """Return the conditions that prove an exhaust which draws the air at the machine, or an eyewash."""
        pieces = self.book.plant.equipment.equipment
        proving = {
            "proved": frozenset(setting_of(self.book.plant).plant.exhausts[self.tag]),
            "in order": frozenset(tag for tag, piece in pieces.items() if piece.kind == "eyewash"),
        }
        for name, condition in self.book.plant.equipment.conditions.items():
            claims = map(claim_of, condition.means)
            if any(proving.get(claim.state, frozenset()).intersection(claim.subjects) for claim in claims):
                yield str(name)


def first_machine(book: Book) -> Machine:
    """Return the first machine of the book that has a point where it can be locked out.

    Raises:
        CannotStartError: there is none.
    """
    pieces = book.plant.equipment.equipment
    points = {tag for tag, piece in pieces.items() if piece.kind == "isolation-point"}
    for tag, piece in pieces.items():
        if piece.kind in DRIVEN and any(source.isolate_at in points for source in piece.energy_sources):
            return Machine(book, str(tag), piece.energy_sources)
    raise CannotStartError(
        "no machine in equipment.yaml has energy_sources with an isolation point; write them there first, "
        "a lockout is written from them"
    )


def _line(key: str, names: Iterator[str], example: str) -> str:
    """Return a key with its list of names; with an example, as a comment, when there is no name."""
    listed_names = ", ".join(names)
    return f"{key}: [{listed_names}]" if listed_names else f"# {key}: [{example}]"

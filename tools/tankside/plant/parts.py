"""The plant as a graph: what each piece of equipment can hold and do, and what it is joined to."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from tankside.compute.facts import hold_up, quantity
from tankside.loading.values import Text
from tankside.memory import remembered
from tankside.model.claims import LINES, VESSELS
from tankside.model.facts import Equipment, Piece
from tankside.model.steps import POURED
from tankside.problems import Span
from tankside.units import Quantity, unit_named

LITRE = unit_named("L").factor
_NOWHERE = Span("")
#: how full a receiver may get, so that it can be carried or capped (common practice, no source)
FULLEST = Fraction(3, 4)
#: where liquid may run to without end
ENDLESS = ("drain", "bottles")


def litres(amount: Quantity) -> Fraction:
    """Return a volume in litres."""
    return amount.value / LITRE


@dataclass(frozen=True)
class Part:
    """A piece of equipment as the model knows it."""

    tag: str
    kind: str
    #: what it holds when full [L]; None where there is no end, or the book does not say
    capacity: Fraction | None
    heel: Fraction
    holds: frozenset[str]
    connects: tuple[str, ...]
    joins: tuple[str, ...]
    rests_active: bool

    @property
    def is_vessel(self) -> bool:
        """Whether liquid stands in it."""
        return self.kind in VESSELS and not self.is_meter

    @property
    def is_meter(self) -> bool:
        """Whether it is a measure that liquid runs through, not a vessel."""
        return self.kind == "measure" and bool(self.connects)

    @property
    def is_line(self) -> bool:
        """Whether liquid stands in it and is led on."""
        return self.kind in LINES and self.capacity is not None

    @property
    def is_poured(self) -> bool:
        """Whether it is carried, and poured by hand."""
        return self.kind in POURED and not self.is_meter

    @property
    def is_receiver(self) -> bool:
        """Whether it may be filled to three quarters only."""
        return self.kind in ("pail", "drum")


class Plant:
    """All parts of the plant and what joins them."""

    def __init__(self, equipment: Equipment) -> None:
        """Take the parts out of the book's equipment."""
        self.equipment = equipment
        self.parts: Mapping[str, Part] = {
            str(tag): _part(str(tag), piece) for tag, piece in equipment.equipment.items()
        }

    @cached_property
    def fixed(self) -> Mapping[str, frozenset[str]]:
        """What each part is joined to for good, whichever of the two says so."""
        found: dict[str, set[str]] = {tag: set() for tag in self.parts}
        for tag, part in self.parts.items():
            for other in part.connects:
                if other in found:
                    found[tag].add(other)
                    found[other].add(tag)
        return {tag: frozenset(others) for tag, others in found.items()}

    @cached_property
    def loose(self) -> Mapping[str, tuple[str, ...]]:
        """What each part can be joined to by hand, whichever of the two has the loose end."""
        found: dict[str, list[str]] = {tag: list(part.joins) for tag, part in self.parts.items()}
        for tag, part in self.parts.items():
            for other in part.joins:
                found.setdefault(other, []).append(tag)
        return {tag: tuple(others) for tag, others in found.items()}

    @cached_property
    def falling(self) -> tuple[str, ...]:
        """What stands high or presses by itself, so that it runs out of an open end without a pump."""
        return tuple(tag for tag, part in self.parts.items() if part.kind in ("tank", "supply"))

    @cached_property
    def loose_ends(self) -> tuple[str, ...]:
        """What can be joined to something by hand."""
        return tuple(tag for tag, part in self.parts.items() if part.joins)

    @cached_property
    def pumps(self) -> tuple[str, ...]:
        """The pumps."""
        return tuple(tag for tag, part in self.parts.items() if part.kind == "pump")

    @cached_property
    def ports(self) -> Mapping[str, tuple[str, ...]]:
        """The ports of each vessel."""
        return {
            tag: tuple(other for other in sorted(self.fixed[tag]) if self.parts[other].kind == "port")
            for tag in self.parts
        }

    @cached_property
    def exhausts(self) -> Mapping[str, tuple[str, ...]]:
        """The exhausts that draw the air of each part; one that names none draws that of all."""
        served: dict[str, list[str]] = {tag: [] for tag in self.parts}
        for tag, piece in self.equipment.equipment.items():
            if piece.kind == "exhaust":
                for other in piece.serves or self.parts:
                    served.setdefault(str(other), []).append(str(tag))
        return {tag: tuple(found) for tag, found in served.items()}

    def suction(self, pump: str) -> str | None:
        """Return what a pump draws from: the first that it is joined to."""
        return next(iter(self.parts[pump].connects), None)

    def locks_of(self, tag: str) -> tuple[str, ...]:
        """Return the points whose lock keeps a piece from being turned or started."""
        piece = self.equipment.equipment[_key(tag)]
        points = [other for other in self.fixed[tag] if self.parts[other].kind == "isolation-point"]
        points += [str(source.isolate_at) for source in piece.energy_sources]
        own = [point for point in points if self._cuts_off(point, tag)]
        return tuple(dict.fromkeys((tag, *sorted(own))))

    def valves_at(self, point: str) -> tuple[str, ...]:
        """Return the valves that a lock at a point keeps as they are."""
        return tuple(each for each in sorted({point, *self.fixed[point]}) if self.parts[each].kind == "valve")

    def _cuts_off(self, point: str, tag: str) -> bool:
        return point == tag or (self.parts[point].kind == "isolation-point" and tag in self.fixed[point])

    def sources_at(self, point: str) -> tuple[tuple[str, str], ...]:
        """Return the sources of energy that are isolated at a point: machine and name."""
        return tuple(
            (str(tag), str(source.name))
            for tag, piece in self.equipment.equipment.items()
            for source in piece.energy_sources
            if source.isolate_at == point
        )


@remembered
def plant_of(equipment: Equipment) -> Plant:
    """Return the plant of a book."""
    return Plant(equipment)


def _key(tag: str) -> Text:
    return Text(tag, _NOWHERE)


def _part(tag: str, piece: Piece) -> Part:
    full = hold_up(piece) if piece.runs else None if piece.capacity is None else quantity(piece.capacity, "volume")
    return Part(
        tag=tag,
        kind=str(piece.kind),
        capacity=None if full is None or piece.kind in ENDLESS else litres(full),
        heel=Fraction(0) if piece.heel is None else litres(quantity(piece.heel, "volume")),
        holds=frozenset(map(str, piece.holds)),
        connects=tuple(map(str, piece.connects)),
        joins=tuple(map(str, piece.joins)),
        rests_active=piece.rest is not None,
    )

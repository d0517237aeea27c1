"""What a step does to the plant, as data: a few kinds of effect, each folded into a state by `fold` and by the page."""

from dataclasses import dataclass
from typing import Literal

from tankside.plant.volumes import FAR, Interval

#: fields of a piece that an effect sets outright
FIELDS = ("is_open", "is_running", "is_locked", "is_in_order", "is_under_pressure", "is_proved", "wash", "label")


@dataclass(frozen=True)
class Sets:
    """A piece is made so."""

    kind: Literal["sets"]
    tag: str
    #: one of `FIELDS`
    field: str
    to: bool | str


@dataclass(frozen=True)
class Joins:
    """A loose end is joined to something, or to nothing."""

    kind: Literal["joins"]
    tag: str
    to: str | None


@dataclass(frozen=True)
class Energy:
    """A source of energy of a machine is dissipated, or verified to be gone."""

    kind: Literal["energy"]
    tag: str
    source: str
    #: dissipated or verified
    stage: str


@dataclass(frozen=True)
class Wears:
    """Protective equipment is put on, or taken off."""

    kind: Literal["wears"]
    what: tuple[str, ...]
    is_on: bool


@dataclass(frozen=True)
class Flows:
    """Liquid goes from one place to another."""

    kind: Literal["flows"]
    #: where it is taken from; None for what comes from outside the plant, in a can or bag
    source: str | None
    #: what comes from outside or out of a supply
    material: str
    #: what it goes through, in order
    through: tuple[str, ...]
    target: str
    #: what arrives [L]; None when the source is emptied down to its heel
    amount: Interval | None

    @property
    def is_watched(self) -> bool:
        """Whether somebody watches when it is enough, because nothing says how much it is."""
        return self.amount is None or self.amount.high == FAR


@dataclass(frozen=True)
class Names:
    """What stands in a piece goes by one name from now on."""

    kind: Literal["names"]
    tag: str
    material: str


@dataclass(frozen=True)
class Sees:
    """Somebody has seen how much stands in a piece."""

    kind: Literal["sees"]
    tag: str
    #: [L]
    volume: Interval


Effect = Sets | Joins | Energy | Wears | Flows | Names | Sees


def sets(tag: str, field: str, to: bool | str) -> Sets:
    """Return the effect that makes a piece so."""
    return Sets("sets", tag, field, to)

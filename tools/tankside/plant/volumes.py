"""Volumes as exact intervals, and what stands in a piece of equipment: its volume and how much of each material."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

ZERO = Fraction(0)
#: more than any workshop holds [L]: how far an interval goes that has no end
FAR = Fraction(10**9)
#: what is known of the share of a material is kept to a millionth of a litre, rounded outward
GRAIN = 10**6
#: terms of the series for e**x; each more makes the upper bound of what a flush leaves a little smaller
TERMS = 8


class Interval(NamedTuple):
    """A volume that is known to lie from `low` to `high` [L]."""

    low: Fraction
    high: Fraction

    def plus(self, other: "Interval") -> "Interval":
        """Return what both come to together."""
        return Interval(self.low + other.low, self.high + other.high)

    def less(self, other: "Interval") -> "Interval":
        """Return what is left of it without the other, never below nothing."""
        return Interval(max(self.low - other.high, ZERO), max(self.high - other.low, ZERO))

    def at_most(self, limit: Fraction) -> "Interval":
        """Return it cut off above."""
        return Interval(min(self.low, limit), min(self.high, limit))

    def within(self, other: "Interval") -> "Interval | None":
        """Return what lies in both, None when nothing does."""
        low, high = max(self.low, other.low), min(self.high, other.high)
        return Interval(low, high) if low <= high else None

    def outward(self) -> "Interval":
        """Return it rounded outward to the grain."""
        return Interval(
            Fraction(self.low.numerator * GRAIN // self.low.denominator, GRAIN),
            Fraction(-(-self.high.numerator * GRAIN // self.high.denominator), GRAIN),
        )


def exactly(volume: Fraction) -> Interval:
    """Return the interval that is one volume."""
    return Interval(volume, volume)


NOTHING = exactly(ZERO)


@dataclass(frozen=True)
class Contents:
    """What stands in a vessel or line."""

    volume: Interval
    #: material -> how much of it; sorted by name, none that cannot be there
    parts: tuple[tuple[str, Interval], ...] = ()

    @property
    def materials(self) -> tuple[str, ...]:
        """What may be there."""
        return tuple(name for name, _ in self.parts)

    @property
    def is_empty(self) -> bool:
        """Whether nothing at all is there."""
        return self.volume.high == 0

    def amount(self, material: str) -> Interval:
        """Return how much of a material is there."""
        return dict(self.parts).get(material, NOTHING)

    def plus(self, other: "Contents") -> "Contents":
        """Return both poured together."""
        found = dict(self.parts)
        for name, part in other.parts:
            found[name] = found[name].plus(part) if name in found else part
        return contents(self.volume.plus(other.volume), found)

    def share_of(self, volume: Interval) -> "Contents":
        """Return so much of it, taken as perfectly mixed: an estimate, dead corners are not seen."""
        if len(self.parts) == 1:
            return contents(volume, {self.parts[0][0]: volume})
        return contents(volume, {name: _share(self, name, volume) for name, _ in self.parts})

    def renamed(self, material: str) -> "Contents":
        """Return it under one name."""
        return contents(self.volume, {material: self.volume})


EMPTY = Contents(NOTHING)


def contents(volume: Interval, parts: Mapping[str, Interval]) -> Contents:
    """Return contents with what is known of their parts made consistent with their volume."""
    if len(parts) == 1:
        parts = dict.fromkeys(parts, volume)
    kept = {name: part.outward().at_most(volume.high) for name, part in parts.items() if part.high > 0}
    return Contents(volume, tuple(sorted((name, part) for name, part in kept.items() if part.high > 0)))


def poured(material: str, volume: Interval) -> Contents:
    """Return so much of one material."""
    return contents(volume, {material: volume})


def _share(mixture: Contents, name: str, volume: Interval) -> Interval:
    own = mixture.amount(name)
    others = [part for other, part in mixture.parts if other != name]
    least = max(mixture.volume.low - own.high, sum((part.low for part in others), ZERO), ZERO)
    most = min(mixture.volume.high - own.low, sum((part.high for part in others), ZERO))
    low = own.low / (own.low + most) if own.low else ZERO
    high = own.high / (own.high + least)
    return Interval(volume.low * low, min(volume.high * high, volume.high))


def divided(mixture: Contents, taken: Interval | None, heel: Fraction) -> tuple[Contents, Contents]:
    """Return what is taken out and what is left; without `taken` all but the heel goes."""
    if taken is None:
        left = mixture.volume.at_most(heel)
        out = Interval(max(mixture.volume.low - heel, ZERO), max(mixture.volume.high - heel, ZERO))
    else:
        left = mixture.volume.less(taken)
        out = Interval(min(taken.low, mixture.volume.low), min(taken.high, mixture.volume.high))
    return mixture.share_of(out), mixture.share_of(left)


def flushed(line: Contents, capacity: Fraction, incoming: Contents, passed: Interval) -> tuple[Contents, Contents]:
    """Return what stands in a line and what came out of it, after `passed` has come out at its end.

    Of what stood in the line at most ``1 / sum(x**k / k!)`` is left, with ``x`` the volumes that have passed: never
    less than the ``e**-x`` of a perfectly mixed line. What a dead end keeps back, it does not see.
    """
    filled = line.volume.plus(incoming.volume).less(passed)
    # What has surely come out at its end came out of a full line; and whatever comes, a line has no less than before.
    kept = Interval(max(filled.low, line.volume.low), filled.high).at_most(capacity)
    inside = exactly(capacity) if passed.low > 0 else kept
    # Liquid may lie in layers: until one volume has passed, all that stood there may be there still.
    left_over = _left_over(passed.low / capacity) if passed.low >= capacity else Fraction(1)
    here, out = dict[str, Interval](), dict[str, Interval]()
    others = sum((part.high * left_over for name, part in line.parts if name not in incoming.materials), ZERO)
    for name in sorted({*line.materials, *incoming.materials}):
        old, new = line.amount(name), incoming.amount(name)
        least = max(inside.low - others, ZERO) if incoming.materials == (name,) else ZERO
        here[name] = Interval(least, min(old.high * left_over + min(new.high, capacity), inside.high))
        out[name] = Interval(max(new.low - capacity, ZERO), min(old.high + new.high, passed.high))
    return contents(inside, here), contents(passed, out)


def _left_over(passed: Fraction) -> Fraction:
    term = total = Fraction(1)
    for count in range(1, TERMS + 1):
        term = term * passed / count
        total += term
    return 1 / total


def anything_of(materials: Iterable[str], capacity: Fraction) -> Contents:
    """Return what is known of a vessel when nothing is: any of these, from nothing to full."""
    most = Interval(ZERO, capacity)
    return contents(most, dict.fromkeys(materials, most))

"""Liquid as it might really run: vessels are mixed, and in a line what comes pushes what stood there along.

A liquid is how much of each material is in it. Nothing here knows of intervals: it is what an interval must hold.
"""

from collections import deque
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

Liquid = Mapping[str, Fraction]


def volume(liquid: Liquid) -> Fraction:
    return sum(liquid.values(), Fraction(0))


def together(liquids: Iterable[Liquid]) -> Liquid:
    found: dict[str, Fraction] = {}
    for liquid in liquids:
        for name, part in liquid.items():
            found[name] = found.get(name, Fraction(0)) + part
    return found


def parted(liquid: Liquid, taken: Fraction) -> tuple[Liquid, Liquid]:
    """Return so much of a mixed liquid, and the rest."""
    whole = volume(liquid)
    share = taken / whole if whole else Fraction(0)
    return {n: p * share for n, p in liquid.items()}, {n: p * (1 - share) for n, p in liquid.items()}


def pushed(standing: Liquid, capacity: Fraction, coming: Iterable[Liquid]) -> tuple[Liquid, list[Liquid]]:
    """Return what stands in a line afterwards, and what has come out at its end, the first first."""
    queue = deque([standing, *coming])
    excess = sum(map(volume, queue), Fraction(0)) - capacity
    out: list[Liquid] = []
    while excess > 0:
        first = queue.popleft()
        gone, kept = parted(first, min(excess, volume(first)))
        excess -= volume(gone)
        out.append(gone)
        if volume(kept):
            queue.appendleft(kept)
    return together(queue), out


@dataclass
class RealPlant:
    """What really stands in each vessel and line."""

    standing: dict[str, Liquid]
    #: of the lines [L]
    capacity: Mapping[str, Fraction]

    def run(self, source: str, lines: Iterable[str], target: str, amount: Fraction) -> None:
        """Take as much as there is, so that an amount arrives: lines are filled first."""
        lines = tuple(lines)
        room = sum((self.capacity[line] - volume(self.standing[line]) for line in lines), Fraction(0))
        there = self.standing[source]
        taken, self.standing[source] = parted(there, min(amount + room, volume(there)))
        coming = [taken]
        for line in lines:
            self.standing[line], coming = pushed(self.standing[line], self.capacity[line], coming)
        self.standing[target] = together([self.standing[target], *coming])

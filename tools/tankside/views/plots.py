"""What a plot shows: two axes and curves in the numbers of their units."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor

#: about so many lines of the grid along each axis
LINES = 6


@dataclass(frozen=True)
class Axis:
    """One direction of a plot; values are numbers of the unit that its title names."""

    title: str
    end: Fraction
    start: Fraction = Fraction(0)

    @property
    def length(self) -> Fraction:
        """From its start to its end."""
        return self.end - self.start

    @property
    def step(self) -> Fraction:
        """From one line of the grid to the next: 1, 2 or 5 of some power of ten."""
        power = Fraction(1)
        while power * 10 <= self.length / LINES:
            power *= 10
        while power > self.length / LINES:
            power /= 10
        return next(power * each for each in (1, 2, 5, 10) if power * each * LINES >= self.length)

    @property
    def lines(self) -> tuple[Fraction, ...]:
        """Where the grid has its lines."""
        first, last = ceil(self.start / self.step), floor(self.end / self.step)
        return tuple(self.step * number for number in range(first, last + 1))


@dataclass(frozen=True)
class Curve:
    """Points, joined by straight lines or as dots."""

    points: Sequence[tuple[Fraction, Fraction]]
    #: stands at its last point; empty where there is only one curve
    label: str = ""
    #: lengths of dash and gap; empty for a whole line, so that curves are told apart without colour
    dash: str = ""
    is_dots: bool = False
    #: whether its label stands at its first point, where the last one's would cover another
    is_named_first: bool = False


@dataclass(frozen=True)
class Plot:
    """Curves between two axes."""

    across: Axis
    up: Axis
    curves: Sequence[Curve]
    #: what it shows, for those who do not see it
    says: str

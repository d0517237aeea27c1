"""Where the places of a line diagram lie: columns and rows with room for what stands in them and for lines between.

A piece stands in the middle of its place, on the two axes of its column and row; between columns, and between rows,
run channels with tracks for lines. A column is as wide as the widest tag in it asks for, so that no line along a track
can meet a tag.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from tankside.views.line_diagram_places import STEPS, Place, Port

#: a line of the lattice that lines are led along: an axis of a column or row, beside it, or a track of a channel
Key = tuple[int, Literal["track", "axis"], int]
#: between what stands in a column and the next track or edge, between two tracks
MARGIN, TRACK = 9, 12
#: how far a line goes in under the symbol that it ends at
INTO = 8


class Ruler:
    """The lattice in one direction: where each axis and each track lies."""

    def __init__(self, extents: Sequence[tuple[int, int]], offsets: Sequence[set[int]], tracks: Sequence[int]) -> None:
        """Lay out columns (or rows).

        Args:
            extents: what each column needs before and after its axis.
            offsets: the lattice lines beside each axis, 0 for the axis itself.
            tracks: how many tracks each channel has; the first lies before the first column.
        """
        self.keys: list[Key] = []
        self.at: dict[Key, int] = {}
        edge = 0
        for number, count in enumerate(tracks):
            for track in range(count):
                self._add((number, "track", track), edge + MARGIN + track * TRACK)
            edge += 2 * MARGIN + max(count - 1, 0) * TRACK
            if number < len(extents):
                before, after = extents[number]
                for offset in sorted(offsets[number]):
                    self._add((number, "axis", offset), edge + before + offset)
                edge += before + after
        self.length = edge
        self.lines = [self.at[key] for key in self.keys]

    def _add(self, key: Key, at: int) -> None:
        self.keys.append(key)
        self.at[key] = at


@dataclass(frozen=True)
class Ground:
    """Pieces on a lattice."""

    places: tuple[Place, ...]
    across: Ruler
    down: Ruler

    def middle(self, place: Place) -> tuple[int, int]:
        """Return the middle of a piece."""
        column, row = place.standing.column, place.standing.row
        return self.across.at[column, "axis", 0], self.down.at[row, "axis", 0]

    def end(self, place: Place, port: Port, into: int = 0) -> tuple[int, int]:
        """Return where a line ends at a port, or so far into the symbol."""
        (x, y), (right, below) = self.middle(place), STEPS[port.side]
        across, along = place.halves
        return (
            (x + port.offset, y + below * (along - into)) if below else (x + right * (across - into), y + port.offset)
        )

    def foot(self, place: Place, port: Port) -> tuple[int, int]:
        """Return where a line ends under a symbol, whose outline does not reach its box everywhere."""
        # Two lines from sides that meet must not meet under the symbol.
        return self.end(place, port, min(INTO, min(place.halves) // 3 - 1) if port.offset else INTO)


def ground(standing: tuple[Place, ...], across: Sequence[int], down: Sequence[int]) -> Ground:
    """Return pieces on a lattice with so many tracks in each channel across and down."""
    return Ground(standing, _ruler(standing, across, is_across=True), _ruler(standing, down, is_across=False))


def _ruler(standing: tuple[Place, ...], tracks: Sequence[int], *, is_across: bool) -> Ruler:
    start, end = (0, 2) if is_across else (1, 3)
    extents = [(0, 0)] * (len(tracks) - 1)
    offsets: list[set[int]] = [{0} for _ in extents]
    for place in standing:
        number = place.standing.column if is_across else place.standing.row
        before, after = extents[number]
        extents[number] = max(before, -place.box[start]), max(after, place.box[end])
        for port in (*place.flow_ports, *place.other_ports):
            if (port.side in ("up", "down")) == is_across:
                offsets[number].add(port.offset)
    return Ruler(extents, offsets, tracks)

"""How a piece is drawn that may be in any of several states."""

from collections.abc import Sequence
from fractions import Fraction

from tankside.plant.parts import Part
from tankside.plant.state import State
from tankside.views.line_diagram_looks import PieceLook
from tankside.views.states import held_in, is_anything


def look_of(part: Part, states: Sequence[State]) -> PieceLook:
    """Return how a piece looks; what is so in some of the states only is drawn where it is the worse."""
    pieces = [state[part.tag] for state in states]
    positions, drives = {each.is_open for each in pieces}, {each.is_running for each in pieces}
    held = held_in(pieces)
    volume = None
    if held is not None and part.capacity:
        volume = (min(held.volume.low / part.capacity, Fraction(1)), min(held.volume.high / part.capacity, Fraction(1)))
    return PieceLook(
        position=None if len(positions) > 1 else "open" if positions == {True} else "shut",
        drive=None if len(drives) > 1 else "running" if drives == {True} else "stopped",
        is_locked=all(each.is_locked for each in pieces),
        is_in_order=all(each.is_in_order for each in pieces),
        is_under_pressure=any(each.is_under_pressure for each in pieces),
        joined=tuple(dict.fromkeys(each.joined_to for each in pieces if each.joined_to is not None)),
        volume=volume,
        materials=None if held is None or is_anything(part, held) else held.materials,
    )

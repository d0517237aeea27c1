"""What must be at rest: at a hold, at the end, and after a safe stop."""

from collections.abc import Collection, Iterator

from tankside.catalogue.links import WORD
from tankside.plant.judging.faults import Fault
from tankside.plant.parts import Part
from tankside.plant.setting import Setting
from tankside.plant.state import Piece, State

#: claims of which a hold may say that it is meant to be so
UNREST = ("open", "running", "under pressure")


def unrest(setting: Setting, state: State, intended: Collection[str] = (), said: str = "") -> Iterator[Fault]:
    """Return what is open, running or under pressure.

    `intended` are tags that a hold finds as they are. Pressure that nobody could let go may stay where the text that
    people read, `said`, names its line.
    """
    for tag, piece in state.pieces.items():
        if (piece.is_open or piece.is_running or piece.is_under_pressure) and tag not in intended:
            yield from _of(setting.plant.parts[tag], piece, setting.at_rest[tag], said)


def loose_ends(setting: Setting, state: State) -> Iterator[Fault]:
    """Return what is still joined by hand; asked for at the end only."""
    for tag, part in setting.plant.parts.items():
        joined = state[tag].joined_to
        if joined is not None and not setting.plant.parts[joined].is_poured and part.kind != "supply":
            yield Fault(
                "left-joined", f"'{tag}' is still joined to '{joined}'", f"part them: 'leaves: {tag} joined to nothing'"
            )


def _of(part: Part, piece: Piece, at_rest: Piece, said: str) -> Iterator[Fault]:
    if piece.is_open and not at_rest.is_open:
        yield Fault("left-open", f"'{part.tag}' is open", f"shut {part.tag} before")
    if piece.is_running and not at_rest.is_running and part.kind != "exhaust":
        yield Fault("left-running", f"'{part.tag}' is running", f"stop {part.tag} before")
    if piece.is_under_pressure and not at_rest.is_under_pressure and part.tag not in WORD.findall(said):
        yield Fault(
            "left-pressure",
            f"'{part.tag}' is under pressure",
            "let it go before over an open way, or name its line here",
        )

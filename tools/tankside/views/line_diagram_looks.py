"""How a piece of a line diagram looks in a state, and what is said of it under its tag and to those who do not see."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from tankside.model.facts import Materials, Piece
from tankside.texts import Words

#: symbols of what liquid stands in
FILLED = ("tank", "drum", "pail", "jug", "bottles", "line", "hose")
TURNED = ("valve", "port")
DRIVEN = ("pump", "mixer", "exhaust")
LOCKED = ("valve", "isolation-point")
PIPES = ("line", "hose")
#: what a drawing shows of states by form, in the order of its key
SIGNS = ("open", "shut", "either", "running", "locked", "pressure", "out-of-order", "between", "not-known", "changed")
#: so many materials are told apart in one piece; of more, the first
MOST_TOLD = 3
NOT_KNOWN = "?"


@dataclass(frozen=True)
class PieceLook:
    """The state of a piece as far as a drawing shows it; a field that means nothing for its kind is not looked at."""

    #: of a valve or port; None where it may be either
    position: Literal["open", "shut"] | None = None
    #: of a pump, mixer or exhaust; None where it may be either
    drive: Literal["running", "stopped"] | None = None
    is_locked: bool = False
    is_in_order: bool = True
    is_under_pressure: bool = False
    #: tags of what it is joined to by hand now
    joined: tuple[str, ...] = ()
    #: least and most that may stand in it, as a share of what it can hold, 0 to 1; None where nothing is said of it
    volume: tuple[Fraction, Fraction] | None = None
    #: ids of what stands in it; None where that is not known
    materials: tuple[str, ...] | None = None


def at_rest(piece: Piece) -> PieceLook:
    """Return how a piece stands while nobody works; nothing is said of what stands in it."""
    return PieceLook(
        position="open" if piece.rest == "open" else "shut",
        drive="running" if piece.rest == "running" else "stopped",
    )


def signs(symbol: str, look: PieceLook) -> Iterator[str]:
    """Return the signs that a drawing shows of a look, without those of materials."""
    if symbol in TURNED:
        yield look.position or "either"
    if symbol in DRIVEN and look.drive != "stopped":
        yield look.drive or "not-known"
    if symbol in LOCKED and look.is_locked:
        yield "locked"
    if symbol in PIPES and look.is_under_pressure:
        yield "pressure"
    if not look.is_in_order:
        yield "out-of-order"
    if symbol in FILLED and look.volume is not None and look.volume[1] > 0:
        if look.volume[0] < look.volume[1]:
            yield "between"
        if look.materials is None:
            yield "not-known"


class LookWords:
    """Says in words what a look shows."""

    def __init__(self, materials: Materials, say: Words) -> None:
        """Number the materials in the order of the book; a material keeps its number on every drawing of the book."""
        self.say = say
        self.names: Mapping[str, str] = {str(each): str(about.name) for each, about in materials.materials.items()}
        self.numbers: Mapping[str, int] = {each: at for at, each in enumerate(self.names, 1)}

    def widest(self) -> dict[str, tuple[str, ...]]:
        """Return for each symbol the widest texts that may stand under its tag."""
        say = self.say
        held = max("+".join(["88"] * MOST_TOLD) + "…", say("diagram-empty"), key=len)
        # The mark of a padlock stands before its word, about as wide as two letters.
        texts = (
            (FILLED, (held,)),
            (PIPES, (held, say("diagram-pressure"))),
            (DRIVEN, (say("diagram-running"),)),
            (LOCKED, (f"88{say('diagram-locked')}",)),
        )
        return {symbol: infos for symbols, infos in texts for symbol in symbols}

    def held(self, symbol: str, look: PieceLook) -> tuple[int, ...]:
        """Return the numbers of the materials in a piece, as far as they are known."""
        if symbol not in FILLED or look.volume is None or look.volume[1] == 0:
            return ()
        return tuple(sorted(self.numbers[each] for each in look.materials or ()))

    def infos(self, symbol: str, look: PieceLook) -> Iterator[str]:
        """Return what stands under the tag, but for a padlock."""
        if symbol in FILLED and look.volume is not None:
            held = self.held(symbol, look)
            told = "+".join(map(str, held[:MOST_TOLD])) + ("…" if len(held) > MOST_TOLD else "")
            yield self.say("diagram-empty") if look.volume[1] == 0 else told or NOT_KNOWN
        if symbol in PIPES and look.is_under_pressure:
            yield self.say("diagram-pressure")
        if symbol in DRIVEN and look.drive != "stopped":
            yield self.say("diagram-running") if look.drive else NOT_KNOWN

    def states(self, symbol: str, look: PieceLook) -> Iterator[str]:
        """Return every word that can be said of a look."""
        say = self.say
        if symbol in TURNED:
            yield say(f"diagram-{look.position or 'either'}")
        if symbol in DRIVEN:
            yield say(f"diagram-{look.drive or 'either-drive'}")
        if symbol in LOCKED and look.is_locked:
            yield say("diagram-locked")
        if not look.is_in_order:
            yield say("diagram-out-of-order")
        if symbol in PIPES and look.is_under_pressure:
            yield say("diagram-pressure")
        if look.joined:
            yield say("diagram-joined-to", tags=", ".join(look.joined))
        if symbol in FILLED and look.volume is not None:
            yield from self._contents(look.volume, look.materials)

    def _contents(self, volume: tuple[Fraction, Fraction], materials: tuple[str, ...] | None) -> Iterator[str]:
        low, high = (round(100 * share) for share in volume)
        if volume[1] == 0:
            yield self.say("diagram-empty")
            return
        if materials is None:
            yield self.say("diagram-unknown")
        else:
            yield self.say("diagram-holds", materials=", ".join(self.names[each] for each in materials))
        if low == high:
            yield self.say("diagram-full", share=str(low))
        else:
            yield self.say("diagram-full-between", low=str(low), high=str(high))

"""Why a working copy may not begin now, as far as the board knows. The page judges alike (``board-start.js``).

What nobody recorded is no reason: then people only look.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from tankside.plant.effects import Effect, Flows, Joins, Names, Sees, Sets
from tankside.plant.state import Piece
from tankside.records.board import Board
from tankside.records.copy import Copy
from tankside.records.deeds import Reference, reference
from tankside.records.part_effects import asked, rules_in, seen_at
from tankside.records.reach import Asks, all_done, comes_to, pieces_of
from tankside.records.script import AWAY, Script

#: procedures that are begun because something is wrong with what others are at
SOMETHING_WRONG = "something-wrong"
#: piece -> the points at which a lock keeps it from being turned or started
Locks = Mapping[str, tuple[str, ...]]


@dataclass(frozen=True)
class Reason:
    """Something that is against a start."""

    #: contradicted, out-of-order, locked, on-hold or in-use
    code: str
    tag: str
    #: of the piece; empty where the whole piece is in use
    field: str
    #: the event from which it is known; of what is in use, the last one of the other copy
    reference: Reference
    #: the prerequisite that is contradicted; empty where there is none
    condition: str = ""


def contradictions(board: Board, script: Script, copies: Iterable[Copy], locks: Locks) -> list[Reason]:
    """Return what is against a start of a script.

    Args:
        board: what is known of the plant.
        script: what somebody wants to begin.
        copies: all other working copies that are recorded.
        locks: the points of locks of each piece; of one that is missing, the piece itself.
    """
    found = [*_contradicted(board, script)]
    spoken_of = {(each.tag, each.field) for each in found}
    known = (*_out_of_order(board, script), *_locked(board, script, locks), *_on_hold(board, script))
    found += [each for each in known if (each.tag, each.field) not in spoken_of]
    return list(dict.fromkeys((*found, *_in_use(script, copies))))


def _contradicted(board: Board, script: Script) -> Iterator[Reason]:
    for number, name in asked(script):
        part = script.parts[number]
        held = rules_in(part).held
        for effect in seen_at(part, name):
            tag = getattr(effect, "tag", "")
            heel = held[tag].heel if tag in held else Fraction(0)
            field = _disagreeing(board, effect, heel)
            since = board.known(tag, field)
            # Where nobody is sure any more, people look.
            if since is not None and tag not in board.unsure:
                yield Reason("contradicted", tag, field, since, name)


def _disagreeing(board: Board, effect: Effect, heel: Fraction) -> str:
    """Return the field of a piece that is not as an effect sees it, empty where all agrees."""
    piece = board.state.pieces.get(getattr(effect, "tag", ""))
    if piece is None:
        return ""
    match effect:
        case Sets(field=field, to=wanted):
            is_cleaner = (wanted, getattr(piece, field)) == ("rinsed", "clean")
            return "" if getattr(piece, field) == wanted or is_cleaner else field
        case Joins(to=other):
            return "" if piece.joined_to == other else "joined_to"
        case Sees(volume=volume) if piece.contents is not None:
            return "contents" if piece.contents.volume.within(volume) is None else ""
        case Names(material=name) if piece.contents is not None:
            # What is no more than the heel was left over; it does not decide the name.
            others = (part for other, part in piece.contents.parts if other != name)
            return "contents" if any(part.low > 0 and part.high > heel for part in others) else ""
    return ""


def _out_of_order(board: Board, script: Script) -> Iterator[Reason]:
    for tag, piece, since in _known(board, "is_in_order"):
        if piece.is_in_order:
            continue

        def uses(effect: Effect, tag: str = tag) -> bool:
            return tag in _turned(effect) or (isinstance(effect, Flows) and tag in _led(effect))

        if comes_to(script, uses, _setting(tag, "is_in_order", True)):
            yield Reason("out-of-order", tag, "is_in_order", since)


def _locked(board: Board, script: Script, locks: Locks) -> Iterator[Reason]:
    turned = {tag for part in script.parts for effect in all_done(part) for tag in _turned(effect)}
    for point, piece, since in _known(board, "is_locked"):
        if not piece.is_locked:
            continue
        kept = {tag for tag in turned if point in (tag, *locks.get(tag, ()))}

        def uses(effect: Effect, kept: set[str] = kept) -> bool:
            return not kept.isdisjoint(_turned(effect))

        if comes_to(script, uses, _setting(point, "is_locked", False)):
            yield Reason("locked", point, "is_locked", since)


def _on_hold(board: Board, script: Script) -> Iterator[Reason]:
    for tag, piece, since in _known(board, "label"):
        if piece.label != "on hold":
            continue

        def takes(effect: Effect, tag: str = tag) -> bool:
            return isinstance(effect, Flows) and effect.source == tag

        if comes_to(script, takes, _setting(tag, "label", "released")):
            yield Reason("on-hold", tag, "label", since)


def _known(board: Board, field: str) -> Iterator[tuple[str, Piece, Reference]]:
    for tag in sorted(board.since):
        since = board.known(tag, field)
        if since is not None:
            yield tag, board.state[tag], since


def _setting(tag: str, field: str, to: bool | str) -> Asks:
    """Return what asks whether an effect sets a field so."""
    return lambda effect: isinstance(effect, Sets) and (effect.tag, effect.field, effect.to) == (tag, field, to)


def _turned(effect: Effect) -> tuple[str, ...]:
    """Return what an effect opens or starts."""
    if isinstance(effect, Sets) and effect.field in ("is_open", "is_running") and effect.to is True:
        return (effect.tag,)
    return ()


def _led(effect: Flows) -> tuple[str | None, ...]:
    return (effect.source, *effect.through, effect.target)


def _in_use(script: Script, copies: Iterable[Copy]) -> Iterator[Reason]:
    if script.edition["written"].get("situation") == SOMETHING_WRONG:
        return
    own = pieces_of(script)
    for copy in copies:
        if not copy.is_started or copy.ended or _is_sent(copy, script):
            continue
        last = reference(copy, len(copy.events) - 1)
        yield from (Reason("in-use", tag, "", last) for tag in sorted(own & pieces_of(copy.script)))


def _is_sent(copy: Copy, script: Script) -> bool:
    """Return whether a copy waits for what it has sent people to."""
    return copy.now is not None and copy.now.kind == AWAY and copy.now.name == script.id

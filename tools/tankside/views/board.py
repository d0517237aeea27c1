"""What a page must know of a book to show the board: the plant at rest, its pieces, and what is said of them."""

from collections.abc import Mapping
from string import Formatter

from tankside.memory import remembered
from tankside.model.facts import Piece
from tankside.plant.parts import Part
from tankside.plant.portable import portable_state
from tankside.plant.setting import Setting
from tankside.quantities.portable import Portable
from tankside.texts import Words
from tankside.views.line_diagram_looks import DRIVEN, TURNED
from tankside.views.line_diagram_plan import symbol_of
from tankside.views.states import SAID

#: fields of which a piece is asked by its kind
ASKED = ("is_open", "is_running", "is_locked", "contents", "joined_to")
#: words that the page says, with their gaps
WORDS = (
    *(key for field, said in SAID.items() if field != "worn" for key in said.values()),
    *("state-joined", "state-not-joined", "state-empty", "state-holds", "state-holds-anything", "state-heel"),
    *("state-perhaps", "state-little", "state-and", "state-or", "about", "limits-both", "diagram-piece"),
    *("diagram-running", "diagram-locked", "diagram-pressure", "board-drawing", "line-diagram-side"),
    *("board-last", "board-since", "board-since-lot", "board-unsure", "board-not-sure", "board-not-known"),
    *("board-damaged", "board-unread", "board-failed", *(f"board-asks-{each.replace('_', '-')}" for each in ASKED)),
)


@remembered
def plant_at_rest(setting: Setting) -> Portable:
    """Return what folds the board and judges a start: ``{"rest": state, "locks": {tag: [points]}}``."""
    plant = setting.plant
    points = {tag: [point for point in plant.locks_of(tag) if point != tag] for tag in plant.parts}
    return {"rest": portable_state(setting.at_rest), "locks": {tag: each for tag, each in points.items() if each}}


@remembered
def board_data(setting: Setting, say: Words) -> Portable:
    """Return all that a page must know.

    ``{"book", "units", "rest", "locks", "pieces": {tag: {"symbol", "name", "where", "asks", "heel", "capacity"}},
    "materials": {id: name}, "words": {key: words}}``; `asks` are the fields that one wants to know of a piece, volumes
    are exact text [L], and what there is none of is left out.
    """
    facts = setting.facts
    equipment = facts.equipment.equipment
    return {
        "book": str(facts.facts.book),
        "units": str(facts.facts.units),
        **plant_at_rest(setting),
        "pieces": {str(tag): _piece(piece, setting.plant.parts[tag]) for tag, piece in equipment.items()},
        "materials": {str(name): str(each.name) for name, each in facts.materials.materials.items()},
        "words": _words(say),
    }


def _piece(piece: Piece, part: Part) -> Portable:
    found = {
        "symbol": symbol_of(piece),
        "name": str(piece.name),
        "where": None if piece.where is None else str(piece.where),
        "asks": list(_asks(piece, part)),
        "heel": str(part.heel),
        "capacity": None if part.capacity is None else str(part.capacity),
    }
    return {name: value for name, value in found.items() if value is not None}


def _asks(piece: Piece, part: Part) -> tuple[str, ...]:
    """Return what one wants to know of a piece of its kind."""
    symbol = symbol_of(piece)
    if symbol in TURNED:
        return ("is_open",)
    if symbol in DRIVEN:
        return ("is_running", "joined_to") if part.joins else ("is_running",)
    if symbol == "isolation-point":
        return ("is_locked",)
    if part.capacity is not None and (part.is_vessel or part.is_line):
        return ("contents",)
    return ("joined_to",) if part.joins else ()


def _words(say: Words) -> Mapping[str, str]:
    """Return the words with their gaps, which the page fills."""
    return {key: say(key, **_gaps(say.table[key])) for key in WORDS}


def _gaps(words: str) -> dict[str, str]:
    return {name: f"{{{name}}}" for _, name, _, _ in Formatter().parse(words) if name}

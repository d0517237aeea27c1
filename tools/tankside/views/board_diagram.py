"""The line diagrams of the board: one for each side of the plant, with room for all that may be known of a piece."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from tankside.memory import remembered
from tankside.model.facts import Materials
from tankside.plant.setting import Setting
from tankside.plant.sides import sides
from tankside.texts import Words
from tankside.views.line_diagram import LegendEntry, LineDiagram, line_diagram
from tankside.views.line_diagram_looks import DRIVEN, LOCKED, MOST_TOLD, PIPES, TURNED, LookWords, PieceLook

#: a drawing wider than this is drawn side by side
WIDE = 1000
#: symbols of vessels with a label, of which is also said how much stands in them
VESSELS = ("tank", "drum", "pail", "jug")
#: symbols of what is only in order or out of it
PLAIN = ("meter", "instrument", "nozzle")
WASHES = ("dirty", "rinsed", "clean")
LABELS = ("unlabelled", "in-process", "released", "on-hold")
#: states by which a key explains the signs of the board, in its order
KEY = ("open", "shut", "either", "running", "locked", "pressure", "out-of-order", "between", "not-known")
#: of a piece of which all is said that can be
_FULL = PieceLook(is_locked=True)


class BoardWords(LookWords):
    """Keeps a line free under each tag for everything that the page may write there."""

    def __init__(self, materials: Materials, say: Words) -> None:
        """Work out the widest texts once."""
        super().__init__(materials, say)
        held = f"{'+'.join(['88'] * MOST_TOLD)}…"
        wash = max((say(f"state-wash-{each}") for each in WASHES), key=len)
        label = max((say(f"state-label-{each}") for each in LABELS), key=len)
        unsure = say("board-not-sure")
        position = max(say("state-open"), say("state-shut"), unsure, key=len)
        drive = max(say("diagram-running"), say("state-stopped"), unsure, key=len)
        fault = say("diagram-out-of-order")
        first = max(held, unsure, key=len)
        self.lines: Mapping[str, tuple[str, ...]] = {
            **dict.fromkeys(VESSELS, (first, say("limits-both", low="888", high="888 L"), label, wash)),
            **dict.fromkeys(PIPES, (first, say("diagram-pressure"), wash)),
            **dict.fromkeys(TURNED, (position, fault)),
            **dict.fromkeys(DRIVEN, (drive, fault)),
            **dict.fromkeys(PLAIN, (max(fault, unsure, key=len),)),
        }

    def widest(self) -> dict[str, tuple[str, ...]]:
        """Return for each symbol the widest texts that may stand under its tag."""
        # The mark of a padlock stands before its word, about as wide as two letters.
        locks = {symbol: (f"88{self.say('diagram-locked')}",) for symbol in LOCKED}
        return {symbol: (*self.lines.get(symbol, ()), *locks.get(symbol, ())) for symbol in (*self.lines, *LOCKED)}

    def infos(self, symbol: str, look: PieceLook) -> Iterator[str]:
        """Return the lines that the page fills."""
        yield from self.lines.get(symbol, ())


@dataclass(frozen=True)
class BoardSide:
    """A side of the plant, or all of it."""

    title: str
    diagram: LineDiagram


@remembered
def board_sides(setting: Setting, say: Words) -> tuple[BoardSide, ...]:
    """Return the diagrams of a plant: one where it fits on a page, else one for each of its sides."""
    facts = setting.facts
    words = BoardWords(facts.materials, say)
    full = {str(tag): _FULL for tag in facts.equipment.equipment}
    whole = line_diagram(facts.equipment, facts.materials, say, state=full, words=words)
    if not whole.pieces:
        return ()
    if whole.width <= WIDE:
        return (BoardSide(say("line-diagram-whole"), whole),)
    return tuple(
        BoardSide(
            _name(setting, say, side),
            line_diagram(facts.equipment, facts.materials, say, state=full, only=side, words=words),
        )
        for side in sides(setting.plant)
    )


def _name(setting: Setting, say: Words, side: frozenset[str]) -> str:
    """Return what a side is called: after the first tank in it, or else after its first piece."""
    pieces = [(tag, piece) for tag, piece in setting.facts.equipment.equipment.items() if tag in side]
    tag, piece = next((each for each in pieces if each[1].kind == "tank"), pieces[0])
    return say("line-diagram-side", tag=tag, name=str(piece.name))


@remembered
def board_key(setting: Setting, say: Words) -> LineDiagram:
    """Return a drawing that is nothing but the key to the others."""
    words = LookWords(setting.facts.materials, say)
    entries = [
        LegendEntry("material", str(number), say("diagram-material", number=str(number), name=words.names[each]))
        for each, number in words.numbers.items()
    ]
    said = {each: say(f"diagram-{each}") for each in KEY} | {"either": say("board-either")}
    entries += [LegendEntry("state", each, said[each]) for each in KEY]
    entries += [LegendEntry("line", kind, say(f"diagram-line-{kind}")) for kind in ("joined", "joinable")]
    title = say("diagram-key")
    return LineDiagram(title, "", 0, 0, (), (), tuple(entries), title)

"""What the sides of a plant are called."""

from tankside.model.facts import Equipment
from tankside.texts import Words


def side_name(equipment: Equipment, side: frozenset[str], say: Words) -> str:
    """Return what a side is called: after the first tank in it, or else after its first piece."""
    pieces = [(tag, piece) for tag, piece in equipment.equipment.items() if tag in side]
    tag, piece = next((each for each in pieces if each[1].kind == "tank"), pieces[0])
    return say("line-diagram-side", tag=tag, name=str(piece.name))

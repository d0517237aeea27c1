"""One text of the demo book replaced by another, and what the dry run must say of it and where."""

from dataclasses import dataclass

BLEND = "procedures/batch/blend-milk-line-cleaner.yaml"
DESCALER = "procedures/batch/blend-descaler.yaml"
DEGREASER = "procedures/batch/blend-degreaser.yaml"
BY_HAND = "procedures/breakdown/fill-by-hand.yaml"
CLEAN = "procedures/cleaning/clean-mixing-tank.yaml"
CLEAN_DESCALER = "procedures/cleaning/clean-descaler-tank.yaml"
CLEAN_DEGREASER = "procedures/cleaning/clean-degreaser-tank.yaml"
BLEED = "procedures/filling/bleed-cleaner-line.yaml"
FILL = "procedures/filling/fill-cleaner-bottles.yaml"
BLEED_DESCALER = "procedures/filling/bleed-descaler-line.yaml"
LOCK_MIXER = "procedures/lockout/lock-out-mixer.yaml"
LOCK_PUMP = "procedures/lockout/lock-out-transfer-pump.yaml"
DRESS = "procedures/safety/protective-equipment.yaml"
START = "procedures/safety/start-of-day.yaml"
BOOK = "procedures/plant/book.yaml"
EQUIPMENT = "procedures/plant/equipment.yaml"
MATERIALS = "procedures/plant/materials.yaml"
OPENING = "checklists/open-the-workshop.yaml"
MAKING = "checklists/make-cleaner.yaml"


@dataclass(frozen=True)
class Breakage:
    """A breakage: what is expected of it follows from the plant and the trade, not from what the dry run said."""

    what: str
    path: str
    old: str
    new: str
    #: every code that is found at that place, the one that names the danger first
    codes: str
    #: the name of a step, or the beginning of a line
    at: str
    #: the file of that place, when it is not the broken one
    at_path: str = ""
    #: what the message must name
    says: str = ""


def line_of(text: str, at: str) -> int:
    """Return the line where the step of that name begins, or else the one that begins with that text."""
    lines = text.splitlines()
    named = [number for number, line in enumerate(lines) if line.strip().removeprefix("- ") == f"step: {at}"]
    begun = [number for number, line in enumerate(lines) if line.strip().removeprefix("- ").startswith(at)]
    (found_at,) = named or begun
    line = lines[found_at]
    if line.strip() == f"step: {at}":
        begins = f"{' ' * (len(line) - len(line.lstrip()) - 2)}- "
        found_at = next(number for number in range(found_at, -1, -1) if lines[number].startswith(begins))
    return found_at + 1

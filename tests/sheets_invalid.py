"""Books whose sheets do not fit, and lists of copies that cannot be read: for each code of a problem one example."""

from collections.abc import Callable
from pathlib import Path

from demo_book import replace

FLUSH = "procedures/filling/flush.yaml"
SHEETS = "procedures/plant/sheets.yaml"
CONTROL = "revision: 1\n    effective: 2026-11-25\n    review: 2027-11-25\n    approved: lead\n"
#: longer than a page of A4 in 15 pt, of which some 600 words are one; behind a caution of half a page, and so is this
LONG, HALF = "Turn the handle by hand. " * 300, "turn the handle by hand " * 70


def declared(book: Path, text: str) -> None:
    """Write the list of sheets."""
    (book / SHEETS).write_text(f"sheets:\n{text}", encoding="utf-8", newline="\n")


def make_step_too_long(book: Path) -> None:
    replace(book / FLUSH, "  - shut: V1\n", f"  - shut: V1\n  - do: {LONG}\n")


def make_caution_parted(book: Path) -> None:
    caution = f"  - caution: It drips.\n    harm: It wets the floor.\n    avoid: Slowly {HALF}.\n    covers: [turn]\n"
    turned = f"  - do: Turn it, {HALF}.\n    step: turn\n"
    replace(book / FLUSH, "  - open: V1\n", f"{caution}{turned}  - open: V1\n")


def make_too_long(book: Path) -> None:
    wall = (
        "  flush-wall:\n    kind: wall-sheet\n    of: flush\n    steps: [look, open-v1, shut-v1]\n    read_from: 2 m\n"
    )
    declared(book, wall)


def make_too_small(book: Path) -> None:
    for tag, at in (("tank-1", "1, 1"), ("V1", "1, 2")):
        replace(book / "procedures/plant/equipment.yaml", f"\n  {tag}:\n", f"\n  {tag}:\n    at: [{at}]\n")
    declared(book, f"  tags:\n    kind: plant-sheet\n    read_from: 30 m\n    {CONTROL}")


#: codes that are found when sheets are laid out -> what brings them about
LAID: dict[str, Callable[[Path], None]] = {
    "sheet-caution-parted": make_caution_parted,
    "sheet-step-too-long": make_step_too_long,
    "sheet-too-long": make_too_long,
    "sheet-too-small": make_too_small,
}
#: codes of a list of copies -> the list
POSTED = {
    "posted-columns": "place,sheet,hash\ntank,flush,0a1b2c3d\n",
    "posted-empty": "\n",
}

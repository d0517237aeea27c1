"""Safety signs: the frame is drawn here, the symbol comes from a file, the words from one frozen table.

The forms are those of ISO 3864-1 and of the GHS. The symbols are our own drawings of the registered meanings, made
to be understood at 20 mm, not copies of the registered originals. ISO signs say what to do in the room, GHS
pictograms what a substance is; no row ever mixes two families (`row_of`), and every sign has its words beside it.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from importlib.resources import files
from types import MappingProxyType
from typing import Literal, get_args
from xml.sax.saxutils import escape

Family = Literal["mandatory", "prohibition", "warning", "safe-condition", "fire-equipment", "ghs"]

# sRGB renderings usual for the RAL colours that come near the safety colours of ISO 3864-4.
BLUE = "#005387"  # RAL 5005
YELLOW = "#f9a800"  # RAL 1003
GREEN = "#237f52"  # RAL 6032
RED = "#9b2423"  # RAL 3001
BLACK = "#000000"
WHITE = "#ffffff"

_PACKAGE = files("tankside.drawing")
_TRIANGLE = "M50 14.5L91 85.5H9Z"


@dataclass(frozen=True)
class Sign:
    """One row of the table of signs."""

    #: the registered code, `M004`, and the name of the symbol's file
    code: str
    #: says the form and the colours of the frame
    family: Family
    #: the short meaning, always shown with the sign
    name: str
    #: a sentence of ours for who has never seen it
    means: str
    #: what is to be seen, for those who cannot see it
    description: str
    #: where the code and its meaning are registered
    source: Literal["ISO 7010", "GHS (UN)"]
    #: what code and meaning were compared with: nothing but memory, a listing that somebody has published, or the text
    #: of the source itself
    checked: Literal["memory", "listing", "standard"]
    #: what was read: who published it, and what it says of this code; empty when it was memory
    seen: str


@dataclass(frozen=True)
class Frame:
    """What surrounds the symbols of one family, in a box of 100 by 100."""

    #: drawn under the symbol
    under: str
    #: the transform that takes the symbol's box of 100 by 100 into the frame
    place: str
    #: the colour of the symbol
    ink: str
    #: the colour of what is left open in the symbol
    ground: str
    #: drawn over the symbol
    over: str = ""


class UnknownSign(KeyError):  # noqa: N818, named for what is wrong, as the other refusals of this package
    """There is no sign with this code."""

    def __init__(self, code: str, near: tuple[str, ...]) -> None:
        """Keep the code asked for and the codes that may have been meant."""
        super().__init__(code, near)
        self.code = code
        self.near = near

    def __str__(self) -> str:
        """Return one sentence, with the near misses where there are any."""
        meant = f"; did you mean {' or '.join(self.near)}?" if self.near else ""
        return f"no sign has the code '{self.code}'{meant}"


class MixedFamilies(ValueError):  # noqa: N818, as above
    """Signs of several families were to stand in one row."""

    def __init__(self, codes: tuple[str, ...]) -> None:
        """Keep the codes of the row."""
        super().__init__(codes)
        self.codes = codes

    def __str__(self) -> str:
        """Return one sentence."""
        return f"signs of several families stand in one row: {', '.join(self.codes)}"


FRAMES: Mapping[Family, Frame] = MappingProxyType(
    {
        "mandatory": Frame(
            under=f'<circle cx="50" cy="50" r="50" fill="{WHITE}"/><circle cx="50" cy="50" r="48.5" fill="{BLUE}"/>',
            place="translate(15 15) scale(0.7)",
            ink=WHITE,
            ground=BLUE,
        ),
        "warning": Frame(
            under=f'<path d="{_TRIANGLE}" fill="{BLACK}" stroke="{BLACK}" stroke-width="16" stroke-linejoin="round"/>'
            f'<path d="{_TRIANGLE}" fill="{YELLOW}" stroke="{YELLOW}" stroke-width="3" stroke-linejoin="round"/>',
            place="translate(21 26) scale(0.58)",
            ink=BLACK,
            ground=YELLOW,
        ),
        "safe-condition": Frame(
            under=f'<path d="M0 0H100V100H0Z" fill="{WHITE}"/><path d="M2 2H98V98H2Z" fill="{GREEN}"/>',
            place="translate(12 12) scale(0.76)",
            ink=WHITE,
            ground=GREEN,
        ),
        "fire-equipment": Frame(
            under=f'<path d="M0 0H100V100H0Z" fill="{WHITE}"/><path d="M2 2H98V98H2Z" fill="{RED}"/>',
            place="translate(12 12) scale(0.76)",
            ink=WHITE,
            ground=RED,
        ),
        "prohibition": Frame(
            under=f'<circle cx="50" cy="50" r="49" fill="{WHITE}"/>',
            place="translate(21 21) scale(0.58)",
            ink=BLACK,
            ground=WHITE,
            over=f'<circle cx="50" cy="50" r="44" fill="none" stroke="{RED}" stroke-width="10"/>'
            f'<path d="M19 19L81 81" fill="none" stroke="{RED}" stroke-width="8"/>',
        ),
        "ghs": Frame(
            under=f'<path d="M50 4.5L95.5 50L50 95.5L4.5 50Z" fill="{WHITE}" stroke="{RED}" stroke-width="6"/>',
            place="translate(23 23) scale(0.54)",
            ink=BLACK,
            ground=WHITE,
        ),
    }
)


def _read_table() -> Mapping[str, Sign]:
    rows = json.loads((_PACKAGE / "signs.json").read_text(encoding="utf-8"))
    return MappingProxyType({row["code"]: Sign(**row) for row in rows})


SIGNS: Mapping[str, Sign] = _read_table()


def sign_of(code: str) -> Sign:
    """Return a sign of the table.

    Raises:
        UnknownSign: no sign of the table has this code.
    """
    if code not in SIGNS:
        raise UnknownSign(code, _near(code))
    return SIGNS[code]


def row_of(codes: Iterable[str]) -> tuple[Sign, ...]:
    """Return signs that stand in one row. Everything that makes a row of signs goes through here.

    Raises:
        UnknownSign: no sign of the table has one of the codes.
        MixedFamilies: they are of several families.
    """
    signs = tuple(sign_of(code) for code in codes)
    if len({sign.family for sign in signs}) > 1:
        raise MixedFamilies(tuple(sign.code for sign in signs))
    return signs


def by_family() -> Mapping[Family, tuple[Sign, ...]]:
    """Return all signs of the table, each family by itself, what one must do or not do first."""
    families: tuple[Family, ...] = get_args(Family)
    return {family: row_of(code for code, sign in SIGNS.items() if sign.family == family) for family in families}


def sign_svg(code: str) -> str:
    """Return the sign as a whole SVG document, its name as the title.

    Raises:
        UnknownSign: no sign of the table has this code.
    """
    sign = sign_of(code)
    frame = FRAMES[sign.family]
    symbol = f'<g transform="{frame.place}" fill="{frame.ink}">{_symbol(code, frame)}</g>'
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100" role="img">'
        f"<title>{escape(sign.name)}</title>{frame.under}{symbol}{frame.over}</svg>\n"
    )


def _symbol(code: str, frame: Frame) -> str:
    """Return what stands inside the symbol's file, black and white replaced by the frame's ink and ground."""
    svg = (_PACKAGE / "symbols" / f"{code}.svg").read_text(encoding="utf-8")
    inner = svg[svg.index(">") + 1 : svg.rindex("</svg>")].strip()
    return re.sub(r'"#(000|fff)"', lambda found: f'"{frame.ink if found[1] == "000" else frame.ground}"', inner)


def _near(code: str) -> tuple[str, ...]:
    """Return the signs named with this word, or else those whose code looks like it."""
    named = [sign.code for sign in SIGNS.values() if code.lower() in sign.name.lower().split()]
    return tuple(named or get_close_matches(code.upper(), SIGNS, n=3))

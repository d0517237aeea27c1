"""Place-keeping marks and other small line drawings, the same on screen and on paper.

Place-keeping is told apart by form alone: thin ring, bold ring, ring with one slash, ring with a bar, ring with a
broken slash. No mark has a colour of its own but the safety-alert triangle, which brings its own black and white
so that it holds on every panel colour and in greyscale; the rest take the colour of the text around them.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

_ROUND = 'stroke-linecap="round" stroke-linejoin="round"'
_RING = '<circle cx="50" cy="50" r="36" stroke-width="11"/>'

_LINES: Mapping[str, str] = MappingProxyType(
    {
        "not-started": '<circle cx="50" cy="50" r="36" stroke-width="5"/>',
        "started": _RING,
        "complete": f'{_RING}<path d="M13 87L87 13" stroke-width="11"/>',
        "not-applicable": f'{_RING}<path d="M2 50H98" stroke-width="11"/>',
        "deviated": f'{_RING}<path d="M10 90L34 66V50H66V34L90 10" stroke-width="11"/>',
        # 0.5 mm of line on a box of 8 mm: 6.25 of 100.
        "tick-box": '<path d="M3.125 3.125H96.875V96.875H3.125Z" stroke-width="6.25" stroke-linejoin="miter"/>',
        "arrow-right": '<path d="M8 50H88M56 18L88 50L56 82" stroke-width="12"/>',
        "hold": '<path d="M35 12V88M65 12V88" stroke-width="18" stroke-linecap="butt"/>',
        "clock": '<circle cx="50" cy="50" r="42" stroke-width="10"/><path d="M50 24V50L68 62" stroke-width="9"/>',
    }
)

_PERSON = (
    '<circle cx="0" cy="-34" r="11"/><path d="M-11 -19H11Q18 -19 18 -12V14H11V45H-11V14H-18V-12Q-18 -19 -11 -19Z"/>'
)
_SECOND_PERSON = (
    f'<g fill="currentColor"><g transform="translate(26 50)">{_PERSON}</g>'
    f'<g transform="translate(74 50)">{_PERSON}</g></g>'
)
_SAFETY_ALERT = (
    '<path d="M50 14L90 83H10Z" fill="#000000" stroke="#ffffff" stroke-width="18" stroke-linejoin="round"/>'
    '<path d="M50 14L90 83H10Z" fill="#000000" stroke="#000000" stroke-width="10" stroke-linejoin="round"/>'
    '<path d="M42 37Q41 28 50 28T58 37L55 60Q54.5 64 50 64T45 60Z" fill="#ffffff"/>'
    '<circle cx="50" cy="76" r="6.5" fill="#ffffff"/>'
)

_DRAWINGS: Mapping[str, str] = MappingProxyType(
    {name: f'<g fill="none" stroke="currentColor" {_ROUND}>{lines}</g>' for name, lines in _LINES.items()}
    | {"second-person": _SECOND_PERSON, "safety-alert": _SAFETY_ALERT}
)

MARKS: tuple[str, ...] = tuple(_DRAWINGS)


def mark_svg(name: str) -> str:
    """Return the mark as a whole SVG document, silent for screen readers: the word always stands beside it.

    Raises:
        KeyError: no mark has this name.
    """
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100" aria-hidden="true">{_DRAWINGS[name]}</svg>\n'

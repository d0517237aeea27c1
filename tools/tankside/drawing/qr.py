"""QR codes: an address that a telephone opens. Whoever shows one shows the address in words beside it."""

from __future__ import annotations

from fractions import Fraction
from itertools import groupby

import segno

#: clear modules on each side (ISO/IEC 18004, from memory; the guide of its inventor, read in a copy, says so too)
QUIET = 4
#: our judgement: four dots of a printer of 200 to the inch, as that guide wants four dots or more to a module; and a
#: laminated sheet shines, so that a telephone needs more than the guide's least
LEAST_MODULE_MM = Fraction(1, 2)


def _modules(text: str) -> tuple[bytes, ...]:
    """Return the rows of modules, 1 for dark, without the quiet zone; the smallest code that holds the text.

    Raises:
        ValueError: the text is too long for any code.
    """
    # At least 15 % of it may be lost (level M); a higher level is taken where the code becomes no larger by it.
    code = segno.make_qr(text, error="m", boost_error=True)
    return tuple(bytes(row) for row in code.matrix)


def qr_svg(text: str) -> str:
    """Return a QR code as a whole SVG document of one path, its quiet zone inside; one unit is one module.

    Raises:
        ValueError: the text is too long for any code.
    """
    rows = _modules(text)
    side = len(rows) + 2 * QUIET
    dark = "".join(_runs(row, y) for y, row in enumerate(rows, QUIET))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {side} {side}" shape-rendering="crispEdges">'
        f'<path d="{dark}"/></svg>\n'
    )


def least_side_mm(text: str) -> Fraction:
    """Return the smallest side [mm], quiet zone included, at which a module is at least LEAST_MODULE_MM.

    Raises:
        ValueError: as `qr_svg`.
    """
    return (len(_modules(text)) + 2 * QUIET) * LEAST_MODULE_MM


def _runs(row: bytes, y: int) -> str:
    """Return the dark runs of a row as pieces of a path."""
    path, x = "", QUIET
    for is_dark, modules in groupby(row):
        width = len(tuple(modules))
        if is_dark:
            path += f"M{x} {y}h{width}v1h-{width}z"
        x += width
    return path

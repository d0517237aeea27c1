"""The paper of a sheet, as it lies before the reader."""

from dataclasses import dataclass
from fractions import Fraction

#: width and height in mm, upright: A4 and A3 as in ISO 216, Letter and Tabloid as ANSI A and B in ANSI/ASME Y14.1
SIZES_MM = {
    "A3": (Fraction(297), Fraction(420)),
    "A4": (Fraction(210), Fraction(297)),
    "Letter": (Fraction(2159, 10), Fraction(2794, 10)),
    "Tabloid": (Fraction(2794, 10), Fraction(4318, 10)),
}
#: clear on every side: 10 for the seal of the laminate, the rest for a printer that pulls the paper askew
CLEAR_MM = 12
#: from the edge of the paper to the line along which it is cut, so that film meets film all around it
CUT_MM = 5
#: more at the inner edge of a sheet in a binder, for the holes: 12 from the edge to their middle (ISO 838), 4 to their
#: rim, the rest for the lever
BINDING_MM = 10


@dataclass(frozen=True)
class Paper:
    """A sheet of paper."""

    name: str
    is_landscape: bool = False
    #: whether it goes into a binder, printed on both sides: then it is not cut, and its inner edge is wider
    is_bound: bool = False

    @property
    def width_mm(self) -> Fraction:
        """From left to right."""
        return SIZES_MM[self.name][self.is_landscape]

    @property
    def height_mm(self) -> Fraction:
        """From top to bottom."""
        return SIZES_MM[self.name][not self.is_landscape]

    @property
    def text_mm(self) -> Fraction:
        """The width of the text."""
        return self.width_mm - 2 * CLEAR_MM - (BINDING_MM if self.is_bound else 0)

    def style(self, top_mm: int, first_top_mm: int, bottom_mm: int) -> str:
        """Return the style of its pages, for the margins that the text needs above and below."""
        size = f"{_text(self.width_mm)}mm {_text(self.height_mm)}mm"
        edge = "" if self.is_bound else f" background: url({self._cut_line}) no-repeat fixed 0 0 / {size};"
        return (
            f"@page {{ size: {size}; margin: {top_mm}mm {CLEAR_MM}mm {bottom_mm}mm;{edge} }} "
            f"{self._inner_edges}@page :first {{ margin-top: {first_top_mm}mm; }} "
        )

    @property
    def _inner_edges(self) -> str:
        if not self.is_bound:
            return ""
        # An odd page is a right one, bound at its left; a landscape sheet is bound there too, and turned to be read.
        inner = CLEAR_MM + BINDING_MM
        return f"@page :right {{ margin-left: {inner}mm; }} @page :left {{ margin-right: {inner}mm; }} "

    @property
    def _cut_line(self) -> str:
        width, height = _text(self.width_mm), _text(self.height_mm)
        across, down = _text(self.width_mm - 2 * CUT_MM), _text(self.height_mm - 2 * CUT_MM)
        line = f"x='{CUT_MM}' y='{CUT_MM}' width='{across}' height='{down}' fill='none' stroke='%23777'"
        return (
            f"\"data:image/svg+xml,<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 {width} {height}' "
            f"width='{width}mm' height='{height}mm'>"
            f"<rect {line} stroke-width='0.2' stroke-dasharray='2 3'/></svg>\""
        )


def _text(length: Fraction) -> str:
    return f"{float(length):g}"

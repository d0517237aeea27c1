"""Line diagrams on paper: as large as their lettering must be for the distance from which the sheet is read."""

from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from tankside.drawing.line_diagram import drawn_size, line_diagram_svg
from tankside.model.reading import MM_PER_POINT, legible_points
from tankside.render_print.frame import Frame
from tankside.render_print.media import svg_address
from tankside.views.line_diagram import LineDiagram
from tankside.views.line_diagram_places import TAG_SIZE

#: what stands above a drawing on its page: a heading, or a heading and two or three lines
HEADING_MM, TEXT_MM = 14, 14


@dataclass(frozen=True)
class Placed:
    """A drawing with its width on paper."""

    address: str
    says: str
    width_mm: int
    #: whether its lettering can be read from where the sheet is read
    is_legible: bool


def placed(diagram: LineDiagram, around: Frame, distance_mm: Fraction, *, as_large: bool = False) -> Placed:
    """Return a drawing whose tags can just be read from a distance, or `as_large` as the page allows."""
    least = legible_points(distance_mm) * MM_PER_POINT / TAG_SIZE
    most = largest(diagram, around, HEADING_MM if as_large else HEADING_MM + TEXT_MM)
    scale = most if as_large else min(least, most)
    width = ceil(drawn_size(diagram)[0] * scale)
    return Placed(svg_address(line_diagram_svg(diagram)), diagram.title, width, most >= least)


def largest(diagram: LineDiagram, around: Frame, beside_mm: int = HEADING_MM) -> Fraction:
    """Return the largest scale at which a drawing fits on a page under what stands above it [mm a unit]."""
    width, height = drawn_size(diagram)
    room = around.paper.height_mm - around.top_mm - around.bottom_mm - beside_mm
    return min(around.paper.text_mm / width, room / height)

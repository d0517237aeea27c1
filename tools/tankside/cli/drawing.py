"""A report as a drawing: every value against the levels it is held against."""

from fractions import Fraction

from tankside.drawing.plots import plot_svg
from tankside.quantities.report import Findings
from tankside.views.plots import Axis, Curve, Plot

#: how each level is dashed, so that they are told apart without colour
DASHES = ("", "12 6", "3 5", "16 5 3 5")
#: kept free above the highest and below the lowest, of what lies between
MARGIN = Fraction(1, 10)


def findings_svg(name: str, found: Findings) -> str:
    """Return the drawing of a report as SVG."""
    unit = found.points[0].unit
    points = [(Fraction(number), each.in_unit(unit)) for number, each in enumerate(found.points, 1)]
    levels = {label: each.in_unit(unit) for label, each in found.levels.items()}
    values = [*(y for _, y in points), *levels.values()]
    low, high = min(values), max(values)
    room = (high - low or Fraction(1)) * MARGIN
    across = Axis("number", Fraction(len(points) + 1))
    lines = tuple(
        Curve([(across.start, level), (across.end, level)], label, DASHES[at % len(DASHES)], is_named_first=at % 2 == 1)
        for at, (label, level) in enumerate(levels.items())
    )
    says = f"{name}: {len(points)} values against {', '.join(levels)}."
    return plot_svg(
        Plot(across, Axis(unit.symbol, high + room, low - room), (*lines, Curve(points, is_dots=True)), says)
    )

"""A curve in a frame with a grid, for people who would rather look than read; the same on screen and paper."""

from collections.abc import Iterator
from fractions import Fraction
from html import escape

from tankside.views.plots import Axis, Curve, Plot

WIDTH, HEIGHT = 640, 400
LEFT, RIGHT, TOP, BOTTOM = 84, 28, 24, 70


def plot_svg(plot: Plot) -> str:
    """Return a plot as SVG."""
    across, up = plot.across, plot.up
    body = "".join((*_grid(across, up), *(part for curve in plot.curves for part in _curve(across, up, curve))))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" '
        f'aria-label="{escape(plot.says)}" font-family="Atkinson Hyperlegible, sans-serif" font-size="20" fill="#000">'
        f'<rect x="0" y="0" width="{WIDTH}" height="{HEIGHT}" fill="#fff"/>{body}</svg>'
    )


def _x(axis: Axis, value: Fraction) -> str:
    return _place(LEFT + (value - axis.start) / axis.length * (WIDTH - LEFT - RIGHT))


def _y(axis: Axis, value: Fraction) -> str:
    return _place(HEIGHT - BOTTOM - (value - axis.start) / axis.length * (HEIGHT - TOP - BOTTOM))


def _place(value: Fraction) -> str:
    return f"{round(value * 10) / 10:g}"


def _grid(across: Axis, up: Axis) -> Iterator[str]:
    bottom, top = _y(up, up.start), _y(up, up.end)
    left, right = _x(across, across.start), _x(across, across.end)
    for value in across.lines:
        x = _x(across, value)
        yield f'<path d="M{x} {bottom}V{top}" stroke="#767676" stroke-width="1"/>'
        yield f'<text x="{x}" y="{HEIGHT - BOTTOM + 26}" text-anchor="middle">{_number(value)}</text>'
    for value in up.lines:
        y = _y(up, value)
        yield f'<path d="M{left} {y}H{right}" stroke="#767676" stroke-width="1"/>'
        yield f'<text x="{LEFT - 8}" y="{y}" dy="0.35em" text-anchor="end">{_number(value)}</text>'
    yield f'<path d="M{left} {top}V{bottom}H{right}" fill="none" stroke="#000" stroke-width="3"/>'
    middle = (LEFT + WIDTH - RIGHT) // 2
    yield f'<text x="{middle}" y="{HEIGHT - 14}" text-anchor="middle">{escape(across.title)}</text>'
    middle = (TOP + HEIGHT - BOTTOM) // 2
    yield f'<text transform="translate(24 {middle}) rotate(-90)" text-anchor="middle">{escape(up.title)}</text>'


def _curve(across: Axis, up: Axis, curve: Curve) -> Iterator[str]:
    if curve.is_dots:
        for x, y in curve.points:
            yield f'<circle cx="{_x(across, x)}" cy="{_y(up, y)}" r="5"/>'
        return
    places = [f"{_x(across, x)} {_y(up, y)}" for x, y in curve.points]
    dashes = f' stroke-dasharray="{curve.dash}"' if curve.dash else ""
    yield f'<path d="M{" L".join(places)}" fill="none" stroke="#000" stroke-width="4"{dashes}/>'
    if curve.label:
        x, y = curve.points[0 if curve.is_named_first else -1]
        anchor = "start" if curve.is_named_first else "end"
        place = f'x="{_x(across, x)}" y="{_y(up, y)}" dx="0.2em" dy="-0.4em" text-anchor="{anchor}"'
        halo = 'stroke="#fff" stroke-width="4" paint-order="stroke"'
        yield f'<text {place} font-weight="700" {halo}>{escape(curve.label)}</text>'


def _number(value: Fraction) -> str:
    return f"{float(value):g}"

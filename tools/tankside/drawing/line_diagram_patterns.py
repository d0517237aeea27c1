"""Patterns that tell materials apart on a line diagram without any colour, cut to the shape that they fill.

Every stroke is worked out, so that a drawing needs no definitions, no addresses and no ids: several stand on one page,
and a browser and a printer draw the same.
"""

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from math import floor, sin, tau

Point = tuple[float, float]
Polygon = Sequence[Point]
Stroke = Sequence[Point]
#: strokes that cover a box: left, top, right, bottom
Pattern = Callable[[float, float, float, float], Iterator[Stroke]]

#: from one stroke to the next
STEP = 7


def _steps(low: float, high: float, step: float = STEP, start: float = STEP / 2) -> Iterator[float]:
    at = start + step * floor((low - start) / step)
    while at <= high:
        yield at
        at += step


def _slanted(slope: int, *places: float, step: float = STEP + 2) -> Pattern:
    """Return strokes at 45 degrees, rising to the right for -1, at each of these places of a step."""

    def strokes(left: float, top: float, right: float, bottom: float) -> Iterator[Stroke]:
        high = bottom - top
        for place in places:
            for at in _steps(left - high, right + high, step, place):
                yield ((at, top), (at + slope * high, bottom))

    return strokes


def _across(*places: float, step: float = STEP) -> Pattern:
    def strokes(left: float, top: float, right: float, bottom: float) -> Iterator[Stroke]:
        for place in places:
            for y in _steps(top, bottom, step, place):
                yield ((left, y), (right, y))

    return strokes


def _down(*places: float, step: float = STEP) -> Pattern:
    def strokes(left: float, top: float, right: float, bottom: float) -> Iterator[Stroke]:
        for place in places:
            for x in _steps(left, right, step, place):
                yield ((x, top), (x, bottom))

    return strokes


def _scattered(*shape: Stroke, step: float = STEP) -> Pattern:
    """Return small shapes in rows, each row half a step beside the one above."""

    def strokes(left: float, top: float, right: float, bottom: float) -> Iterator[Stroke]:
        for y in _steps(top - step, bottom + step, step, 0):
            shift = step / 2 if round(y / step) % 2 else 0
            for x in _steps(left - step, right + step, step, shift):
                for stroke in shape:
                    yield tuple((x + dx, y + dy) for dx, dy in stroke)

    return strokes


def _waves(height: float, length: float, points: int) -> Pattern:
    def strokes(left: float, top: float, right: float, bottom: float) -> Iterator[Stroke]:
        for y in _steps(top - STEP, bottom + STEP):
            places = _steps(left - length, right + length, length / points, 0)
            yield tuple((x, y + height * sin(tau * x / length)) for x in places)

    return strokes


def _both(*patterns: Pattern) -> Pattern:
    def strokes(left: float, top: float, right: float, bottom: float) -> Iterator[Stroke]:
        for pattern in patterns:
            yield from pattern(left, top, right, bottom)

    return strokes


_DOT: Stroke = ((-0.2, 0), (0.2, 0))
_DASH: Stroke = ((-2.5, 0), (2.5, 0))
_TICK: Stroke = ((0, -2.5), (0, 2.5))
_RING: Stroke = ((-2, 0), (0, -2), (2, 0), (0, 2), (-2, 0))
_ROOF: Stroke = ((-3, 2), (0, -2), (3, 2))
_X: tuple[Stroke, ...] = (((-2, -2), (2, 2)), ((-2, 2), (2, -2)))

#: each with the width of its strokes; a material has that of its number, and the first again after the last
PATTERNS: tuple[tuple[Pattern, float], ...] = (
    (_waves(1.6, 12, 8), 1.1),
    (_slanted(-1, 0), 1.1),
    (_scattered(_DOT), 2.2),
    (_slanted(1, 0), 1.1),
    (_across(3.5), 1.1),
    (_both(_slanted(-1, 0), _slanted(1, 0)), 1),
    (_down(3.5), 1.1),
    (_scattered(_DASH, step=8), 1.3),
    (_both(_across(3.5), _down(3.5)), 1),
    (_scattered(_RING, step=9), 1),
    (_slanted(-1, 0, 3, step=14), 1.1),
    (_scattered(_DASH, _TICK, step=9), 1.1),
    (_scattered(_ROOF, step=8), 1.1),
    (_slanted(1, 0, 3, step=14), 1.1),
    (_scattered(_TICK, step=7), 1.3),
    (_across(3.5, step=8), 3),
    (_scattered(*_X, step=9), 1.1),
    (_slanted(-1, 0, step=12), 3),
    (_scattered(_DOT, step=10), 4.5),
    (_down(3.5, step=8), 3),
    (_slanted(1, 0, step=12), 3),
    (_across(2, 4.5, step=10), 1),
    (_waves(3, 8, 4), 1.1),
    (_down(2, 4.5, step=10), 1),
)


def pattern_strokes(number: int, polygon: Polygon) -> tuple[list[Stroke], float]:
    """Return the strokes of a material's pattern inside a convex polygon, and how wide they are.

    Args:
        number: of the material, from 1.
        polygon: its corners, in either direction.
    """
    pattern, width = PATTERNS[(number - 1) % len(PATTERNS)]
    xs, ys = [x for x, _ in polygon], [y for _, y in polygon]
    found: list[Stroke] = []
    for stroke in pattern(min(xs), min(ys), max(xs), max(ys)):
        found += _inside(stroke, polygon)
    return found, width


def _inside(stroke: Stroke, polygon: Polygon) -> list[list[Point]]:
    """Return the parts of a stroke that lie in a polygon."""
    parts: list[list[Point]] = []
    for start, end in pairwise(stroke):
        part = _clipped(start, end, polygon)
        if part is None:
            continue
        if parts and parts[-1][-1] == part[0]:
            parts[-1].append(part[1])
        else:
            parts.append([*part])
    return parts


def _clipped(start: Point, end: Point, polygon: Polygon) -> tuple[Point, Point] | None:
    """Return the part of a stroke in a convex polygon (the method is that of Cyrus and Beck 1978)."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    first, last = 0.0, 1.0
    for (ax, ay), (bx, by) in _edges(polygon):
        # How far outside the edge the start is, and how that changes on the way.
        outside = (start[0] - ax) * (by - ay) - (start[1] - ay) * (bx - ax)
        change = dx * (by - ay) - dy * (bx - ax)
        if change == 0:
            if outside > 0:
                return None
        elif change > 0:
            last = min(last, -outside / change)
        else:
            first = max(first, -outside / change)
    if first >= last:
        return None
    return (
        start if first == 0 else (start[0] + first * dx, start[1] + first * dy),
        end if last == 1 else (start[0] + last * dx, start[1] + last * dy),
    )


def _edges(polygon: Polygon) -> Iterator[tuple[Point, Point]]:
    """Return the edges so that the inside is always on the same hand."""
    closed = [*polygon, polygon[0]]
    area = sum(ax * by - bx * ay for (ax, ay), (bx, by) in pairwise(closed))
    if area < 0:
        closed.reverse()
    yield from pairwise(closed)


def cut(
    polygon: Polygon,
    *,
    below: float | None = None,
    above: float | None = None,
    after: float | None = None,
    before: float | None = None,
) -> list[Point]:
    """Return the part of a polygon between two heights (y grows downward) and two places across."""
    points = list(polygon)
    for limit, axis, sign in ((below, 1, 1), (above, 1, -1), (after, 0, 1), (before, 0, -1)):
        if limit is not None:
            points = _cut(points, limit, axis, sign)
    return points


def _cut(polygon: Polygon, limit: float, axis: int, sign: int) -> list[Point]:
    """Return the part on one side of a limit (the method is that of Sutherland and Hodgman 1974)."""
    found: list[Point] = []
    for a, b in zip(polygon, [*polygon[1:], *polygon[:1]], strict=True):
        from_a, from_b = sign * (a[axis] - limit), sign * (b[axis] - limit)
        if from_a >= 0:
            found.append(a)
        if from_a * from_b < 0:
            share = from_a / (from_a - from_b)
            found.append((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
    return found

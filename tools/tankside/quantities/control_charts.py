"""Limits of a control chart, for filling weights and the like."""

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from types import MappingProxyType
from typing import Final

from tankside.quantities.contents import TASK
from tankside.quantities.expression import Name
from tankside.quantities.given import Given, Groups
from tankside.quantities.helper import FROM_ZERO, Argument, Result, Variant
from tankside.quantities.refusals import SampleSizeError
from tankside.quantities.report import Findings, Report, Sheet, report
from tankside.units import Quantity, Unit

_KINDS: Final = ("mass", "volume", "mass concentration", "conductivity", "pH")
#: size of the subgroups -> A2, D3, D4; of single values their moving range makes groups of two
_FACTORS: Final = {
    1: ("2.66", "0", "3.267"),
    2: ("1.880", "0", "3.267"),
    3: ("1.023", "0", "2.574"),
    4: ("0.729", "0", "2.282"),
    5: ("0.577", "0", "2.114"),
    6: ("0.483", "0", "2.004"),
    7: ("0.419", "0.076", "1.924"),
    8: ("0.373", "0.136", "1.864"),
    9: ("0.337", "0.184", "1.816"),
    10: ("0.308", "0.223", "1.777"),
}
#: common practice, no source
_ENOUGH: Final = 20


@report(
    task=TASK,
    arguments=(Argument("subgroups", _KINDS, "values in order", "subgroups.csv", is_grouped=True, low=FROM_ZERO),),
    results=(
        Result("centre", "g", "nearest", "centre line: mean of all values"),
        Result("lower", "g", "nearest", "lower limit"),
        Result("upper", "g", "nearest", "upper limit"),
        Result("range_centre", "g", "nearest", "centre line of the ranges"),
        Result("range_lower", "g", "nearest", "lower limit of the ranges"),
        Result("range_upper", "g", "nearest", "upper limit of the ranges"),
    ),
    variants=tuple(Variant(MappingProxyType({"subgroups": kind})) for kind in _KINDS),
    choice="give every value in a unit of one kind",
)
def control_limits(given: Given) -> Findings:
    """Return the limits of a control chart for means and ranges, and the points outside.

    ``lower = centre - A2 * range_centre``, ``upper = centre + A2 * range_centre``, ``range_lower = D3 * range_centre``,
    ``range_upper = D4 * range_centre``; for single values 2.66 stands for A2, and the ranges are those from one value
    to the next.

    Args:
        subgroups: values in the order they were taken [g, mL, g/L, mS/cm, pH], from 0: 2 to 500 subgroups of one size,
        1 to 10 values each, a stroke between the values of one; or the name of a CSV file with a line for each
        subgroup, whose first line names the unit of each column, as gross [g].

    Returns:
        points_outside: numbers of the subgroups whose mean is outside, or none.
        ranges_outside: numbers of the subgroups whose range is outside, or none; of single values, of the later one.
        basis: what the limits are made of.
        centre: mean of all values [unit of the first value], as all that follow.
        lower: lower limit.
        upper: upper limit.
        range_centre: mean of the ranges.
        range_lower: lower limit of the ranges.
        range_upper: upper limit of the ranges.

    Raises:
        SampleSizeError: fewer than 2 subgroups, more than 10 values in one, or subgroups of different sizes.
        OutOfDomainError: a value is below 0.
        KindsMismatchError: values of different kinds.

    Limits:
        these are the limits of what the filling does, not of what the label allows. Made from fewer than 20 subgroups
        they are provisional. A point outside asks for a cause to be looked for; only with the cause found and mended
        is it left out and the limits worked out again.

    Source:
        Shewhart's method; A2, D3, D4 and 2.66 as printed in the common tables of factors for control charts.

    Example:
        tankside calc control-limits subgroups="528, 531, 529, 533, 530 g"
        points_outside none, ranges_outside none, basis 5 single values; fewer than 20: provisional, centre 530.2 g,
        range_centre 3 g, lower 522.22 g, upper 538.18 g, range_lower 0 g, range_upper 9.801 g
    """
    subgroups = given["subgroups"]
    assert isinstance(subgroups, Groups), "the subgroups are groups"
    groups = [[entry.value for entry in group] for group in subgroups.entries]
    size = _size(groups)
    means = [sum(group, Fraction(0)) / size for group in groups]
    ranges = [max(group) - min(group) for group in (groups if size > 1 else map(list, pairwise(means)))]
    sheet = _limits(means, ranges, size, subgroups.entries[0][0].unit)
    words = {
        "points_outside": _outside(means, sheet, "", first=1),
        "ranges_outside": _outside(ranges, sheet, "range_", first=1 if size > 1 else 2),
        "basis": _basis(len(groups), size),
    }
    unit = subgroups.entries[0][0].unit
    return Findings(
        MappingProxyType(sheet.results),
        MappingProxyType(words),
        tuple(sheet.lines),
        points=tuple(Quantity(mean, unit) for mean in means),
        levels={name: sheet.results[name] for name in ("centre", "lower", "upper")},
    )


def _size(groups: Sequence[Sequence[Fraction]]) -> int:
    size = len(groups[0])
    if len(groups) < 2:
        raise SampleSizeError("subgroups is one subgroup, no chart is made of it", "give at least 2, better 20")
    for number, group in enumerate(groups, 1):
        if len(group) != size:
            raise SampleSizeError(
                f"subgroup {number} has {len(group)} values, subgroup 1 has {size}",
                "give every subgroup the same number of values",
            )
    if size not in _FACTORS:
        raise SampleSizeError(
            f"a subgroup has {size} values, more than 10", "give subgroups of 2 to 10 values, such as 5"
        )
    return size


def _limits(means: Sequence[Fraction], ranges: Sequence[Fraction], size: int, unit: Unit) -> Sheet:
    sheet = Sheet({})
    a2, d3, d4 = (Fraction(text) for text in _FACTORS[size])
    centre, spread = Name("centre"), Name("range_centre")
    sheet.put("centre", f"sum of all values ÷ {len(means) * size}", _mean(means, unit))
    sheet.put("range_centre", f"sum of the ranges ÷ {len(ranges)}", _mean(ranges, unit))
    sheet.work("lower", centre - a2 * spread, unit)
    sheet.work("upper", centre + a2 * spread, unit)
    sheet.work("range_lower", d3 * spread, unit)
    sheet.work("range_upper", d4 * spread, unit)
    return sheet


def _mean(values: Sequence[Fraction], unit: Unit) -> Quantity:
    return Quantity(sum(values, Fraction(0)) / len(values), unit)


def _outside(points: Sequence[Fraction], sheet: Sheet, chart: str, *, first: int) -> str:
    lower, upper = (sheet.results[f"{chart}{end}"].value for end in ("lower", "upper"))
    numbers = [str(number) for number, point in enumerate(points, first) if not lower <= point <= upper]
    return ", ".join(numbers) or "none"


def _basis(count: int, size: int) -> str:
    made_of = f"{count} single values" if size == 1 else f"{count} subgroups of {size}"
    return made_of if count >= _ENOUGH else f"{made_of}; fewer than {_ENOUGH}: provisional"


REPORTS: tuple[Report, ...] = (control_limits,)

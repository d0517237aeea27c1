"""Charts of the plant against independent geometry, published tables and arithmetic."""

import math
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest
from fluids.geometry import V_vertical_conical

from tankside.catalogue import Book, load
from tankside.compute.charts import dilution_charts, dip_charts, fill_charts, flush_charts, purge_charts
from tankside.loading.sources import Folder
from tankside.texts import words
from tankside.units import UNITS, Quantity
from tankside.views.charts import ChartView, chart_views

ROOT = Path(__file__).parent.parent


@pytest.fixture(scope="module")
def book() -> Book:
    loaded = load(Folder(ROOT))
    assert loaded.book is not None
    return loaded.book


@pytest.fixture(scope="module")
def views(book: Book) -> dict[str, ChartView]:
    return {view.id: view for view in chart_views(book.plant, words("en"))}


def number(quantity: Quantity, unit: str) -> float:
    return float(quantity.in_unit(UNITS[unit]))


def test_each_level_of_the_cone_bottom_tank_is_that_of_an_independent_library(book: Book) -> None:
    # fluids.geometry: a vertical tank of 60 cm on a cone of 25 cm, as the demonstration book says
    chart = next(each for each in dip_charts(book.plant) if each.tag == "tank-250")
    assert len(chart.by_level) >= 20
    for level, volume in (*chart.by_level, *chart.by_volume, *chart.curve):
        expected = V_vertical_conical(0.60, 0.25, number(level, "m")) * 1000
        assert math.isclose(number(volume, "L"), expected, rel_tol=1e-9, abs_tol=1e-9)


def test_flat_tank_is_a_circle_times_its_level(book: Book) -> None:
    chart = next(each for each in dip_charts(book.plant) if each.tag == "tank-60")
    for level, volume in (*chart.by_level, *chart.by_volume):
        assert math.isclose(number(volume, "L"), math.pi * 20**2 * number(level, "cm") / 1000, rel_tol=1e-12)


def test_chart_goes_in_steps_of_the_graduation_and_has_no_more_rows_than_can_be_read(book: Book) -> None:
    graduations = {"tank-250": 2, "tank-60": 1}
    for chart in dip_charts(book.plant):
        volumes = [volume.in_unit(UNITS["L"]) for _, volume in chart.by_volume]
        assert len(volumes) <= 40
        assert {volume % graduations[chart.tag] for volume in volumes} == {0}
        assert len({b - a for a, b in pairwise(volumes)}) == 1


def test_dilution_chart_is_made_up_to_the_mark(book: Book) -> None:
    # 2 %v/v made up to 10 L is 200 mL of the liquid, not 200 mL on top of 10 L of water
    chart = next(each for each in dilution_charts(book.plant) if each.material == "milk-line-cleaner")
    at = [number(target, "%v/v") for target in chart.targets].index(2)
    stocks = {number(make, "L"): number(row[at], "mL") for make, row in chart.rows}
    assert stocks[10] == 200
    assert stocks[50] == 1000


def test_purge_chart_is_that_of_the_published_table_times_its_factor(book: Book) -> None:
    # CDC (2003), table B.1, row of 8 air changes an hour: 99 % in 35 min, 99.9 % in 52 min, with perfect mixing;
    # the demonstration book has 600 m3/h in 75 m3, which is 8 an hour, and a factor of 3
    (chart,) = purge_charts(book.plant)
    assert number(chart.air_changes, "1/h") == 8
    times = {float(removal.number): number(time, "min") / 3 for removal, time in chart.rows}
    assert round(times[99]) == 35
    assert round(times[99.9]) == 52


def test_flush_chart_is_the_exponential_law(book: Book) -> None:
    # 27.2 mm over 4 m, 19 mm over 2 m and 0.8 L; continuous dilution with perfect mixing: V ln(1/share)
    chart = next(each for each in flush_charts(book.plant) if each.tag == "cleaner-line")
    held = math.pi / 4 * (2.72**2 * 400 + 1.9**2 * 200) / 1000 + 0.8
    for left, volume in chart.rows:
        assert math.isclose(number(volume, "L"), held * math.log(100 / float(left.number)), rel_tol=1e-9)


def test_fill_weights_are_those_of_the_directive(book: Book) -> None:
    # Directive 76/211/EEC: 1 L may be 15 mL short, 5 L 75 mL; T2 is twice that. Density 1.06 g/mL.
    chart = next(each for each in fill_charts(book.plant) if each.product == "milk-line-cleaner")
    found = {number(row.nominal, "L"): row for row in chart.rows}
    assert [number(each, "g") for each in (found[1].target, found[1].warning, found[1].limit)] == [1060, 1044.1, 1028.2]
    assert [number(each, "g") for each in (found[5].target, found[5].warning, found[5].limit)] == [5300, 5220.5, 5141]


def test_warm_liquid_takes_up_as_much_more_as_water_does(book: Book) -> None:
    # water: 999.1026, 998.2067 and 997.0470 kg/m3 at 15, 20 and 25 degC (IAPWS-95)
    chart = next(each for each in fill_charts(book.plant) if each.product == "milk-line-cleaner")
    row = next(each for each in chart.rows if number(each.nominal, "L") == 1)
    expected = [1000 * 998.2067 / density for density in (999.1026, 998.2067, 997.0470)]
    for volume, each in zip(row.volumes, expected, strict=True):
        assert math.isclose(number(volume, "mL"), each, rel_tol=3e-6)


def test_limits_of_another_law_are_called_internal_control_only(views: dict[str, ChartView]) -> None:
    # the demonstration book stands under the law of the US
    assert any(note.startswith("Internal control only") for note in views["fill-milk-line-cleaner"].notes)


def test_purge_chart_says_that_it_is_no_clock_for_going_back_in(views: dict[str, ChartView]) -> None:
    assert any("Never a clock for going back in" in note for note in views["purge-exhaust-1"].notes)


def test_curve_ends_at_the_rim(views: dict[str, ChartView]) -> None:
    plot = views["dip-tank-250"].plot
    assert plot is not None
    volume, level = plot.curves[0].points[-1]
    assert level == 105
    assert abs(volume - Fraction("249.75")) < Fraction("0.01")  # pi/4 * 36 dm2 * (8 + 2.5/3) dm

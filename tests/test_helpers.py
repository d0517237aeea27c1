"""Each helper against published examples, an independent library, its own laws, and each of its refusals."""

from fractions import Fraction
from math import isclose
from typing import Any

import pytest
from fluids.piping import nearest_pipe
from hypothesis import given
from hypothesis import strategies as st

from tankside.quantities.calculation import calculate, result_of, tree_with_constants
from tankside.quantities.counterpart import counterpart
from tankside.quantities.dimension import DimensionError
from tankside.quantities.documentation import SECTIONS, documentation
from tankside.quantities.evaluate import evaluate
from tankside.quantities.expression import Expression, names_in
from tankside.quantities.helper import Argument, Helper, Result, Trees, Variant, check_dimensions, helper
from tankside.quantities.recipe import Ingredient, Recipe
from tankside.quantities.refusals import HelperUnknownError
from tankside.quantities.registry import HELPERS, helper_named
from tankside.units import UNITS, Quantity, QuantityError, parse_quantity


def worked_out(name: str, **texts: str | Recipe) -> dict[str, Quantity]:
    values = {key: text if isinstance(text, Recipe) else read(name, key, text) for key, text in texts.items()}
    return dict(calculate(HELPERS[name], values).results)


def read(name: str, key: str, text: str) -> Quantity:
    accepted = [argument.kinds for argument in HELPERS[name].arguments if argument.name == key]
    return parse_quantity(text, accepted[0] if accepted else (), key)


def number(quantity: Quantity, unit: str) -> Fraction:
    return quantity.in_unit(UNITS[unit])


def close(value: Fraction, published: str, tolerance: str) -> bool:
    """Whether ``value`` is within a relative ``tolerance`` of what was published."""
    return abs(value / Fraction(published) - 1) <= Fraction(tolerance)


# --- dilute -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("stock", "target", "parts"),
    [
        ("3.5 %w/v", "0.5 %w/v", 6),  # D01: CDC and WHO, environmental cleaning, appendix E, example 1
        ("5 %w/v", "0.1 %w/v", 49),  # D03: same, example 3
        ("5 %w/v", "0.5 %w/v", 9),  # D30: field tables, recalled, not seen; formula of D01
        ("2.5 %w/v", "0.5 %w/v", 4),  # D30
        ("10 %w/v", "0.5 %w/v", 19),  # D30
    ],
)
def test_parts_of_water_are_those_published(stock: str, target: str, parts: int) -> None:
    found = worked_out("dilute", stock=stock, target=target, make="20 L")
    assert found["water_volume"].value / found["stock_volume"].value == parts


@pytest.mark.parametrize(
    ("stock", "target", "make", "published", "unit", "tolerance"),
    [
        # D04: CDC page on 0.1 % chlorine: 400 mL of 5 % made up to 20 L is 0.1 %
        ("5 %w/v", "0.1 %w/v", "20 L", "400", "mL", "0"),
        # D11: WAC 296-823-14055: 10 mL of 5.25 % made up to 946 mL; 52,500 mg/L * 10 / 946 = 555 mg/L
        ("5.25 %w/v", "555 mg/L", "946 mL", "10", "mL", "0.001"),
        # D12: same: 79 mL + 15 mL made up to 946 mL; 52,500 * 94 / 946 = 5,217 mg/L
        ("5.25 %w/v", "5217 mg/L", "946 mL", "94", "mL", "0.001"),
        # D19: published in mol/L; a dilution is linear in whatever the strength counts, so g/L stand for it:
        # 25.0 mL of 15.8 made up to 1.50 L is 0.263 (0.26333)
        ("15.8 g/L", "0.263 g/L", "1.50 L", "25.0", "mL", "0.002"),
        # D20: 25 mL of 10.0 % (m/v) made up to 100 mL is 2.5 %
        ("10.0 %w/v", "2.5 %w/v", "100 mL", "25", "mL", "0"),
        # D25: 1,000 mL of 25 % from 70 %: 1000 * 25 / 70 = 357.14; the publisher rounded early and prints 360
        ("70 %v/v", "25 %v/v", "1000 mL", "357.142857", "mL", "0.000001"),
        # D27: bleach of 142 g/L at a specific gravity of 1.196 is 11.873 wt %: 1 L of it makes 142 L of 1 g/L
        ("11.873 %w/w", "1 g/L", "142 L", "1", "L", "0.00002"),
    ],
)
def test_stock_volume_is_the_published_one(
    stock: str, target: str, make: str, published: str, unit: str, tolerance: str
) -> None:
    density = {"stock_density": "1.196 kg/L"} if stock.endswith("%w/w") else {}
    found = worked_out("dilute", stock=stock, target=target, make=make, **density)
    assert close(number(found["stock_volume"], unit), published, tolerance)


def test_published_alligation_that_is_wrong_is_not_repeated() -> None:
    # T1: a worked example prints 138.46 mL of 95 % for 300 mL of 70 %; 300 * 70 / 95 = 221.05, water 78.95
    found = worked_out("dilute", stock="95 %v/v", target="70 %v/v", make="300 mL")
    assert round(float(number(found["stock_volume"], "mL")), 2) == 221.05
    assert round(float(number(found["water_volume"], "mL")), 2) == 78.95


def test_made_up_to_is_not_added_to() -> None:
    # T4: "250 mL of 5 % in 1 L is 1 %" is true added to 1 L; made up to 1 L it is 5 * 250 / 1000 = 1.25 %
    found = worked_out("dilute", stock="5 %w/v", target="1.25 %w/v", make="1 L")
    assert number(found["stock_volume"], "mL") == 250
    one_percent = worked_out("dilute", stock="5 %w/v", target="1 %w/v", make="1 L")
    assert number(one_percent["stock_volume"], "mL") == 200
    # its row for 15 %: 70 mL made up to 1 L is 15 * 70 / 1000 = 1.05 %
    assert number(worked_out("dilute", stock="15 %w/v", target="1.05 %w/v", make="1 L")["stock_volume"], "mL") == 70


def test_results_of_a_dilution_are_in_the_unit_of_what_is_made() -> None:
    found = worked_out("dilute", stock="400 g/L", target="40 g/L", make="2 US gal")
    assert [(str(quantity.number), quantity.unit.symbol) for quantity in found.values()] == [
        ("1/5", "US gal"),  # 2 * 40 / 400
        ("9/5", "US gal"),
    ]


def test_target_as_strong_as_the_stock_takes_no_water() -> None:
    found = worked_out("dilute", stock="5 %v/v", target="5 %v/v", make="3 L")
    assert (number(found["stock_volume"], "L"), number(found["water_volume"], "L")) == (3, 0)


strengths = st.integers(1, 10**6).map(lambda n: Fraction(n, 1000))
volumes = st.integers(1, 10**9).map(lambda n: Fraction(n, 1000))


def dilution(stock: Fraction, target: Fraction, make: Fraction) -> dict[str, Quantity]:
    values = {
        "stock": Quantity(stock, UNITS["g/L"]),
        "target": Quantity(target, UNITS["g/L"]),
        "make": Quantity(make * UNITS["L"].factor, UNITS["L"]),
    }
    return dict(calculate(HELPERS["dilute"], values).results)


@given(strengths, strengths, volumes)
def test_what_goes_in_is_what_comes_out(one: Fraction, other: Fraction, make: Fraction) -> None:
    stock, target = max(one, other), min(one, other)
    found = dilution(stock, target, make)
    assert number(found["stock_volume"], "L") * stock == make * target  # mass of the active
    assert number(found["stock_volume"], "L") + number(found["water_volume"], "L") == make


@given(strengths, strengths, strengths, volumes)
def test_stronger_target_takes_more_stock(one: Fraction, two: Fraction, three: Fraction, make: Fraction) -> None:
    weaker, stronger, stock = sorted((one, two, three))
    less, more = dilution(stock, weaker, make), dilution(stock, stronger, make)
    assert (less["stock_volume"].value < more["stock_volume"].value) == (weaker < stronger)


@given(st.integers(1, 10**6), st.sampled_from(["US gal", "US qt", "US fl oz", "UK gal", "in3"]))
def test_litres_and_customary_units_agree(thousandths: int, symbol: str) -> None:
    customary = Quantity(Fraction(thousandths, 1000) * UNITS[symbol].factor, UNITS[symbol])
    litres = Quantity(customary.value, UNITS["L"])
    strength = {"stock": parse_quantity("12 %w/v"), "target": parse_quantity("5 g/L")}
    one, other = (calculate(HELPERS["dilute"], {**strength, "make": make}).results for make in (customary, litres))
    assert {name: quantity.value for name, quantity in one.items()} == {n: q.value for n, q in other.items()}


# --- line-volume ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("bore", "gallons", "tolerance"),
    [
        # Schedule 40 pipe, US gal in 100 ft, as printed; the tolerance is half the last place printed
        ("0.622 in", "1.58", "0.0032"),  # L01
        ("1.049 in", "4.49", "0.0011"),  # L02
        ("2.067 in", "17.41", "0.002"),  # L03: print is 0.13 % low
        ("4.026 in", "66.13", "0.0001"),  # L04
        # the same by the plain formula, pi/4 * d^2 * 1200 / 231
        ("0.622 in", "1.5785", "0.00004"),  # L01
        ("1.049 in", "4.4896", "0.00002"),  # L02
        ("2.067 in", "17.4317", "0.000005"),  # L03
        ("4.026 in", "66.1312", "0.000005"),  # L04
        # true-bore hose, printed in whole gallons; exact 4.0800, 9.180, 16.320, 36.720
        ("1 in", "4.0800", "0.00002"),  # L09
        ("1.5 in", "9.180", "0.0001"),  # L10
        ("2 in", "16.320", "0.0001"),  # L10
        ("3 in", "36.720", "0.0001"),  # L10
        # bores recalled, not seen in print
        ("1.380 in", "7.770", "0.0001"),  # L11
        ("1.610 in", "10.576", "0.0001"),  # L11
    ],
)
def test_hold_up_of_a_hundred_feet_is_the_published_one(bore: str, gallons: str, tolerance: str) -> None:
    found = worked_out("line-volume", bore=bore, length="100 ft")
    assert close(number(found["volume"], "US gal"), gallons, tolerance)


@pytest.mark.parametrize(
    ("bore", "millilitres", "tolerance"),
    [
        ("0.622 in", "196.04", "0.00003"),  # L01: 506.7075 * 0.622^2
        ("1.049 in", "557.58", "0.00001"),  # L02
        # L05: area of DN 100 schedule 40 printed as 8213.057355 mm2; a metre of it is as many mL
        ("102.2604 mm", "8213.057355", "0.0000000001"),
        # L06 to L08: areas of the ASME B36.10 table; 645.16 mm2 in an in2, so a metre of an in2 holds 645.16 mL
        ("0.269 in", "36.6451", "0.0009"),  # 0.0568 in2 * 645.16, half the last place printed
        ("0.364 in", "67.1612", "0.0005"),  # 0.1041 in2 * 645.16, half the last place printed
        ("0.493 in", "123.1546", "0.000004"),  # 0.190890 in2 * 645.16, the exact area: 0.1910 is printed
        ("26.64 mm", "557.39", "0.00001"),  # L12
        ("15.76 mm", "195.08", "0.00003"),  # L13, half the last place printed
    ],
)
def test_hold_up_of_a_metre_is_the_published_one(bore: str, millilitres: str, tolerance: str) -> None:
    found = worked_out("line-volume", bore=bore, length="1 m")
    assert close(number(found["volume"], "mL"), millilitres, tolerance)


def test_published_hold_up_that_is_wrong_is_not_repeated() -> None:
    # T8: a table prints 38.47 US gal in 100 ft for a bore of 3.068 in; exact 38.403
    found = worked_out("line-volume", bore="3.068 in", length="100 ft")
    assert round(float(number(found["volume"], "US gal")), 3) == 38.403


@pytest.mark.parametrize(
    ("size", "published", "tolerance"),
    # the inch table's mL in a metre; the library's metric table is up to 0.5 % smaller
    [(0.5, "196.04", "0.0051"), (1, "557.58", "0.0005"), (2, "2164.9", "0.005"), (4, "8213.06", "0.005")],
)
def test_bores_of_a_piping_library_hold_what_the_inch_table_says(size: float, published: str, tolerance: str) -> None:
    _, bore, _, _ = nearest_pipe(NPS=size, schedule="40")
    found = worked_out("line-volume", bore=f"{bore * 1000:.2f} mm", length="1 m")
    assert close(number(found["volume"], "mL"), published, tolerance)


def test_what_pump_and_fittings_hold_is_added_and_sets_the_unit() -> None:
    alone = worked_out("line-volume", bore="25.4 mm", length="3.2 m")["volume"]
    found = worked_out("line-volume", bore="25.4 mm", length="3.2 m", extra="300 mL")["volume"]
    assert found.unit.symbol == "mL"
    # pi * 25.4^2 / 4 * 3200 mm3 = 1621463.93 mm3
    assert round(float(number(alone, "mL")), 2) == 1621.46
    assert isclose(float(number(found, "mL") - number(alone, "mL")), 300)


@given(st.integers(1, 10**5), st.integers(1, 10**6))
def test_twice_the_bore_holds_four_times_as_much(bore: int, length: int) -> None:
    once, twice = (worked_out("line-volume", bore=f"{b} mm", length=f"{length} mm")["volume"] for b in (bore, 2 * bore))
    assert abs(twice.value / once.value - 4) < Fraction(1, 10**28)


@given(st.integers(1, 10**5), st.integers(1, 10**6), st.integers(1, 10**6))
def test_longer_line_holds_more(bore: int, one: int, other: int) -> None:
    volumes = [
        worked_out("line-volume", bore=f"{bore} mm", length=f"{each} mm")["volume"].value for each in (one, other)
    ]
    assert (volumes[0] < volumes[1]) == (one < other)


# --- flush-volume -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "removed", "minutes"),
    # CDC, infection control in health-care facilities (2003), table B.1; MMWR 1994, table S3-1: the same exponential
    # law for the air of a room: minutes to remove a share at so many air changes an hour, to the nearest minute
    [
        *((6, removed, minutes) for removed, minutes in (("90", 23), ("99", 46), ("99.9", 69))),
        *((10, removed, minutes) for removed, minutes in (("90", 14), ("99", 28), ("99.9", 41))),
        *((12, removed, minutes) for removed, minutes in (("90", 12), ("99", 23), ("99.9", 35))),
        *((50, removed, minutes) for removed, minutes in (("90", 3), ("99", 6), ("99.9", 8))),
    ],
)
def test_flush_follows_the_published_purge_table(changes: int, removed: str, minutes: int) -> None:
    remaining = 100 - Fraction(removed)
    found = worked_out("flush-volume", volume="1 m3", remaining=f"{float(remaining):g} %")["flush_volume"]
    assert round(float(number(found, "m3")) / changes * 60) == minutes


@pytest.mark.parametrize("remaining", ["50 %", "5 %", "1 %", "0.01 %"])
def test_running_the_estimate_through_leaves_what_was_asked(remaining: str) -> None:
    found = worked_out("flush-volume", volume="1.6 L", remaining=remaining)["flush_volume"]
    asked = float(parse_quantity(remaining).value)
    assert isclose(left_after(1.6, float(number(found, "L"))), asked, rel_tol=1e-9)


def left_after(holds: float, run_through: float) -> float:
    """Share left, by stepping dc/dV = -c / holds through in small steps (fourth-order Runge-Kutta)."""
    steps = 2000
    h = run_through / steps
    share = 1.0
    for _ in range(steps):
        k1 = -share / holds
        k2 = -(share + h / 2 * k1) / holds
        k3 = -(share + h / 2 * k2) / holds
        k4 = -(share + h * k3) / holds
        share += h / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
    return share


def test_flushing_twice_to_a_tenth_is_flushing_once_to_a_hundredth() -> None:
    tenth = worked_out("flush-volume", volume="1 L", remaining="10 %")["flush_volume"]
    hundredth = worked_out("flush-volume", volume="1 L", remaining="1 %")["flush_volume"]
    assert abs(2 * tenth.value - hundredth.value) < Fraction(1, 10**30)


@given(st.integers(1, 9999), st.integers(1, 9999))
def test_less_left_takes_more_flush(one: int, other: int) -> None:
    volumes = [
        worked_out("flush-volume", volume="1 L", remaining=str(n / 10000))["flush_volume"].value
        for n in (max(one, 10), max(other, 10))
    ]
    assert (volumes[0] > volumes[1]) == (max(one, 10) < max(other, 10))


# --- scale-recipe -----------------------------------------------------------------------------------------------------


def ingredient(name: str, share: str, density: str) -> Ingredient:
    return Ingredient(name, parse_quantity(share), parse_quantity(density))


DESCALER = Recipe(
    "descaler",
    parse_quantity("1.08 kg/L"),
    (
        ingredient("water", "77.5 %w/w", "0.998 kg/L"),
        ingredient("citric-acid", "20 %w/w", "1.665 kg/L"),
        ingredient("lactic-acid", "2.5 %w/w", "1.2 kg/L"),
    ),
)


def test_recipe_scales_to_a_mass() -> None:
    found = worked_out("scale-recipe", product=DESCALER, make="60 kg")
    assert [(name, float(quantity.number), quantity.unit.symbol) for name, quantity in found.items()] == [
        ("water.mass", 46.5, "kg"),  # 60 * 0.775
        ("water.volume", pytest.approx(46.593186, abs=5e-7), "L"),  # 46.5 / 0.998
        ("citric-acid.mass", 12.0, "kg"),  # 60 * 0.2
        ("citric-acid.volume", pytest.approx(7.207207, abs=5e-7), "L"),  # 12 / 1.665
        ("lactic-acid.mass", 1.5, "kg"),  # 60 * 0.025
        ("lactic-acid.volume", 1.25, "L"),  # 1.5 / 1.2
    ]


def test_recipe_scales_to_a_volume_through_the_density_of_the_product() -> None:
    found = worked_out("scale-recipe", product=DESCALER, make="50 L")
    # 50 L * 1.08 kg/L = 54 kg; 54 * 0.775, 54 * 0.2, 54 * 0.025
    masses = [number(found[f"{name}.mass"], "kg") for name in ("water", "citric-acid", "lactic-acid")]
    assert masses == [Fraction("41.85"), Fraction("10.8"), Fraction("1.35")]


def test_results_of_a_recipe_are_in_the_units_of_what_is_made() -> None:
    by_volume = worked_out("scale-recipe", product=DESCALER, make="10 US gal")
    by_mass = worked_out("scale-recipe", product=DESCALER, make="10 lb")
    assert [by_volume[f"water.{each}"].unit.symbol for each in ("mass", "volume")] == ["kg", "US gal"]
    assert [by_mass[f"water.{each}"].unit.symbol for each in ("mass", "volume")] == ["lb", "L"]


@given(
    st.lists(st.integers(1, 1000), min_size=1, max_size=8), st.integers(1, 10**6), st.sampled_from(["kg", "L", "lb"])
)
def test_masses_of_a_recipe_add_up_to_the_batch_in_adding_order(weights: list[int], make: int, unit: str) -> None:
    ingredients = tuple(
        Ingredient(f"part-{n}", Quantity(Fraction(weight, sum(weights)), UNITS["%w/w"]), parse_quantity("1.1 kg/L"))
        for n, weight in enumerate(weights)
    )
    recipe = Recipe("blend", parse_quantity("1.05 kg/L"), ingredients)
    batch = parse_quantity(f"{make} {unit}")
    found = calculate(HELPERS["scale-recipe"], {"product": recipe, "make": batch}).results
    masses = {name: quantity.value for name, quantity in found.items() if name.endswith(".mass")}
    assert sum(masses.values()) == (batch.value * 1050 if unit == "L" else batch.value)  # 1.05 kg/L = 1050 kg/m3
    assert list(masses) == [f"part-{n}.mass" for n in range(len(weights))]


# --- refusals ---------------------------------------------------------------------------------------------------------

DILUTION = {"stock": "400 g/L", "target": "40 g/L", "make": "12 L"}
LINE = {"bore": "25.4 mm", "length": "3.2 m"}
STRONGER_STOCK = "take a stronger stock or ask for a weaker target"
KINDS_TOGETHER = (
    "give stock and target both in %w/v, g/L or mg/L, or both in %v/v, "
    "or stock in %w/w with stock_density and target in g/L"
)


@pytest.mark.parametrize(
    ("name", "values", "code", "sentence", "hint"),
    [
        (
            "dilute",
            DILUTION | {"target": "500 g/L"},
            "out-of-domain",
            "target '500 g/L' is stronger than stock '400 g/L'",
            STRONGER_STOCK,
        ),
        (
            "dilute",
            DILUTION | {"stock": "12 %w/w", "stock_density": "1.2 kg/L", "target": "145 g/L"},  # 144 g/L
            "out-of-domain",
            "target '145 g/L' is stronger than stock '12 %w/w' with stock_density '1.2 kg/L'",
            STRONGER_STOCK,
        ),
        (
            "dilute",
            DILUTION | {"stock": "0 g/L"},
            "out-of-domain",
            "stock '0 g/L' is not above 0 g/L",
            "give stock a value above 0 g/L",
        ),
        (
            "dilute",
            DILUTION | {"target": "-1 g/L"},
            "out-of-domain",
            "target '-1 g/L' is not above 0 g/L",
            "give target a value above 0 g/L",
        ),
        (
            "dilute",
            DILUTION | {"make": "0 mL"},
            "out-of-domain",
            "make '0 mL' is not above 0 mL",
            "give make a value above 0 mL",
        ),
        (
            "dilute",
            DILUTION | {"stock": "12 %w/w", "stock_density": "0 kg/L"},
            "out-of-domain",
            "stock_density '0 kg/L' is not above 0 kg/L",
            "give stock_density a value above 0 kg/L",
        ),
        (
            "dilute",
            {"stock": "101 %v/v", "target": "5 %v/v", "make": "1 L"},
            "out-of-domain",
            "stock '101 %v/v' is not above 0 %v/v and at most 100 %v/v",
            "give stock a value above 0 %v/v and at most 100 %v/v",
        ),
        (
            "dilute",
            DILUTION | {"target": "5 %v/v"},
            "unit-wrong-kind",
            "'dilute' has no formula for stock as mass concentration and target as volume fraction",
            KINDS_TOGETHER,
        ),
        (
            "dilute",
            DILUTION | {"stock": "12 %w/w", "target": "5 %v/v"},
            "unit-wrong-kind",
            "'dilute' has no formula for stock as mass fraction and target as volume fraction",
            KINDS_TOGETHER,
        ),
        (
            "dilute",
            DILUTION | {"stock": "12 %w/w"},
            "argument-missing",
            "'dilute' needs stock_density",
            'add stock_density="1.18 kg/L"',
        ),
        (
            "dilute",
            DILUTION | {"stock_density": "1.2 kg/L"},
            "argument-not-used",
            "'dilute' does not use stock_density with stock as mass concentration and target as mass concentration",
            "leave stock_density out",
        ),
        (
            "dilute",
            {"stock": "400 g/L", "make": "12 L"},
            "argument-missing",
            "'dilute' needs target",
            'add target="40 g/L"',
        ),
        (
            "dilute",
            DILUTION | {"stokc": "4 g/L"},
            "argument-unknown",
            "'dilute' has no argument 'stokc'",
            "write stock",
        ),
        (
            "dilute",
            DILUTION | {"xyz": "4 g/L"},
            "argument-unknown",
            "'dilute' has no argument 'xyz'",
            "write stock, target, make, stock_density",
        ),
        (
            "line-volume",
            LINE | {"bore": "0 mm"},
            "out-of-domain",
            "bore '0 mm' is not above 0 mm",
            "give bore a value above 0 mm",
        ),
        (
            "line-volume",
            LINE | {"length": "-2 ft"},
            "out-of-domain",
            "length '-2 ft' is not above 0 ft",
            "give length a value above 0 ft",
        ),
        (
            "line-volume",
            LINE | {"extra": "-1 L"},
            "out-of-domain",
            "extra '-1 L' is not at least 0 L",
            "give extra a value at least 0 L",
        ),
        *(
            (
                "flush-volume",
                {"volume": "1 L", "remaining": remaining},
                "out-of-domain",
                f"remaining '{remaining}' is not above 0 % and below 100 %",
                "give remaining a value above 0 % and below 100 %",
            )
            for remaining in ("0 %", "100 %", "120 %", "-5 %")
        ),
        (
            "flush-volume",
            {"volume": "1 L", "remaining": "1"},
            "out-of-domain",
            "remaining '1' is not above 0 and below 1",
            "give remaining a value above 0 and below 1",
        ),
        (
            "scale-recipe",
            {"product": DESCALER, "make": "0 kg"},
            "out-of-domain",
            "make '0 kg' is not above 0 kg",
            "give make a value above 0 kg",
        ),
    ],
)
def test_refusal_says_what_is_wrong_and_the_way_out(
    name: str, values: dict[str, Any], code: str, sentence: str, hint: str
) -> None:
    with pytest.raises(QuantityError) as refused:
        worked_out(name, **values)
    assert (refused.value.code, refused.value.sentence, refused.value.hint) == (code, sentence, hint)


@pytest.mark.parametrize(
    ("name", "values", "sentence"),
    [
        (
            "dilute",
            {"stock": DESCALER},
            "stock 'descaler' is a product, not mass fraction or mass concentration or volume",
        ),
        ("scale-recipe", {"product": parse_quantity("5 L")}, "product '5 L' is a quantity, not a product"),
        ("line-volume", {"bore": parse_quantity("5 L")}, "bore '5 L' is of the kind volume, not length"),
    ],
)
def test_value_of_a_kind_that_is_not_accepted_is_refused(name: str, values: dict[str, Any], sentence: str) -> None:
    with pytest.raises(QuantityError) as refused:
        calculate(HELPERS[name], values)
    assert refused.value.code == "unit-wrong-kind"
    assert refused.value.sentence.startswith(sentence)


@pytest.mark.parametrize(
    ("share", "density", "sentence"),
    [
        ("90 %w/w", "1 kg/L", "the shares of 'blend' add up to '90 %w/w', not '100 %w/w'"),
        ("0 %w/w", "1 kg/L", "water.share '0 %w/w' of 'blend' is not above 0"),
        ("100 %w/w", "0 kg/L", "water.density '0 kg/L' of 'blend' is not above 0"),
        ("100 %", "1 kg/L", "water.share '100 %' of 'blend' does not say what kind of strength it is"),
        ("100 %w/w", "1 kg", "water.density '1 kg' of 'blend' is of the kind mass, not mass concentration"),
    ],
)
def test_recipe_that_cannot_be_made_is_refused(share: str, density: str, sentence: str) -> None:
    with pytest.raises(QuantityError) as refused:
        Recipe("blend", parse_quantity("1 kg/L"), (ingredient("water", share, density),))
    assert refused.value.sentence == sentence


def test_unknown_helper_is_refused_with_a_near_miss() -> None:
    with pytest.raises(HelperUnknownError) as refused:
        helper_named("dillute")
    assert (refused.value.sentence, refused.value.hint) == ("there is no helper 'dillute'", "write dilute")


# --- every helper -----------------------------------------------------------------------------------------------------

every_helper = pytest.mark.parametrize("each", HELPERS.values(), ids=HELPERS)


@every_helper
def test_dimensions_fit(each: Helper) -> None:
    check_dimensions(each)


def test_dimensions_that_do_not_fit_are_found_when_a_helper_is_made() -> None:
    def wrong(bore: Expression) -> Trees:
        return {"volume": bore**2}

    wrong.__doc__ = HELPERS["line-volume"].formula.__doc__
    make = helper(
        task="Fail",
        arguments=(Argument("bore", ("length",), "a length", "1 m"),),
        results=(Result("volume", "L", "up", "an area"),),
        variants=(Variant({"bore": "length"}),),
    )
    with pytest.raises(DimensionError, match="wrong: volume is no volume"):
        make(wrong)


@every_helper
def test_documentation_names_every_argument_and_result(each: Helper) -> None:
    sections = each.documentation.sections
    assert [a.name for a in each.arguments if f"{a.name}: " not in sections["Args"]] == []
    assert [r.name for r in each.results if f"{r.name}: " not in sections["Returns"]] == []
    assert each.documentation.summary.startswith("Return ")
    assert each.documentation.formula


@pytest.mark.parametrize("heading", SECTIONS)
def test_documentation_without_a_section_is_refused(heading: str) -> None:
    whole = HELPERS["dilute"].formula.__doc__ or ""
    with pytest.raises(ValueError, match=f"docstring of a helper lacks {heading}: Return the volume of stock"):
        documentation(whole.replace(f"{heading}:\n", "Else:\n"))


@every_helper
def test_forms_take_only_arguments_there_are_in_kinds_they_accept(each: Helper) -> None:
    accepted = {(a.name, kind) for a in each.arguments for kind in a.kinds}
    taken = {item for variant in each.variants for item in variant.kinds.items()}
    assert taken == accepted
    required = {a.name for a in each.arguments if a.required}
    assert all(required <= set(variant.kinds) for variant in each.variants)


# --- trees with constants filled in -----------------------------------------------------------------------------------


def test_tree_keeps_open_only_the_inputs() -> None:
    constants = {"stock": parse_quantity("400 g/L"), "target": parse_quantity("40 g/L")}
    trees = tree_with_constants(HELPERS["dilute"], constants, {"make": UNITS["L"]})
    assert {name: set(names_in(tree)) for name, tree in trees.items()} == {
        "stock_volume": {"make"},
        "water_volume": {"make"},
    }
    # 0.012 m3 * 40 / 400 = 0.0012 m3, and the rest
    values = [evaluate(tree, {"make": Fraction("0.012")}) for tree in trees.values()]
    assert values == [Fraction("0.0012"), Fraction("0.0108")]


def test_tree_of_a_recipe_has_its_shares_and_densities_filled_in() -> None:
    trees = tree_with_constants(HELPERS["scale-recipe"], {"product": DESCALER}, {"make": UNITS["kg"]})
    assert {name for tree in trees.values() for name in names_in(tree)} == {"make"}
    assert evaluate(trees["lactic-acid.volume"], {"make": Fraction(60)}) == Fraction("0.00125")  # 1.5 kg / 1200 kg/m3


def test_safe_direction_of_a_recipe_result_is_found_by_its_last_word() -> None:
    assert result_of(HELPERS["scale-recipe"], "citric-acid.mass").unit == "kg"
    assert result_of(HELPERS["flush-volume"], "flush_volume").direction == "up"


@pytest.mark.parametrize(
    ("text", "symbol"),
    [
        ("1 L", "US fl oz"),
        ("20 L", "US gal"),
        ("500 mL", "US fl oz"),
        ("5 US gal", "L"),
        ("3 US fl oz", "mL"),
        ("200 g", "oz"),
        ("2 kg", "lb"),
        ("1 lb", "g"),
        ("3 lb", "kg"),
        ("3.785411784 L", "US gal"),  # exactly one
        ("453.59237 g", "lb"),  # exactly one
    ],
)
def test_counterpart_is_in_the_other_system_in_a_handy_size(text: str, symbol: str) -> None:
    other = counterpart(parse_quantity(text))
    assert other is not None
    assert (other.unit.symbol, other.value) == (symbol, parse_quantity(text).value)


def test_time_has_no_counterpart() -> None:
    assert counterpart(parse_quantity("5 min")) is None

"""Helpers on strengths and blends: published examples, laws, refusals."""

from fractions import Fraction

import pytest
from calculating import assert_a_result_or_a_refusal, calculated, is_close, number, refusal
from hypothesis import given, settings
from hypothesis import strategies as st

from tankside.quantities.expression import names_in
from tankside.quantities.registry import HELPERS
from tankside.units import UNITS

#: US kitchen measures in mL, as D29 of the sources has them: the legal sizes, not the round 5, 15 and 250
TSP, TBSP, CUP = Fraction("4.92892159375"), Fraction("14.78676478125"), Fraction("236.5882365")


def millilitres(volume: Fraction) -> str:
    return f"{float(volume):.6f} mL"


# --- strength-made ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("stock", "stock_volume", "make", "published", "tolerance"),
    [
        ("5 %w/v", "400 mL", "20 L", "1000", "0"),  # D04: CDC page on 0.1 % chlorine
        ("5.25 %w/v", "1 mL", "10 mL", "5250", "0"),  # D09: CDC guideline (2008), glossary, 1 in 10
        ("6.15 %w/v", "1 mL", "10 mL", "6150", "0"),  # D09
        ("5.25 %w/v", "1 mL", "100 mL", "525", "0"),  # D10: same, 1 in 100
        ("6.15 %w/v", "1 mL", "100 mL", "615", "0"),  # D10
        ("5.25 %w/v", "10 mL", "946 mL", "555", "0.0001"),  # D11: WAC 296-823-14055, called 1:100
        ("5.25 %w/v", "94 mL", "946 mL", "5217", "0.0001"),  # D12: same, called 1:10
        ("15.8 g/L", "25.0 mL", "1.50 L", "263.33", "0.00002"),  # D19: published in mol/L, linear in any unit
        ("10.0 %w/v", "25 mL", "100 mL", "25000", "0"),  # D20
    ],
)
def test_stock_made_up_to_a_volume_has_the_published_strength(
    stock: str, stock_volume: str, make: str, published: str, tolerance: str
) -> None:
    found = number("strength-made", "strength", "mg/L", stock=stock, stock_volume=stock_volume, make=make)
    assert is_close(found, published, tolerance)


@pytest.mark.parametrize(
    ("stock", "stock_volume", "water", "published"),
    [
        ("5 %w/v", "1 L", "99 L", "500"),  # D07: WHO (2014), annex G, 1 part and 99 parts of water
        ("2.5 %w/v", "2 L", "98 L", "500"),  # D08: same
        ("5.25 %w/v", millilitres(5 * TBSP), "1 US gal", "1005.7"),  # D13: CDC recipe
        ("5.25 %w/v", millilitres(4 * TSP), "1 US qt", "1071.4"),  # D14: CDC recipe, not equal to D13
        ("2.75 %w/v", millilitres(CUP / 3 + TBSP), "1 US gal", "663.9"),  # D15: Washington DOH chart, disinfect
        ("5.25 %w/v", millilitres(3 * TBSP), "1 US gal", "608.1"),  # D16: same
        ("6.25 %w/v", millilitres(3 * TBSP), "1 US gal", "723.9"),  # D16
        ("8.25 %w/v", millilitres(2 * TBSP), "1 US gal", "639.5"),  # D17: same
        # D17: outside the chart's own 600 to 800 mg/L; 75,000 * 29.5735 / 3814.985
        ("7.5 %w/v", millilitres(2 * TBSP), "1 US gal", "581.4"),
        ("2.75 %w/v", millilitres(TBSP), "1 US gal", "107.0"),  # D18: same chart, sanitise
        ("5.25 %w/v", millilitres(2 * TSP), "1 US gal", "136.4"),  # D18
        ("8.25 %w/v", millilitres(TSP), "1 US gal", "107.3"),  # D18
        # T2: a glossary calls these "about 6,000" and "about 600" mg/L; what its own measures give
        ("5.25 %w/v", millilitres(CUP * 3 / 2), "1 US gal", "4500"),
        ("6.15 %w/v", millilitres(CUP * 3 / 2), "1 US gal", "5271"),
        ("5.25 %w/v", millilitres(CUP / 4), "1 US gal", "808"),
        ("6.15 %w/v", millilitres(CUP / 4), "1 US gal", "946"),
    ],
)
def test_stock_added_to_water_has_the_published_strength(
    stock: str, stock_volume: str, water: str, published: str
) -> None:
    found = number("strength-made", "strength", "mg/L", stock=stock, stock_volume=stock_volume, water=water)
    assert abs(found - Fraction(published)) <= Fraction(6, 100 if "." in published else 10)  # half the last place


@pytest.mark.parametrize(
    ("stock", "stock_volume", "made_up", "added"),
    # T4: a field table says "made up to 1 L" and prints for both rows what is true when added to 1 L
    [("5 %w/v", "250 mL", "1.25", "1"), ("15 %w/v", "70 mL", "1.05", "0.98")],
)
def test_made_up_to_and_added_to_are_two_strengths(stock: str, stock_volume: str, made_up: str, added: str) -> None:
    texts = {"stock": stock, "stock_volume": stock_volume}
    assert number("strength-made", "strength", "%w/v", **texts, make="1 L") == Fraction(made_up)
    assert round(number("strength-made", "strength", "%w/v", **texts, water="1 L"), 2) == Fraction(added)


@pytest.mark.parametrize(
    ("stock", "unit", "value"), [("400 mg/L", "mg/L", 100), ("40 %v/v", "%v/v", 10), ("400 mL/L", "mL/L", 100)]
)
def test_strength_made_is_in_the_unit_of_the_stock(stock: str, unit: str, value: int) -> None:
    found = calculated("strength-made", {"stock": stock, "stock_volume": "1 L", "make": "4 L"}).results["strength"]
    assert (found.number, found.unit.symbol) == (value, unit)


# --- dilute-into ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("stock", "target", "water", "published", "tolerance"),
    [
        ("5 %w/v", "1 %w/v", "1 L", "250", "0"),  # T4: 250 mL of 5 % to 1 L of water is 1 %
        ("5 %w/v", "500 mg/L", "99 L", "1000", "0"),  # D07: 1 part to 99
        ("2.5 %w/v", "500 mg/L", "98 L", "2000", "0"),  # D08: 2 parts to 98
        ("5.25 %w/v", "1005.7 mg/L", "1 US gal", "73.934", "0.0001"),  # D13: 5 tablespoons
        ("5.25 %w/v", "1071.4 mg/L", "1 US qt", "19.716", "0.0001"),  # D14: 4 teaspoons
        ("2.75 %w/v", "663.9 mg/L", "1 US gal", "93.650", "0.0002"),  # D15: a third of a cup and a tablespoon
    ],
)
def test_stock_to_add_is_the_published_one(stock: str, target: str, water: str, published: str, tolerance: str) -> None:
    found = number("dilute-into", "stock_volume", "mL", stock=stock, target=target, water=water)
    assert is_close(found, published, tolerance)


def test_water_stays_and_the_total_grows() -> None:
    found = calculated("dilute-into", {"stock": "5 %w/v", "target": "1 %w/v", "water": "1000 mL"}).results
    assert [(quantity.number, quantity.unit.symbol) for quantity in found.values()] == [(250, "mL"), (1250, "mL")]


tenths = st.integers(1, 10**6).map(lambda n: Fraction(n, 10))


def as_text(value: Fraction, unit: str) -> str:
    return f"{float(value):.1f} {unit}"


@given(tenths, tenths, tenths)
def test_what_is_added_to_water_makes_the_target(one: Fraction, other: Fraction, water: Fraction) -> None:
    stock, target = as_text(one + other, "g/L"), as_text(other, "g/L")
    added = calculated("dilute-into", {"stock": stock, "target": target, "water": as_text(water, "L")}).results
    # mass balance, worked out here: all that the stock brings is in the total
    assert added["stock_volume"].value * (one + other) == added["total_volume"].value * other
    assert added["total_volume"].value - added["stock_volume"].value == water / 1000  # L to m3


# --- water-parts ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("stock", "target", "published"),
    [
        ("3.5 %w/v", "0.5 %w/v", 6),  # D01: CDC and WHO, environmental cleaning, appendix E, example 1
        ("5 %w/v", "0.1 %w/v", 49),  # D03: same, example 3
        ("5 %w/v", "0.05 %w/v", 99),  # D07: WHO (2014), annex G
        ("2.5 %w/v", "0.05 %w/v", 49),  # D08: same, 2 parts and 98
        ("5 %w/v", "0.5 %w/v", 9),  # D30: field tables, recalled, not seen
        ("2.5 %w/v", "0.5 %w/v", 4),  # D30
        ("10 %w/v", "0.5 %w/v", 19),  # D30
        ("7 %w/w", "7 %w/w", 0),  # as it is
        ("40 %v/v", "100 mL/L", 3),  # 40 / 10 - 1
    ],
)
def test_parts_of_water_are_the_published_ones(stock: str, target: str, published: int) -> None:
    assert number("water-parts", "parts", "", stock=stock, target=target) == published


@given(tenths, tenths, tenths)
def test_parts_of_water_and_water_for_a_volume_agree(one: Fraction, other: Fraction, make: Fraction) -> None:
    stock, target = as_text(one + other, "g/L"), as_text(other, "g/L")
    parts = number("water-parts", "parts", "", stock=stock, target=target)
    made = calculated("dilute", {"stock": stock, "target": target, "make": as_text(make, "L")}).results
    assert made["water_volume"].value == made["stock_volume"].value * parts


# --- dissolve ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("purity", "target", "make", "published", "tolerance"),
    [
        ("35 %w/w", "0.5 %w/v", "1 L", "14.3", "0.0011"),  # D02: CDC and WHO, appendix E, example 2, as printed
        ("35 %w/w", "0.5 %w/v", "1 L", "14.2857", "0.000002"),  # D02: 1000 * 0.5 / 35
        ("70 %w/w", "1050 mg/L", "20 L", "30", "0"),  # D05: CDC page on 0.1 % chlorine; 30 * 0.7 / 20 = 1.05 g/L
        ("70 %w/w", "0.1 %w/v", "20 L", "30", "0.06"),  # D05: its 0.1 % with its spoons
        ("35 %w/w", "1050 mg/L", "20 L", "60", "0"),  # D06: same page; 60 * 0.35 / 20
        ("35 %w/w", "0.1 %w/v", "20 L", "60", "0.06"),  # D06
    ],
)
def test_powder_is_the_published_mass(purity: str, target: str, make: str, published: str, tolerance: str) -> None:
    assert is_close(
        number("dissolve", "powder_mass", "g", purity=purity, target=target, make=make), published, tolerance
    )


@given(tenths, tenths, st.integers(1, 1000))
def test_active_in_the_powder_is_what_the_solution_holds(target: Fraction, make: Fraction, purity: int) -> None:
    texts = {"purity": f"{purity / 10} %w/w", "target": as_text(target, "g/L"), "make": as_text(make, "L")}
    assert number("dissolve", "powder_mass", "g", **texts) * purity / 1000 == target * make


# --- convert-strength -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("strength", "density", "to", "published", "tolerance"),
    [
        # D27: supplier's specification of 12.5 wt % bleach: 142 g/L at 1.196 is 11.9 wt % of chlorine, exact 11.873
        ("142 g/L", "1.196 kg/L", "%w/w", "11.9", "0.004"),
        ("142 g/L", "1.196 kg/L", "%w/w", "11.873", "0.00005"),
        # D27: as sodium hypochlorite, 1.05 times as much: 12.467 wt %, which is 142 * 1.05 = 149.1 g/L
        ("12.467 %w/w", "1.196 kg/L", "g/L", "149.1", "0.0001"),
        ("120 g/L", "1.160 kg/L", "%w/w", "10.345", "0.00005"),  # D28: specification of 120 g/L bleach
        ("126 g/L", "1.160 kg/L", "%w/w", "10.862", "0.00005"),  # D28: as hypochlorite, 120 * 1.05 g/L
        # densities of brine and of propylene glycol at 20 degC from CoolProp 8.0.0; share times density
        ("10 %w/w", "1070.583 kg/m3", "%w/v", "10.70583", "0"),
        ("20 %w/w", "1147.760 kg/m3", "g/L", "229.552", "0"),
        ("307.1355 g/L", "1023.785 kg/m3", "%w/w", "30", "0"),
        ("300000 mg/kg", "1023.785 kg/m3", "mg/L", "307135.5", "0"),
        ("5 %w/v", "1.07 kg/L", "mg/kg", "46728.97", "0.0000001"),  # 50 g in 1070 g
    ],
)
def test_converted_strength_is_the_published_one(
    strength: str, density: str, to: str, published: str, tolerance: str
) -> None:
    found = calculated("convert-strength", {"strength": strength, "density": density, "to": to}).results["strength"]
    assert found.unit.symbol == to
    assert is_close(found.number, published, tolerance)


@pytest.mark.parametrize("density", [{}, {"density": "1.2 kg/L"}])
@pytest.mark.parametrize(
    ("strength", "to", "value"),
    [
        ("12.5 %w/v", "g/L", 125),
        ("12.5 %w/v", "mg/L", 125000),
        ("1 g/L", "%w/v", Fraction(1, 10)),
        ("5 %w/w", "mg/kg", 50000),
        ("300 mg/kg", "%w/w", Fraction(3, 100)),
        ("0 g/L", "mg/L", 0),
    ],
)
def test_density_makes_no_difference_between_units_of_one_kind(
    strength: str, to: str, value: Fraction, density: dict[str, str]
) -> None:
    found = calculated("convert-strength", {"strength": strength, "to": to, **density}).results["strength"]
    assert (found.number, found.unit.symbol) == (value, to)


@given(st.integers(1, 1000), st.integers(5, 30), st.sampled_from(["%w/v", "g/L", "mg/L"]))
def test_converting_there_and_back_changes_nothing(tenths_of_percent: int, density: int, to: str) -> None:
    by = {"density": f"{density / 10} kg/L"}
    there = number("convert-strength", "strength", to, strength=f"{tenths_of_percent / 10} %w/w", to=to, **by)
    back = number("convert-strength", "strength", "%w/w", strength=f"{float(there)} {to}", to="%w/w", **by)
    assert back == pytest.approx(Fraction(tenths_of_percent, 10), rel=1e-12)


# --- blend-two --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("strong", "weak", "target", "make", "published", "rest", "tolerance"),
    [
        ("100 %v/v", "50 %v/v", "70 %v/v", "20 mL", "8", "12", "0"),  # D21: Pearson's square, published example
        ("70 %v/v", "40 %v/v", "60 %v/v", "300 mL", "200", "100", "0"),  # D22: same
        ("90 %w/v", "10 %w/v", "50 %w/v", "80 mL", "40", "40", "0"),  # D23: same, 40 : 40
        # D25: with water; the publisher rounded a fraction early and prints 360 and 640
        ("70 %v/v", "0 %v/v", "25 %v/v", "1000 mL", "357.142857", "642.857143", "0.000000002"),
        ("70 %v/v", "0 %v/v", "25 %v/v", "1000 mL", "360", "640", "0.01"),
        # T1: a worked example prints 138.46 mL for this one; 300 * 70 / 95 = 221.05
        ("95 %v/v", "0 %v/v", "70 %v/v", "300 mL", "221.0526", "78.9474", "0.000001"),
    ],
)
def test_blend_is_the_published_one(
    strong: str, weak: str, target: str, make: str, published: str, rest: str, tolerance: str
) -> None:
    texts = {"strong": strong, "weak": weak, "target": target, "make": make}
    assert is_close(number("blend-two", "strong_volume", "mL", **texts), published, tolerance)
    assert is_close(number("blend-two", "weak_volume", "mL", **texts), rest, tolerance)


@given(tenths, tenths, tenths, tenths)
def test_blend_balances(weak: Fraction, more: Fraction, most: Fraction, make: Fraction) -> None:
    strengths = {"weak": weak, "target": weak + more, "strong": weak + more + most}
    texts = {name: as_text(value, "g/L") for name, value in strengths.items()} | {"make": as_text(make, "L")}
    strong, rest = (number("blend-two", f"{name}_volume", "L", **texts) for name in ("strong", "weak"))
    assert strong > 0 and rest > 0
    assert strong + rest == make
    assert strong * strengths["strong"] + rest * strengths["weak"] == make * strengths["target"]


def test_target_at_either_end_takes_one_of_the_two_alone() -> None:
    ends = {"strong": "50 g/L", "weak": "10 g/L", "make": "3 L"}
    assert number("blend-two", "weak_volume", "L", **ends, target="50 g/L") == 0
    assert number("blend-two", "strong_volume", "L", **ends, target="10 g/L") == 0


# --- adjust-strength --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("volume", "now", "wanted", "stock", "add", "published", "tolerance"),
    [
        ("300 mL", "70 %v/v", "40 %v/v", None, "water", "225", "0"),  # D24: 300 * 70 / 40 - 300
        # D25: 357.14 mL of 70 % to 25 %
        ("357.142857 mL", "70 %v/v", "25 %v/v", None, "water", "642.857143", "0.00000001"),
        ("12 mL", "50 %v/v", "70 %v/v", "100 %v/v", "stock", "8", "0"),  # D21 from the weaker side
        ("100 mL", "40 %v/v", "60 %v/v", "70 %v/v", "stock", "200", "0"),  # D22
        ("40 mL", "10 %w/v", "50 %w/v", "90 %w/v", "stock", "40", "0"),  # D23
        ("1 L", "0 g/L", "10 g/L", "50 g/L", "stock", "250", "0"),  # T4: into water alone
        # a stock at hand does not change how much water a strong batch takes
        ("300 mL", "70 %v/v", "40 %v/v", "95 %v/v", "water", "225", "0"),
        ("300 mL", "40 %v/v", "40 %v/v", "95 %v/v", "nothing", "0", "0"),
        ("300 mL", "40 %v/v", "40 %v/v", None, "nothing", "0", "0"),
    ],
)
def test_addition_is_the_published_one(
    volume: str, now: str, wanted: str, stock: str | None, add: str, published: str, tolerance: str
) -> None:
    texts = {"volume": volume, "strength_now": now, "strength_wanted": wanted}
    done = calculated("adjust-strength", texts | ({} if stock is None else {"stock": stock}))
    assert dict(done.words) == {"add": add}
    added = done.results["add_volume"].in_unit(UNITS["mL"])
    assert added == 0 if published == "0" else is_close(added, published, tolerance)
    assert done.results["final_volume"].value == done.given["volume"].value + done.results["add_volume"].value


@given(tenths, tenths, tenths, tenths)
def test_adjusted_batch_has_the_strength_that_was_wanted(
    now: Fraction, wanted: Fraction, above: Fraction, volume: Fraction
) -> None:
    strengths = {"strength_now": now, "strength_wanted": wanted, "stock": wanted + above}
    texts = {name: as_text(value, "g/L") for name, value in strengths.items()} | {"volume": as_text(volume, "L")}
    done = calculated("adjust-strength", texts)
    brought = strengths["stock"] if done.words["add"] == "stock" else 0
    added, final = (done.results[name].in_unit(UNITS["L"]) for name in ("add_volume", "final_volume"))
    assert added >= 0
    assert volume * now + added * brought == final * wanted  # active before and after


def test_working_shows_the_side_that_was_taken() -> None:
    texts = {"volume": "200 L", "strength_now": "35 g/L", "strength_wanted": "40 g/L", "stock": "440 g/L"}
    lines = calculated("adjust-strength", texts).working
    assert lines[1:3] == (
        "= 200 L \u00d7 (40 g/L \u2212 35 g/L) \u00f7 (440 g/L \u2212 40 g/L)",
        "= 2.5 L",
    )


# --- refusals ---------------------------------------------------------------------------------------------------------

INTO = {"stock": "5 %w/v", "target": "1 %w/v", "water": "1 L"}
MADE = {"stock": "5 %w/v", "stock_volume": "400 mL", "make": "20 L"}
ADDED = {"stock": "5 %w/v", "stock_volume": "400 mL", "water": "20 L"}
PARTS = {"stock": "5 %w/v", "target": "1 %w/v"}
POWDER = {"purity": "70 %w/w", "target": "1 g/L", "make": "20 L"}
CONVERT = {"strength": "142 g/L", "density": "1.196 kg/L", "to": "%w/w"}
BLEND = {"strong": "70 %v/v", "weak": "40 %v/v", "target": "60 %v/v", "make": "300 mL"}
ADJUST = {"volume": "200 L", "strength_now": "44 g/L", "strength_wanted": "40 g/L"}
OUT, KINDS, MISSING, UNUSED = "out-of-domain", "unit-wrong-kind", "argument-missing", "argument-not-used"
STRONGER_STOCK = "take a stronger stock or ask for a weaker target"


def without(texts: dict[str, str], name: str) -> dict[str, str]:
    return {key: text for key, text in texts.items() if key != name}


@pytest.mark.parametrize(
    ("name", "texts", "code", "sentence", "hint"),
    [
        (
            "dilute-into",
            INTO | {"target": "5 %w/v"},
            OUT,
            "target '5 %w/v' is not below stock '5 %w/v'",
            STRONGER_STOCK,
        ),
        (
            "dilute-into",
            INTO | {"target": "5 %v/v"},
            KINDS,
            "'dilute-into' has no formula for stock as mass concentration and target as volume fraction",
            "give stock and target both in %w/v, g/L or mg/L, or both in %v/v",
        ),
        (
            "dilute-into",
            INTO | {"stock": "5 %"},
            "strength-kind-missing",
            "stock '5 %' does not say what kind of strength it is",
            "write %w/v (mass per volume) or %v/v (by volume)",
        ),
        (
            "strength-made",
            MADE | {"stock_volume": "21 L"},
            OUT,
            "stock_volume '21 L' is more than make '20 L'",
            "give make the whole volume, the stock included",
        ),
        (
            "strength-made",
            without(MADE, "make"),
            MISSING,
            "'strength-made' needs make or water",
            'add make="20 L" or water="20 L"',
        ),
        (
            "strength-made",
            MADE | {"water": "20 L"},
            UNUSED,
            "'strength-made' does not use water with stock as mass concentration and make",
            "leave water out",
        ),
        (
            "water-parts",
            PARTS | {"target": "5.1 %w/v"},
            OUT,
            "target '5.1 %w/v' is stronger than stock '5 %w/v'",
            STRONGER_STOCK,
        ),
        (
            "water-parts",
            PARTS | {"target": "1 %w/w"},
            KINDS,
            "'water-parts' has no formula for stock as mass concentration and target as mass fraction",
            "give stock and target both in %w/v, g/L or mg/L, both in %v/v, or both in %w/w",
        ),
        (
            "water-parts",
            PARTS | {"stock": "500 ppm"},
            "unit-ambiguous",
            "unit 'ppm' of stock '500 ppm' does not name one size",
            "write 'mg/L' or 'mg/kg'",
        ),
        (
            "dissolve",
            POWDER | {"purity": "101 %w/w"},
            OUT,
            "purity '101 %w/w' is not above 0 %w/w and at most 100 %w/w",
            "give purity a value above 0 %w/w and at most 100 %w/w",
        ),
        (
            "dissolve",
            POWDER | {"purity": "70 %"},
            "strength-kind-missing",
            "purity '70 %' does not say what kind of strength it is",
            "write %w/w (by mass)",
        ),
        (
            "convert-strength",
            {"strength": "12.5 %w/w", "to": "g/L"},
            MISSING,
            "'convert-strength' needs density",
            'add density="1.196 kg/L"',
        ),
        (
            "convert-strength",
            CONVERT | {"to": "ppm"},
            "value-not-allowed",
            "to 'ppm' is none of its words",
            "write %w/w, %w/v, g/L, mg/L, mg/kg",
        ),
        (
            "convert-strength",
            CONVERT | {"density": "1.196 g/L"},
            OUT,
            "density '1.196 g/L' is not at least 500 g/L and at most 3000 g/L",
            "give density a value at least 500 g/L and at most 3000 g/L",
        ),
        (
            "convert-strength",
            CONVERT | {"strength": "1200 g/L"},
            OUT,
            "strength comes out as 100.334 %w/w, more than 100 %w/w",
            "look for a wrong value or unit",
        ),
        (
            "convert-strength",
            CONVERT | {"strength": "1200 g/L", "to": "%w/v"},
            OUT,
            "strength '1200 g/L' is more than density '1.196 kg/L'",
            "look for a wrong value or unit",
        ),
        (
            "convert-strength",
            CONVERT | {"strength": "-1 %w/w"},
            OUT,
            "strength '-1 %w/w' is not at least 0 %w/w and at most 100 %w/w",
            "give strength a value at least 0 %w/w and at most 100 %w/w",
        ),
        (
            "blend-two",
            BLEND | {"weak": "70 %v/v"},
            OUT,
            "weak '70 %v/v' is not below strong '70 %v/v'",
            "exchange the two, or take others",
        ),
        (
            "blend-two",
            BLEND | {"target": "71 %v/v"},
            OUT,
            "target '71 %v/v' is stronger than strong '70 %v/v'",
            "take a stronger one or ask for a weaker target",
        ),
        (
            "blend-two",
            BLEND | {"target": "39 %v/v"},
            OUT,
            "weak '40 %v/v' is stronger than target '39 %v/v'",
            "take a weaker one, or water, or ask for a stronger target",
        ),
        (
            "blend-two",
            BLEND | {"weak": "40 g/L"},
            KINDS,
            "'blend-two' has no formula for strong as volume fraction and weak as mass concentration "
            "and target as volume fraction",
            "give strong, weak and target all in %w/v, g/L or mg/L, or all in %v/v",
        ),
        (
            "adjust-strength",
            ADJUST | {"strength_now": "35 g/L"},
            OUT,
            "strength_wanted '40 g/L' is stronger than strength_now '35 g/L'",
            "add stock, the strength of what is put in to bring it up",
        ),
        (
            "adjust-strength",
            ADJUST | {"strength_now": "35 g/L", "stock": "40 g/L"},
            OUT,
            "strength_wanted '40 g/L' is not below stock '40 g/L'",
            "take a stronger stock",
        ),
        (
            "adjust-strength",
            ADJUST | {"stock": "40 %v/v"},
            KINDS,
            "'adjust-strength' has no formula for strength_now as mass concentration and strength_wanted as mass "
            "concentration and stock as volume fraction",
            "give all strengths in %w/v, g/L or mg/L, or all in %v/v",
        ),
        *(
            (
                name,
                texts | {argument: f"0 {texts[argument].split(' ')[1]}"},
                OUT,
                f"{argument} '0 {texts[argument].split(' ')[1]}' is not above 0 {texts[argument].split(' ')[1]}",
                f"give {argument} a value above 0 {texts[argument].split(' ')[1]}",
            )
            for name, texts, arguments in (
                ("dilute-into", INTO, ("stock", "target", "water")),
                ("strength-made", MADE, ("stock", "stock_volume", "make")),
                ("water-parts", PARTS, ("stock", "target")),
                ("dissolve", POWDER, ("target", "make")),
                ("blend-two", BLEND, ("make",)),
                ("adjust-strength", ADJUST, ("volume", "strength_wanted")),
            )
            for argument in arguments
        ),
        *(
            (
                name,
                texts | {argument: f"-1 {texts[argument].split(' ')[1]}"},
                OUT,
                f"{argument} '-1 {texts[argument].split(' ')[1]}' is not at least 0 {texts[argument].split(' ')[1]}",
                f"give {argument} a value at least 0 {texts[argument].split(' ')[1]}",
            )
            for name, texts, argument in (
                ("strength-made", ADDED, "water"),
                ("adjust-strength", ADJUST, "strength_now"),
                ("convert-strength", CONVERT, "strength"),
            )
        ),
    ],
)
def test_refusal_says_what_is_wrong_and_the_way_out(
    name: str, texts: dict[str, str], code: str, sentence: str, hint: str
) -> None:
    assert refusal(name, texts) == (code, sentence, hint)


MINE = ("dilute-into", "strength-made", "water-parts", "dissolve", "convert-strength", "blend-two", "adjust-strength")
VALUES = ["0 g/L", "5 %w/v", "40 g/L", "1300 g/L", "-1 g/L", "5 %w/w", "100 %w/w", "101 %w/w", "40 %v/v", "0 %v/v"]
VALUES += ["1.2 kg/L", "0 L", "1 mL", "20 L", "-1 L", "3 kg", "5 %", "5 ppm", "7", "", "x", "1,5 L", "%w/w", "g/L", "/"]


@settings(max_examples=1500)
@given(st.sampled_from(MINE), st.data())
def test_any_input_gives_a_result_or_a_refusal(name: str, data: st.DataObject) -> None:
    assert_a_result_or_a_refusal(name, data, VALUES)


@pytest.mark.parametrize(
    ("name", "result", "direction"),
    [
        # what has been put in cannot be taken out again
        ("adjust-strength", "add_volume", "down"),
        ("water-parts", "parts", "down"),
        # a vessel has to hold it
        ("adjust-strength", "final_volume", "up"),
        ("dilute-into", "total_volume", "up"),
        # planning counts on less rather than more
        ("bleach-strength", "strength", "down"),
        ("bleach-strength", "tolerance", "up"),
        ("titration", "difference", "up"),
    ],
)
def test_rounding_is_to_the_safe_side(name: str, result: str, direction: str) -> None:
    assert HELPERS[name].result(result).direction == direction


@pytest.mark.parametrize("name", MINE)
def test_limits_say_that_a_label_is_no_measurement(name: str) -> None:
    said = " ".join(HELPERS[name].documentation.sections["Limits"].split()).lower()
    assert "strength by label never goes into a batch without a measurement" in said


def test_tree_of_an_adjustment_keeps_both_sides_open() -> None:
    texts = {"volume": "200 L", "strength_now": "35 g/L", "strength_wanted": "40 g/L", "stock": "400 g/L"}
    tree = calculated("adjust-strength", texts).trees["add_volume"]
    assert set(names_in(tree)) == set(texts)

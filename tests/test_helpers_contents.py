"""Contents of bottles, and what a batch gives: published values, their laws, and each refusal."""

import json
from fractions import Fraction
from importlib.resources import files
from math import atan, cos, exp, lgamma, pi, sqrt

import pytest
from calculating import calculated, is_close, number, refusal
from hypothesis import given
from hypothesis import strategies as st

from tankside.quantities.calculation import calculate
from tankside.quantities.registry import HELPERS
from tankside.units import UNITS, Quantity, QuantityError

# --- tolerable-error --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("nominal", "error"),
    [
        ("5", "0.5"),  # 9 % of 5 is 0.45, up to the next 0.1
        ("50", "4.5"),  # N01: 9 %
        ("75", "4.5"),  # N02
        ("150", "6.8"),  # N03: 4.5 % is 6.75, up to the next 0.1
        ("250", "9"),  # N04
        ("400", "12"),  # N05: 3 %
        ("500", "15"),  # N06
        ("750", "15"),  # N07
        ("1000", "15"),  # N07
        ("5000", "75"),  # N08: 1.5 %
        ("12000", "150"),  # the row from 10,000 to 15,000
        ("20000", "200"),  # N09: 1 %
    ],
)
@pytest.mark.parametrize("unit", ["mL", "g"])
def test_error_is_that_of_the_directive(nominal: str, error: str, unit: str) -> None:
    # Directive 76/211/EEC, annex I; French decree 78-166, article 4; rounding up recalled, not seen
    assert number("tolerable-error", "error", unit, nominal=f"{nominal} {unit}") == Fraction(error)


def test_limits_are_one_and_two_errors_below_the_label() -> None:
    # N10: 485 and 470 for 500
    found = calculated("tolerable-error", {"nominal": "500 mL"}).results
    assert [(name, str(each.number), each.unit.symbol) for name, each in found.items()] == [
        ("error", "15", "mL"),
        ("t1", "485", "mL"),
        ("t2", "470", "mL"),
    ]


@pytest.mark.parametrize("end", [50, 100, 200, 300, 500, 1000, 10_000, 15_000])
def test_rows_of_the_table_meet_where_they_change(end: int) -> None:
    # N06, N07, N11: rows agree at 500, 1,000, 10,000 and 15,000; the others do too: 9 % of 50, 4.5 % of 100 and 200, 9
    below, above = (number("tolerable-error", "error", "mL", nominal=f"{text} mL") for text in (end, f"{end}.001"))
    assert 0 <= above - below <= Fraction("0.1")


def test_customary_units_use_the_same_table() -> None:
    # 16 US fl oz = 473.176473 mL; 3 % is 14.195, up to the next 0.1 mL
    assert number("tolerable-error", "error", "mL", nominal="16 US fl oz") == Fraction("14.2")


@given(st.integers(5_000, 30_000_000), st.integers(5_000, 30_000_000))
def test_larger_label_has_no_smaller_error(one: int, other: int) -> None:
    errors = [
        number("tolerable-error", "error", "mL", nominal=f"{size // 1000}.{size % 1000:03} mL")
        for size in sorted((one, other))
    ]
    assert errors[0] <= errors[1]


@pytest.mark.parametrize(("nominal", "least"), [("4.999 mL", "5 mL"), ("0.004 kg", "0.005 kg"), ("-500 mL", "5 mL")])
def test_label_below_the_directive_is_refused(nominal: str, least: str) -> None:
    assert refusal("tolerable-error", {"nominal": nominal}) == (
        "out-of-domain",
        f"nominal '{nominal}' is not at least {least}",
        f"give nominal a value at least {least}",
    )


# --- fill-weight ------------------------------------------------------------------------------------------------------

BOTTLE = {"nominal": "500 mL", "density": "1.06 kg/L", "tare": "28 g"}


def grams(texts: dict[str, str]) -> list[Fraction]:
    return [each.in_unit(UNITS["g"]) for each in calculated("fill-weight", texts).results.values()]


@pytest.mark.parametrize(
    ("more", "target"),
    [
        ({}, "558"),  # 500 * 1.06 + 28
        ({"allowance": "3 mL"}, "561.18"),  # 503 * 1.06 + 28
        ({"allowance": "3 g"}, "561"),  # 500 * 1.06 + 3 + 28
    ],
)
def test_weights_are_those_of_the_contents_in_their_bottle(more: dict[str, str], target: str) -> None:
    # N10: T1 and T2 of 500 mL are 485 and 470; 485 * 1.06 + 28, 470 * 1.06 + 28
    assert grams(BOTTLE | more) == [Fraction(target), Fraction("542.1"), Fraction("526.2")]


def test_nominal_gross_weight_of_the_handbook_is_density_times_label_plus_tare() -> None:
    # the rule of NIST Handbook 133 for liquids, recalled, not seen; 1 US gal of water at 0.99821 kg/L in 150 g:
    # 3785.411784 * 0.99821 + 150 = 3928.6359...
    texts = {"nominal": "1 US gal", "density": "0.99821 kg/L", "tare": "150 g"}
    assert is_close(grams(texts)[0], "3928.635897", "0.000000001")


def test_gross_weight_of_a_carton_of_quarts_is_made_of_its_fill_weights() -> None:
    # K01: 12 * (0.94635 * 1.05 * 0.99821 + 0.060) + 0.4 = 13.02 kg
    quart = number(
        "fill-weight", "target", "kg", nominal="0.94635 L", density=f"{1.05 * 0.99821:.7f} kg/L", tare="60 g"
    )
    assert round(float(12 * quart) + 0.4, 2) == 13.02


def test_weights_are_in_the_unit_of_the_tare_and_are_rounded_up() -> None:
    found = calculated("fill-weight", BOTTLE | {"tare": "1 oz"}).results
    assert {each.unit.symbol for each in found.values()} == {"oz"}
    assert {each.direction for each in HELPERS["fill-weight"].results} == {"up"}


@given(st.integers(5, 20_000), st.integers(700, 2000), st.integers(0, 2000), st.integers(0, 50))
def test_limit_is_as_far_below_warning_as_warning_below_an_exact_fill(
    nominal: int, density: int, tare: int, allowance: int
) -> None:
    texts = {"nominal": f"{nominal} mL", "density": f"{density} kg/m3", "tare": f"{tare} g"}
    target, warning, limit = grams(texts)
    assert target - warning == warning - limit > 0
    more = grams(texts | {"allowance": f"{allowance} mL"})
    assert (more[0] - target, more[1:]) == (Fraction(allowance * density, 1000), [warning, limit])


@pytest.mark.parametrize(
    ("more", "sentence"),
    [
        ({"nominal": "4 mL"}, "nominal '4 mL' is not at least 5 mL"),
        ({"density": "0 kg/L"}, "density '0 kg/L' is not above 0 kg/L"),
        ({"tare": "-1 g"}, "tare '-1 g' is not at least 0 g"),
        ({"allowance": "-1 mL"}, "allowance '-1 mL' is not at least 0 mL"),
        ({"nominal": "500 g"}, "nominal '500 g' is of the kind mass, not volume"),
    ],
)
def test_bottle_that_cannot_be_is_refused(more: dict[str, str], sentence: str) -> None:
    assert refusal("fill-weight", BOTTLE | more)[1] == sentence


# --- mean-factor ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("count", "confidence", "published", "exact"),
    [
        # N12, N13: UK SI 2006/659, schedule 2, paragraph 4; exact by scipy 1.17.1
        ("30", None, "0.503", "0.50324"),
        ("50", None, "0.379", "0.37900"),
        ("50", "0.995", "0.379", "0.37900"),
        # OIML R 87 (2004), recalled, not seen
        ("80", None, "0.295", "0.29511"),
        ("125", None, "0.234", "0.23399"),
        # N20: NIST Handbook 133, recalled, not seen; exact by scipy 1.17.1
        ("12", "0.975", "0.635", "0.63537"),
        ("24", "0.975", "0.422", "0.42226"),
    ],
)
def test_factor_is_the_published_one(count: str, confidence: str | None, published: str, exact: str) -> None:
    factor = number(
        "mean-factor", "factor", "", count=count, **({} if confidence is None else {"confidence": confidence})
    )
    assert f"{float(factor):.3f}" == published
    assert abs(factor - Fraction(exact)) <= Fraction("0.000006")


def test_factor_that_the_handbook_prints_one_higher_is_the_printed_one() -> None:
    # N20: 0.291 is printed for 48, the formula gives 0.29037; its neighbours follow the formula
    found = [number("mean-factor", "factor", "", count=each, confidence="0.975") for each in ("47", "48", "49")]
    assert found[1] == Fraction("0.291")
    assert [f"{float(each):.4f}" for each in (found[0], found[2])] == ["0.2936", "0.2872"]  # scipy 1.17.1


#: NIST/SEMATECH, e-Handbook of Statistical Methods, upper critical values of Student's t, as a copy prints them:
#: degrees of freedom -> exceeded with a probability of 0.025 and of 0.005
PRINTED_T = {
    1: ("12.706", "63.657"),
    2: ("4.303", "9.925"),
    3: ("3.182", "5.841"),
    4: ("2.776", "4.604"),
    5: ("2.571", "4.032"),
    6: ("2.447", "3.707"),
    7: ("2.365", "3.499"),
    8: ("2.306", "3.355"),
    9: ("2.262", "3.250"),
    10: ("2.228", "3.169"),
    11: ("2.201", "3.106"),
    12: ("2.179", "3.055"),
    13: ("2.160", "3.012"),
    14: ("2.145", "2.977"),
    15: ("2.131", "2.947"),
    16: ("2.120", "2.921"),
    17: ("2.110", "2.898"),
    18: ("2.101", "2.878"),
    19: ("2.093", "2.861"),
    20: ("2.086", "2.845"),
    21: ("2.080", "2.831"),
    22: ("2.074", "2.819"),
    23: ("2.069", "2.807"),
    24: ("2.064", "2.797"),
    25: ("2.060", "2.787"),
    26: ("2.056", "2.779"),
    27: ("2.052", "2.771"),
    28: ("2.048", "2.763"),
    29: ("2.045", "2.756"),
    30: ("2.042", "2.750"),
    40: ("2.021", "2.704"),
    60: ("2.000", "2.660"),
    100: ("1.984", "2.626"),
}
SHIPPED_T: dict[str, list[str]] = json.loads(
    files("tankside.quantities").joinpath("student_t.json").read_text(encoding="utf-8")
)["quantiles"]


def share_below(t: float, freedom: int) -> float:
    """Share of Student's distribution below t: Simpson's rule on cos^(n - 1), with t = sqrt(n) tan(angle)."""
    steps, end = 400, atan(t / sqrt(freedom))
    heights = [cos(end * step / steps) ** (freedom - 1) for step in range(steps + 1)]
    area = end / steps / 3 * (heights[0] + 4 * sum(heights[1:-1:2]) + 2 * sum(heights[2:-1:2]) + heights[-1])
    return 0.5 + area * exp(lgamma((freedom + 1) / 2) - lgamma(freedom / 2)) / sqrt(pi)


@pytest.mark.parametrize(("column", "confidence"), list(enumerate(SHIPPED_T)))
def test_table_of_t_rounds_to_the_printed_one(column: int, confidence: str) -> None:
    shipped = {freedom: f"{float(SHIPPED_T[confidence][freedom - 1]):.3f}" for freedom in PRINTED_T}
    assert shipped == {freedom: printed[column] for freedom, printed in PRINTED_T.items()}


@pytest.mark.parametrize("confidence", SHIPPED_T)
def test_every_t_of_the_table_leaves_its_share_below(confidence: str) -> None:
    half_a_digit = 0.000005
    for freedom, text in enumerate(SHIPPED_T[confidence], 1):
        low, high = (share_below(float(text) + shift, freedom) for shift in (-half_a_digit, half_a_digit))
        assert low - 1e-9 <= float(confidence) <= high + 1e-9, freedom


@given(st.integers(2, 160), st.integers(2, 160))
def test_more_weighed_leave_less_room(one: int, other: int) -> None:
    fewer, more = (number("mean-factor", "factor", "", count=str(count)) for count in sorted((one, other)))
    assert (fewer > more) == (one != other)


@pytest.mark.parametrize(
    ("texts", "code", "sentence", "hint"),
    [
        *(
            (
                {"count": count},
                "out-of-domain",
                f"count '{count}' is not at least 2 and at most 160",
                "give count a value at least 2 and at most 160",
            )
            for count in ("1", "161", "0", "-3")
        ),
        ({"count": "2.5"}, "out-of-domain", "count '2.5' is no whole number", "give count a whole number"),
        (
            {"count": "50", "confidence": "0.95"},
            "value-not-allowed",
            "confidence '0.95' is none of its words",
            "write 0.995",
        ),
    ],
)
def test_factor_without_a_row_is_refused(texts: dict[str, str], code: str, sentence: str, hint: str) -> None:
    assert refusal("mean-factor", texts) == (code, sentence, hint)


# --- bottles-from -----------------------------------------------------------------------------------------------------

#: in 0.1 L, in 0.5 %, in mL: sizes that people write down
BATCHES = (*range(5, 105, 5), *range(120, 600, 30), *range(600, 3000, 600))
LOSSES = range(21)
SIZES = (100, 125, 150, 175, 200, 250, 300, 330, 350, 375, 400, 450, 500, 600, 650, 700, 750, 800, 900, 1000, 1500)
MORE_SIZES = (2000, 2500, 4000, 5000)


def test_bottles_of_round_inputs_are_all_right() -> None:
    # independent: whole numbers only; tenths of a litre are 100 mL, half percents are 1/200
    helper, checked, doubles_wrong, wrong = HELPERS["bottles-from"], 0, 0, []
    for tenths in BATCHES:
        batch = Quantity(Fraction(tenths, 10_000), UNITS["L"])
        for halves in LOSSES:
            losses = Quantity(Fraction(halves, 200), UNITS["%"])
            for size in (*SIZES, *MORE_SIZES):
                truth = tenths * 100 * (200 - halves) // (200 * size)
                nominal = Quantity(Fraction(size, 1_000_000), UNITS["mL"])
                found = calculate(helper, {"batch": batch, "losses": losses, "nominal": nominal}).results["bottles"]
                if found.value != truth:
                    wrong.append((tenths, halves, size))
                doubles_wrong += int(tenths / 10 * (1 - halves / 2 / 100) / (size / 1000)) != truth
                checked += 1
    assert wrong == []
    assert checked >= 20_000
    # The grid has the cases that matter: with doubles, more than one in a hundred is wrong.
    assert doubles_wrong > checked / 100


@pytest.mark.parametrize(
    ("texts", "bottles", "left_over"),
    [
        ({"batch": "5 L", "nominal": "0.35 L", "losses": "5 %"}, "13", "0.2 L"),  # 4.75 = 13 * 0.35 + 0.2
        ({"batch": "5 L", "nominal": "0.35 L"}, "14", "0.1 L"),  # 14 * 0.35 = 4.9
        ({"batch": "5.25 L", "nominal": "0.35 L"}, "15", "0 L"),
        ({"batch": "60 L", "nominal": "500 mL", "losses": "1.8 L"}, "116", "0.2 L"),  # 58.2 = 116 * 0.5 + 0.2
        ({"batch": "60 kg", "nominal": "500 g", "losses": "300 g"}, "119", "0.2 kg"),  # 59.7 = 119 * 0.5 + 0.2
        ({"batch": "1 US gal", "nominal": "1 US qt"}, "4", "0 US gal"),
        ({"batch": "100 mL", "nominal": "500 mL"}, "0", "100 mL"),
        ({"batch": "5 L", "nominal": "0.35 L", "losses": "100 %"}, "0", "0 L"),
    ],
)
def test_batch_gives_full_bottles_and_a_rest(texts: dict[str, str], bottles: str, left_over: str) -> None:
    found = calculated("bottles-from", texts).results
    rest, unit = left_over.split(" ", 1)
    assert found["bottles"].value == Fraction(bottles)
    assert (found["left_over"].number, found["left_over"].unit.symbol) == (Fraction(rest), unit)


@given(st.integers(1, 10**6), st.integers(1, 10**5), st.integers(0, 1000))
def test_bottles_and_rest_are_what_was_left_of_the_batch(batch: int, nominal: int, permille: int) -> None:
    texts = {"batch": f"{batch} mL", "nominal": f"{nominal} mL", "losses": f"{permille / 10:.1f} %"}
    found = calculated("bottles-from", texts).results
    bottles, rest = found["bottles"].value, found["left_over"].in_unit(UNITS["mL"])
    assert bottles * nominal + rest == batch - Fraction(batch * permille, 1000)
    assert 0 <= rest < nominal
    assert bottles.denominator == 1


@pytest.mark.parametrize(
    ("texts", "sentence"),
    [
        ({"batch": "5 L", "nominal": "350 mL", "losses": "6 L"}, "losses '6 L' are more than batch '5 L'"),
        (
            {"batch": "5 L", "nominal": "350 mL", "losses": "101 %"},
            "losses '101 %' with batch '5 L' are more than batch '5 L'",
        ),
        ({"batch": "5 L", "nominal": "350 mL", "losses": "-1 %"}, "losses '-1 %' is not at least 0 %"),
        ({"batch": "0 L", "nominal": "350 mL"}, "batch '0 L' is not above 0 L"),
        ({"batch": "5 L", "nominal": "0 mL"}, "nominal '0 mL' is not above 0 mL"),
        (
            {"batch": "5 L", "nominal": "350 g"},
            "'bottles-from' has no formula for batch as volume and nominal as mass",
        ),
        (
            {"batch": "5 L", "nominal": "350 mL", "losses": "10 g"},
            "'bottles-from' has no formula for batch as volume and nominal as volume and losses as mass",
        ),
    ],
)
def test_batch_that_cannot_be_bottled_is_refused(texts: dict[str, str], sentence: str) -> None:
    assert refusal("bottles-from", texts)[1] == sentence


# --- packaging-for ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("bottles", "spoilage", "per_carton", "caps", "cartons"),
    [
        ("114", "2 %", "12", "117", "10"),  # 114 / 0.98 = 116.3; 114 / 12 = 9.5
        ("114", "0 %", "12", "114", "10"),
        ("98", "2 %", "7", "100", "14"),  # exactly 98 / 0.98 and 98 / 7
        ("1", "50 %", "1", "2", "1"),
        ("999", "0.1 %", "1000", "1000", "1"),  # 999 / 0.999
    ],
)
def test_enough_is_laid_out(bottles: str, spoilage: str, per_carton: str, caps: str, cartons: str) -> None:
    texts = {"bottles": bottles, "spoilage": spoilage, "per_carton": per_carton}
    found = {name: str(each.value) for name, each in calculated("packaging-for", texts).results.items()}
    assert found == {"caps": caps, "labels": caps, "cartons": cartons}


def test_cartons_are_worked_out_only_where_their_size_is_known() -> None:
    assert list(calculated("packaging-for", {"bottles": "114", "spoilage": "2 %"}).results) == ["caps", "labels"]


@given(st.integers(1, 10**5), st.integers(0, 999), st.integers(1, 100))
def test_just_enough_good_caps_are_left(bottles: int, permille: int, per_carton: int) -> None:
    texts = {"bottles": str(bottles), "spoilage": f"{permille / 10:.1f} %", "per_carton": str(per_carton)}
    found = {name: int(each.value) for name, each in calculated("packaging-for", texts).results.items()}
    good = Fraction(1000 - permille, 1000)
    assert (found["caps"] - 1) * good < bottles <= found["caps"] * good
    assert (found["cartons"] - 1) * per_carton < bottles <= found["cartons"] * per_carton


@pytest.mark.parametrize(
    ("texts", "sentence"),
    [
        ({"bottles": "0", "spoilage": "2 %"}, "bottles '0' is not at least 1"),
        ({"bottles": "11.5", "spoilage": "2 %"}, "bottles '11.5' is no whole number"),
        ({"bottles": "100", "spoilage": "100 %"}, "spoilage '100 %' is not at least 0 % and below 100 %"),
        ({"bottles": "100", "spoilage": "-1 %"}, "spoilage '-1 %' is not at least 0 % and below 100 %"),
        ({"bottles": "100", "spoilage": "2 %", "per_carton": "0"}, "per_carton '0' is not at least 1"),
        ({"bottles": "100", "spoilage": "2 %", "per_carton": "1.5"}, "per_carton '1.5' is no whole number"),
    ],
)
def test_packaging_that_cannot_be_counted_is_refused(texts: dict[str, str], sentence: str) -> None:
    assert refusal("packaging-for", texts)[1] == sentence


# --- batch-yield ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("more", "accounted_for"),
    [
        ({"samples": "1.2 kg", "losses": "1.9 kg"}, "99.5"),  # P05
        ({"samples": "1.2 kg"}, "97.6"),
        ({"losses": "1.9 kg"}, "98.3"),
        ({}, "96.4"),
    ],
)
def test_yield_is_that_of_the_worked_example(more: dict[str, str], accounted_for: str) -> None:
    # P05: 21 CFR 211.103: of 100 kg, 96.4 kg were filled
    found = calculated("batch-yield", {"theoretical": "100 kg", "packed": "96.4 kg"} | more).results
    assert {name: str(each.number) for name, each in found.items()} == {
        "yield": str(Fraction("96.4")),
        "accounted_for": str(Fraction(accounted_for)),
    }
    assert {each.unit.symbol for each in found.values()} == {"%"}


def test_more_than_was_made_is_shown_and_not_hidden() -> None:
    # 62 of 60 L
    assert is_close(number("batch-yield", "yield", "%", theoretical="60 L", packed="62 L"), "103.333333", "0.00000001")


@given(*(st.integers(0, 10**6) for _ in range(3)))
def test_batch_shared_out_whole_is_accounted_for(packed: int, samples: int, losses: int) -> None:
    whole = packed + samples + losses + 1
    texts = {"theoretical": f"{whole} mL", "packed": f"{packed} mL", "samples": f"{samples} mL"}
    found = number("batch-yield", "accounted_for", "%", **texts, losses=f"{losses + 1} mL")
    assert found == 100


@pytest.mark.parametrize(
    ("texts", "sentence"),
    [
        ({"theoretical": "0 L", "packed": "1 L"}, "theoretical '0 L' is not above 0 L"),
        ({"theoretical": "60 L", "packed": "-1 L"}, "packed '-1 L' is not at least 0 L"),
        ({"theoretical": "60 L", "packed": "1 L", "samples": "-1 L"}, "samples '-1 L' is not at least 0 L"),
        ({"theoretical": "60 L", "packed": "1 L", "losses": "-1 L"}, "losses '-1 L' is not at least 0 L"),
        (
            {"theoretical": "60 L", "packed": "50 kg"},
            "'batch-yield' has no formula for theoretical as volume and packed as mass",
        ),
    ],
)
def test_batch_that_does_not_add_up_is_refused(texts: dict[str, str], sentence: str) -> None:
    assert refusal("batch-yield", texts)[1] == sentence


# --- anything at all --------------------------------------------------------------------------------------------------

PIECES = (
    *("0", "1", "3", "2.5", "-1", "50", "50 %", "100 %", "-5 %", "", "x", "0.995", "0.975", "1 %w/w", "1000000"),
    *("1 L", "500 mL", "0 L", "-3 L", "2 kg", "500 g", "0 g", "1 kg/L", "0 kg/L", "5 min", "1 m3", "3 US fl oz"),
    *("0.00000000000000000000000000001 L", "1000000000000000000000000000000 g", "1 L, 2 L", "1/2"),
)


@pytest.mark.parametrize(
    "name", ["fill-weight", "tolerable-error", "mean-factor", "bottles-from", "packaging-for", "batch-yield"]
)
@given(data=st.data())
def test_anything_gives_a_result_or_a_refusal(name: str, data: st.DataObject) -> None:
    arguments = [argument.name for argument in HELPERS[name].arguments]
    texts = data.draw(st.dictionaries(st.sampled_from(arguments), st.sampled_from(PIECES)))
    try:
        found = calculated(name, texts)
    except QuantityError as error:
        assert error.sentence
        assert error.hint
    else:
        assert all(each.value >= 0 for each in found.results.values())
        assert found.working

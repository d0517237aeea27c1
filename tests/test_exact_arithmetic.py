"""Exact arithmetic: logarithm and pi, decimal text, rounding, dimensions."""

from decimal import ROUND_HALF_UP, Decimal, localcontext
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tankside.quantities import functions
from tankside.quantities.decimal_text import decimal_text, rounded, short_text
from tankside.quantities.dimension import DimensionError, dimension_of
from tankside.quantities.evaluate import evaluate
from tankside.quantities.expression import PI, Expression, Name, ln, round_down, round_nearest, round_up, to_json
from tankside.units import KINDS

# 50 decimals, as published: OEIS A000796
PUBLISHED_PI = "3.14159265358979323846264338327950288419716939937511"
# 50 decimals, as published: OEIS A002162
PUBLISHED_LN_2 = "0.69314718055994530941723212145817656807550013436026"

positive = st.fractions(min_value=Fraction(1, 10**30), max_value=10**30, max_denominator=10**30)
numbers = st.fractions(min_value=-(10**12), max_value=10**12, max_denominator=10**15)
A = Name("a")


def decimal_ln(value: Fraction) -> Fraction:
    """The decimal module's logarithm, correctly rounded at 120 digits."""
    with localcontext() as context:
        context.prec = 120
        return Fraction((Decimal(value.numerator) / Decimal(value.denominator)).ln())


def to_30_digits(value: Fraction) -> str:
    """The decimal module's own rounding to 30 significant digits."""
    with localcontext() as context:
        context.prec, context.rounding = 200, ROUND_HALF_UP
        exact = Decimal(value.numerator) / Decimal(value.denominator)
        context.prec = 30
        text = format(+exact, "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def value_of(tree: Expression, **names: str) -> Fraction:
    return evaluate(tree, {name: Fraction(text) for name, text in names.items()})


def test_pi_has_its_published_digits() -> None:
    assert functions.pi() == Fraction(PUBLISHED_PI)


def test_logarithm_of_two_has_its_published_digits() -> None:
    assert functions.ln(Fraction(2)) == Fraction(PUBLISHED_LN_2)


@given(positive)
def test_logarithm_is_right_to_fifty_decimals(value: Fraction) -> None:
    assert abs(functions.ln(value) - decimal_ln(value)) <= Fraction(1, 10**50)


@pytest.mark.parametrize("power", [-10000, -1000, -1, 0, 1, 1000, 10000])
def test_logarithm_holds_at_the_ends_of_its_stated_domain(power: int) -> None:
    value = Fraction(2) ** power * Fraction(3, 2)
    assert abs(functions.ln(value) - decimal_ln(value)) <= Fraction(1, 10**50)


def test_logarithm_of_one_is_nothing() -> None:
    assert functions.ln(Fraction(1)) == 0


@pytest.mark.parametrize("value", [0, -1])
def test_logarithm_of_nothing_and_below_is_refused(value: int) -> None:
    with pytest.raises(ValueError, match=f"logarithm of {value}, which is not above 0"):
        functions.ln(Fraction(value))


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (Fraction(0), "0"),
        (Fraction(12), "12"),
        (Fraction(1200), "1200"),
        (Fraction(-5, 4), "-1.25"),
        (Fraction(1, 1024), "0.0009765625"),  # 2^-10
        (Fraction(1, 3), "0." + "3" * 30),
        (Fraction(2, 3), "0." + "6" * 29 + "7"),
        (Fraction(-2, 3), "-0." + "6" * 29 + "7"),
        (Fraction(200, 3), "66." + "6" * 27 + "7"),
        (Fraction(1, 300), "0.00" + "3" * 30),
        (Fraction(10**40, 3), "3" * 30 + "0" * 10),
        (Fraction(10**40 + 1), "1" + "0" * 39 + "1"),  # ends, so in full
        (1 - Fraction(1, 3 * 10**40), "1"),  # carries through every nine
    ],
)
def test_decimal_text_is_exact_when_it_ends_and_has_thirty_digits_when_it_does_not(value: Fraction, text: str) -> None:
    assert decimal_text(value) == text


@given(st.decimals(allow_nan=False, allow_infinity=False, min_value=-(10**15), max_value=10**15, places=14))
def test_decimal_text_gives_back_what_was_read(value: Decimal) -> None:
    assert Fraction(decimal_text(Fraction(value))) == Fraction(value)


@given(numbers)
def test_rounding_to_thirty_digits_is_that_of_the_decimal_module(value: Fraction) -> None:
    assert decimal_text(rounded(value, 30)) == to_30_digits(value)


@pytest.mark.parametrize(
    ("value", "significant", "text", "exact"),
    [
        ("1.2", 6, "1.2", True),
        ("10/7", 6, "1.42857", False),
        ("1234567", 6, "1234570", False),
        ("0.000123456789", 6, "0.000123457", False),
        ("999999.5", 6, "1000000", False),
        ("2.5", 1, "3", False),  # a half goes away from zero
        ("-2.5", 1, "-3", False),
        ("0", 6, "0", True),
    ],
)
def test_short_text_says_whether_it_is_still_exact(value: str, significant: int, text: str, exact: bool) -> None:
    assert short_text(Fraction(value), significant) == (text, exact)


@given(numbers, st.integers(1, 6), st.integers(1, 1000))
def test_rounding_to_a_step_moves_the_way_it_says_and_less_than_a_step(value: Fraction, above: int, below: int) -> None:
    step = Fraction(above, below)
    down, up, near = (evaluate(operation(A, step), {"a": value}) for operation in (round_down, round_up, round_nearest))
    assert down <= value <= up
    assert up - down in {0, step}
    assert abs(near - value) <= step / 2
    assert [(rounded_value / step).denominator for rounded_value in (down, up, near)] == [1, 1, 1]


@pytest.mark.parametrize(
    ("value", "down", "up", "near"),
    [("2.5", 2, 3, 3), ("-2.5", -3, -2, -3), ("0.5", 0, 1, 1), ("-0.5", -1, 0, -1), ("1.5", 1, 2, 2)],
)
def test_ties_go_away_from_zero(value: str, down: int, up: int, near: int) -> None:
    assert [value_of(operation(A, 1), a=value) for operation in (round_down, round_up, round_nearest)] == [
        down,
        up,
        near,
    ]


def test_whole_number_that_doubles_get_wrong_is_right() -> None:
    # 18 L with 5 % loss into 0.3 L bottles: 17.1 / 0.3 = 57 bottles, none short
    bottles = round_down(Name("batch") * (1 - Name("loss")) / Name("bottle"), 1)
    assert value_of(bottles, batch="18", loss="0.05", bottle="0.3") == 57
    assert 18.0 * (1 - 0.05) / 0.3 // 1 == 56


def test_formula_reads_as_it_is_written() -> None:
    tree = PI / 4 * A**2 + 2 * A - 1 / A
    assert to_json(tree) == [
        "sub",
        [
            "add",
            ["mul", ["div", ["pi"], "4"], ["power", ["name", "a"], "2"]],
            ["mul", "2", ["name", "a"]],
        ],
        ["div", "1", ["name", "a"]],
    ]


def test_power_is_whole_and_not_negative() -> None:
    with pytest.raises(ValueError, match="power -1 is not a whole number from 0 up"):
        A**-1


def test_tree_with_a_logarithm_shows_thirty_digits_and_no_false_ones() -> None:
    # ln 20 to 40 digits, the decimal module: 2.995732273553990993435223576142540775677
    assert decimal_text(value_of(ln(A), a="20")) == "2.99573227355399099343522357614"


LITRES, GRAMS, PLAIN = (KINDS[kind].dimension for kind in ("volume", "mass", "ratio"))


@pytest.mark.parametrize(
    ("tree", "dimension"),
    [
        (A * 2 + A, LITRES),
        (A / A, PLAIN),
        (A**2 / A, LITRES),
        (ln(A / A), PLAIN),
        (round_up(A, A), LITRES),
        (Name("m") / A, KINDS["mass concentration"].dimension),
        (PI, PLAIN),
    ],
)
def test_dimension_follows_the_formula(tree: Expression, dimension: tuple[int, ...]) -> None:
    assert dimension_of(tree, {"a": LITRES, "m": GRAMS}) == dimension


@pytest.mark.parametrize("tree", [A + Name("m"), A - 1, ln(A), round_down(A, 1), round_nearest(A, Name("m"))])
def test_formula_that_mixes_dimensions_is_refused(tree: Expression) -> None:
    with pytest.raises(DimensionError):
        dimension_of(tree, {"a": LITRES, "m": GRAMS})

"""What rinsing leaves: published values, their laws, and each refusal."""

from fractions import Fraction

import pytest
from calculating import askings, calculated, is_close, number, refusal
from hypothesis import given
from hypothesis import strategies as st

from tankside.units import QuantityError

positive = st.integers(1, 10**6)


@pytest.mark.parametrize(
    ("heel", "rinse", "count", "published", "tolerance"),
    [
        # R03, R04: a wrung rag of 696 g that keeps 40.2 g, rinsed once, twice, three times
        ("40.2 g", "655.8 g", "1", "5.776", "0.00009"),
        ("40.2 g", "655.8 g", "2", "0.3336", "0.00002"),
        ("40.2 g", "655.8 g", "3", "0.01927", "0.0001"),
        # R05: a heel of 2 % of the capacity, rinses of 25 %
        ("2 L", "25 L", "1", "7.407", "0.0001"),
        ("2 L", "25 L", "2", "0.5487", "0.0001"),
        ("2 L", "25 L", "3", "0.04064", "0.0002"),
        # R06: 40 CFR 165.25(f): the largest heel with which three rinses of a quarter leave 0.01 %
        ("1.217 L", "25 L", "3", "0.01", "0.001"),
        ("4.868 L", "100 L", "3", "0.01", "0.0003"),
    ],
)
def test_share_left_is_the_published_one(heel: str, rinse: str, count: str, published: str, tolerance: str) -> None:
    found = number("rinse-remaining", "remaining", "%", heel=heel, rinse=rinse, count=count)
    assert is_close(found, published, tolerance)


@pytest.mark.parametrize(
    ("heel", "rinse", "remaining", "count"),
    [
        ("2 L", "25 L", "0.01 %", 4),  # R05: three leave 0.04064 %, which fails 99.99 %; 0.0741^4 = 0.0030 %
        # R06: the largest heel for three is 1.2169 L, printed 1.217
        ("1.216 L", "25 L", "0.01 %", 3),  # (1.216 / 26.216)^3 = 0.009979 %
        ("1.218 L", "25 L", "0.01 %", 4),  # (1.218 / 26.218)^3 = 0.010026 %
        ("40.2 g", "655.8 g", "0.3337 %", 2),  # R04
        ("40.2 g", "655.8 g", "0.3336 %", 3),  # R04: two leave 0.333602 %
        ("1 L", "9 L", "0.1 %", 3),  # a tie: 0.1^3 is exactly 0.001, where doubles say more
        ("1 L", "1 L", "50 %", 1),  # a tie
        ("1 L", "1 L", "49.99999999999999999999 %", 2),
        ("1 L", "9 L", "99.9 %", 1),
        ("10 L", "1 L", "0.0000001 %", 218),  # ln 10^-9 / ln(10/11) = 217.4
    ],
)
def test_count_is_the_fewest_that_do(heel: str, rinse: str, remaining: str, count: int) -> None:
    assert number("rinse-count", "count", "", heel=heel, rinse=rinse, remaining=remaining) == count


@given(st.integers(1, 10_000), st.integers(1_000, 100_000), st.integers(1, 99_999))
def test_one_rinse_fewer_would_leave_too_much(heel: int, rinse: int, thousandths: int) -> None:
    texts = {"heel": f"{heel} mL", "rinse": f"{rinse} mL"}
    remaining = f"{thousandths / 1000:.3f} %"
    count = int(number("rinse-count", "count", "", **texts, remaining=remaining))
    base, wanted = Fraction(heel, heel + rinse), Fraction(thousandths, 10**5)
    assert base**count <= wanted < base ** (count - 1)


@given(positive, positive, st.integers(1, 20))
def test_one_rinse_more_takes_the_same_share_away_again(heel: int, rinse: int, count: int) -> None:
    texts = {"heel": f"{heel} mL", "rinse": f"{rinse} mL"}
    once, many, more = (
        number("rinse-remaining", "remaining", "", **texts, count=str(n)) for n in (1, count, count + 1)
    )
    assert more == many * once
    assert 0 < more < many


def test_gallons_and_litres_may_be_mixed() -> None:
    # 3.785411784 / (3.785411784 + 4 * 3.785411784) = 1/5
    found = number("rinse-remaining", "remaining", "%", heel="3.785411784 L", rinse="4 US gal", count="1")
    assert found == 20


TOGETHER = "give heel and rinse both as a volume or both as a mass"
RINSE = {"heel": "2 L", "rinse": "25 L"}


@pytest.mark.parametrize(
    ("name", "texts", "code", "sentence", "hint"),
    [
        *(
            ("rinse-remaining", RINSE | {"count": count}, "out-of-domain", sentence, hint)
            for count, sentence, hint in [
                ("0", "count '0' is not at least 1 and at most 100", "give count a value at least 1 and at most 100"),
                (
                    "101",
                    "count '101' is not at least 1 and at most 100",
                    "give count a value at least 1 and at most 100",
                ),
                ("2.5", "count '2.5' is no whole number", "give count a whole number"),
                ("250 %", "count '250 %' is no whole number", "give count a whole number"),
            ]
        ),
        (
            "rinse-remaining",
            {"heel": "2 L", "rinse": "25 kg", "count": "3"},
            "unit-wrong-kind",
            "'rinse-remaining' has no formula for heel as volume and rinse as mass",
            TOGETHER,
        ),
        (
            "rinse-count",
            {"heel": "0 L", "rinse": "25 L", "remaining": "1 %"},
            "out-of-domain",
            "heel '0 L' is not above 0 L",
            "give heel a value above 0 L",
        ),
        (
            "rinse-count",
            {"heel": "2 L", "rinse": "-1 L", "remaining": "1 %"},
            "out-of-domain",
            "rinse '-1 L' is not above 0 L",
            "give rinse a value above 0 L",
        ),
        (
            "rinse-count",
            {"heel": "20.1 L", "rinse": "2 L", "remaining": "1 %"},
            "out-of-domain",
            "heel '20.1 L' is more than ten times rinse '2 L'",
            "drain more away or take more water for a rinse",
        ),
        *(
            (
                "rinse-count",
                RINSE | {"remaining": remaining},
                "out-of-domain",
                f"remaining '{remaining}' is not at least 0.0000001 % and below 100 %",
                "give remaining a value at least 0.0000001 % and below 100 %",
            )
            for remaining in ("0 %", "100 %", "-1 %", "0.00000001 %")
        ),
        ("rinse-count", RINSE, "argument-missing", "'rinse-count' needs remaining", 'add remaining="0.01 %"'),
    ],
)
def test_refusal_of_a_rinse_says_the_way_out(
    name: str, texts: dict[str, str], code: str, sentence: str, hint: str
) -> None:
    assert refusal(name, texts) == (code, sentence, hint)


@given(askings("rinse-remaining", "rinse-count"))
def test_whatever_is_given_there_is_a_result_or_a_refusal(asked: tuple[str, dict[str, str]]) -> None:
    try:
        found = calculated(*asked)
    except QuantityError:
        return
    assert all(quantity.value >= 0 for quantity in found.results.values())
    assert found.working

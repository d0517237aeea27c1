"""Filling, draining and the pace of a line: published values, their laws, and each refusal."""

from fractions import Fraction
from math import sqrt

import pytest
from calculating import askings, calculated, number, refusal
from hypothesis import given
from hypothesis import strategies as st

from tankside.units import QuantityError

positive = st.integers(1, 10**6)

# --- fill-time --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("volume", "flow", "minutes"),
    [
        ("60 L", "12 L/min", "5"),  # 60 / 12
        ("5 US gal", "2 US gal/min", "2.5"),  # 5 / 2
        ("1 m3", "3 m3/h", "20"),  # 60 / 3
        ("250 L", "1000 L/h", "15"),  # 250 / 1000 h
        # S08: 16 US gal at 0.4 US gal/min last 40 min
        ("16 US gal", "0.4 US gal/min", "40"),
    ],
)
def test_time_is_volume_over_flow(volume: str, flow: str, minutes: str) -> None:
    assert number("fill-time", "time", "min", volume=volume, flow=flow) == Fraction(minutes)


@given(positive, positive)
def test_what_runs_in_that_time_is_the_volume(millilitres: int, flow: int) -> None:
    time = number("fill-time", "time", "min", volume=f"{millilitres} mL", flow=f"{flow} L/min")
    assert time * flow * 1000 == millilitres


@pytest.mark.parametrize(
    ("texts", "sentence", "hint"),
    [
        ({"volume": "0 L", "flow": "1 L/min"}, "volume '0 L' is not above 0 L", "give volume a value above 0 L"),
        (
            {"volume": "1 L", "flow": "0 L/min"},
            "flow '0 L/min' is not above 0 L/min",
            "give flow a value above 0 L/min",
        ),
    ],
)
def test_filling_with_nothing_is_refused(texts: dict[str, str], sentence: str, hint: str) -> None:
    assert refusal("fill-time", texts) == ("out-of-domain", sentence, hint)


# --- drain-time -------------------------------------------------------------------------------------------------------

# F03: a tank of 2.5 m radius, a hole of 1 cm radius: pi * 2.5^2 m2 and pi * 0.01^2 m2
F03 = {"tank_area": "19.6349540849 m2", "outlet_area": "3.14159265359 cm2", "level_from": "2 m", "level_to": "0 m"}
# the published 39,909 s are with g = 9.81 m/s2
F03_SECONDS = 39909 * sqrt(9.81 / 9.80665)


def test_full_drain_takes_the_published_time() -> None:
    # F02: t = (A / a) sqrt(2 H / g), with coefficient 1; F03: its numbers
    found = float(number("drain-time", "time", "s", **F03, coefficient="1"))
    assert found == pytest.approx(F03_SECONDS, abs=0.5)


def test_published_time_that_is_half_is_not_repeated() -> None:
    # T10: a published page has (A / (a sqrt(2 g))) sqrt(h), half the right time
    assert float(number("drain-time", "time", "s", **F03, coefficient="1")) > 1.99 * F03_SECONDS / 2


def test_plain_opening_has_the_published_coefficient() -> None:
    # F04: 0.6
    assert calculated("drain-time", F03).results == calculated("drain-time", F03 | {"coefficient": "0.6"}).results
    assert float(number("drain-time", "time", "s", **F03)) == pytest.approx(F03_SECONDS / 0.6, abs=0.8)


@pytest.mark.parametrize(("start", "end"), [(0.8, 0.05), (2.0, 1.0), (0.3, 0.29)])
def test_level_falls_as_fast_as_torricelli_says(start: float, end: float) -> None:
    texts = {"tank_area": "0.28 m2", "outlet_area": "3 cm2", "level_from": f"{start} m", "level_to": f"{end} m"}
    found = number("drain-time", "time", "s", **texts, coefficient="0.6")
    assert float(found) == pytest.approx(stepped_time(0.28 / (0.6 * 0.0003), start, end), rel=1e-8)


def stepped_time(areas: float, start: float, end: float) -> float:
    """Sum of areas / sqrt(2 g h) dh over small steps of the level (Simpson's rule)."""
    steps = 2000
    h = (start - end) / steps
    weights = [1, *([4, 2] * steps)[: steps - 1], 1]
    slow = [areas / sqrt(2 * 9.80665 * (end + h * n)) for n in range(steps + 1)]
    return h / 3 * sum(weight * each for weight, each in zip(weights, slow, strict=True))


levels = st.lists(st.integers(0, 10_000), min_size=3, max_size=3, unique=True)


@given(levels, st.integers(1, 1000))
def test_draining_in_two_goes_takes_as_long_as_in_one(three: list[int], outlet: int) -> None:
    low, middle, high = sorted(three)

    def time(start: int, end: int) -> Fraction:
        texts = {"level_from": f"{start} mm", "level_to": f"{end} mm", "outlet_area": f"{outlet} mm2"}
        return number("drain-time", "time", "s", tank_area="1 m2", **texts)

    assert abs(time(high, middle) + time(middle, low) - time(high, low)) <= time(high, low) / 10**28
    assert 0 < time(middle, low) < time(high, low)


def test_nothing_drains_in_no_time() -> None:
    assert number("drain-time", "time", "s", **F03 | {"level_to": "2 m"}) == 0


DRAIN = {"tank_area": "1 m2", "outlet_area": "3 cm2", "level_from": "80 cm", "level_to": "5 cm"}


@pytest.mark.parametrize(
    ("texts", "sentence", "hint"),
    [
        (
            DRAIN | {"level_to": "81 cm"},
            "level_to '81 cm' is above level_from '80 cm'",
            "exchange the two levels, or correct one",
        ),
        (
            DRAIN | {"outlet_area": "0.11 m2"},
            "outlet_area '0.11 m2' is more than a tenth of tank_area '1 m2'",
            "correct one; the formula is for a small outlet",
        ),
        (
            DRAIN | {"coefficient": "1.01"},
            "coefficient '1.01' is not above 0 and at most 1",
            "give coefficient a value above 0 and at most 1",
        ),
        (DRAIN | {"level_from": "0 cm"}, "level_from '0 cm' is not above 0 cm", "give level_from a value above 0 cm"),
        (DRAIN | {"level_to": "-1 cm"}, "level_to '-1 cm' is not at least 0 cm", "give level_to a value at least 0 cm"),
        (DRAIN | {"tank_area": "0 m2"}, "tank_area '0 m2' is not above 0 m2", "give tank_area a value above 0 m2"),
        (
            DRAIN | {"outlet_area": "0 m2"},
            "outlet_area '0 m2' is not above 0 m2",
            "give outlet_area a value above 0 m2",
        ),
    ],
)
def test_refusal_of_a_drain_says_the_way_out(texts: dict[str, str], sentence: str, hint: str) -> None:
    assert refusal("drain-time", texts) == ("out-of-domain", sentence, hint)


# --- line-rate --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("stations", "lost", "slowest", "bottleneck", "rate", "spare"),
    [
        # 3600 / 12 * 0.9; 1 - 28.5 / 36
        ("9 s, 12 s, 7.5 s", "10 %", "station 2", "12", "270", Fraction(7.5) / 36),
        ("9 s, 12 s, 12 s", None, "stations 2 and 3", "12", "300", Fraction(3, 36)),
        ("0.5 min", None, "station 1", "30", "120", Fraction(0)),
        ("20, 10, 20, 20 s", "50 %", "stations 1 and 3 and 4", "20", "90", Fraction(10, 80)),
        ("7 s, 0.1 min", None, "station 1", "7", Fraction(3600, 7), Fraction(1, 14)),
    ],
)
def test_slowest_station_sets_the_pace(
    stations: str, lost: str | None, slowest: str, bottleneck: str, rate: str | Fraction, spare: Fraction
) -> None:
    found = calculated("line-rate", {"stations": stations} | ({} if lost is None else {"lost": lost}))
    assert found.words == {"slowest": slowest}
    seconds, per_second, share = (found.results[name].value for name in ("bottleneck", "rate", "spare"))
    assert (seconds, per_second * 3600, share) == (Fraction(bottleneck), Fraction(rate), spare)


seconds = st.lists(st.integers(1, 1000), min_size=1, max_size=30)


@given(seconds, st.integers(0, 99))
def test_line_is_as_fast_as_its_slowest_station_in_whatever_order(stations: list[int], lost: int) -> None:
    def run(order: list[int]) -> dict[str, Fraction]:
        texts = {"stations": ", ".join(f"{each} s" for each in order), "lost": f"{lost} %"}
        return {name: quantity.value for name, quantity in calculated("line-rate", texts).results.items()}

    forth, back = run(stations), run(stations[::-1])
    assert forth == back
    # Each station makes what the line makes: its own rate is at least the line's.
    assert all(Fraction(1, each) * (100 - lost) / 100 >= forth["rate"] for each in stations)
    waiting = sum(forth["bottleneck"] - each for each in stations)
    assert forth["spare"] == waiting / (len(stations) * forth["bottleneck"])


def test_line_of_as_many_stations_as_a_list_may_have_is_worked_out() -> None:
    found = calculated("line-rate", {"stations": ", ".join(f"{1 + n % 7} s" for n in range(500))})
    assert found.results["bottleneck"].value == 7
    assert found.working


@pytest.mark.parametrize(
    ("texts", "code", "sentence", "hint"),
    [
        (
            {"stations": "9 s, 0 s"},
            "out-of-domain",
            "stations '0 s' is not above 0 s",
            "give stations a value above 0 s",
        ),
        (
            {"stations": "9 s", "lost": "100 %"},
            "out-of-domain",
            "lost '100 %' is not at least 0 % and below 100 %",
            "give lost a value at least 0 % and below 100 %",
        ),
        (
            {"stations": "9 s, , 8 s"},
            "list-length",
            "stations '9 s, , 8 s' is no list of 1 to 500 entries",
            'write stations="9 s, 12 s, 7.5 s", commas between',
        ),
        (
            {"lost": "1 %"},
            "argument-missing",
            "'line-rate' needs stations",
            'add stations="9 s, 12 s, 7.5 s"',
        ),
    ],
)
def test_refusal_of_a_line_says_the_way_out(texts: dict[str, str], code: str, sentence: str, hint: str) -> None:
    assert refusal("line-rate", texts) == (code, sentence, hint)


@given(askings("fill-time", "drain-time", "line-rate"))
def test_whatever_is_given_there_is_a_result_or_a_refusal(asked: tuple[str, dict[str, str]]) -> None:
    try:
        found = calculated(*asked)
    except QuantityError:
        return
    assert all(quantity.value >= 0 for quantity in found.results.values())
    assert found.working

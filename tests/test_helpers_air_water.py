"""Air, exposure and water: published values, their laws, and each refusal."""

from fractions import Fraction
from math import exp

import pytest
from calculating import calculated, is_close, number, refusal
from hypothesis import given
from hypothesis import strategies as st

from tankside.quantities.registry import HELPERS
from tankside.units import UNITS, QuantityError

amounts = st.integers(1, 10**6)

# --- air-changes ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("flow", "room", "changes"),
    [
        ("240 cfm", "1440 ft3", "10"),  # A13: 12 ft * 15 ft * 8 ft; 240 * 60 / 1440
        ("400 m3/h", "40 m3", "10"),
        ("100 L/min", "3 m3", "2"),  # 6 m3 an hour
    ],
)
def test_air_changes_are_flow_over_room(flow: str, room: str, changes: str) -> None:
    # ACH = cfm * 60 / (area * height): CDC, as a copy has it
    assert number("air-changes", "air_changes", "1/h", flow=flow, room=room) == Fraction(changes)


@given(amounts, amounts, amounts)
def test_larger_room_is_changed_less_often(flow: int, one: int, other: int) -> None:
    small, large = (
        number("air-changes", "air_changes", "1/h", flow=f"{flow} m3/h", room=f"{room} m3")
        for room in sorted((one, other))
    )
    assert (small > large) == (one != other)


@pytest.mark.parametrize(
    ("texts", "sentence"),
    [
        ({"flow": "0 cfm", "room": "10 m3"}, "flow '0 cfm' is not above 0 cfm"),
        ({"flow": "240 cfm", "room": "-1 m3"}, "room '-1 m3' is not above 0 m3"),
        ({"flow": "240", "room": "10 m3"}, "flow '240' has no unit"),
        ({"flow": "240 cfm", "room": "10 m2"}, "room '10 m2' is of the kind area, not volume"),
    ],
)
def test_room_without_air_is_refused(texts: dict[str, str], sentence: str) -> None:
    assert refusal("air-changes", texts)[1] == sentence


# --- purge-time -------------------------------------------------------------------------------------------------------

#: CDC, guidelines for environmental infection control (2003), table B.1, and MMWR 1994, table S3-1, in whole minutes,
#: for 90, 99 and 99.9 %; then the last one exact
PURGE_TABLE = {
    "1": (138, 276, 414, "414.465"),  # A01
    "2": (69, 138, 207, "207.233"),  # A02
    "4": (35, 69, 104, "103.616"),  # A03
    "5": (28, 55, 83, "82.893"),  # A04
    "6": (23, 46, 69, "69.078"),  # A05
    "8": (17, 35, 52, "51.808"),  # A06
    "10": (14, 28, 41, "41.447"),  # A07
    "12": (12, 23, 35, "34.539"),  # A08
    "15": (9, 18, 28, "27.631"),  # A09
    "20": (7, 14, 21, "20.723"),  # A10
    "50": (3, 6, 8, "8.289"),  # A11
}


def purge_minutes(changes: str, removal: str, mixing: str = "1") -> Fraction:
    return number("purge-time", "time", "min", air_changes=f"{changes} 1/h", removal=f"{removal} %", mixing=mixing)


@pytest.mark.parametrize("changes", PURGE_TABLE)
def test_purge_follows_the_published_table(changes: str) -> None:
    # A01, A02, A03, A04, A05, A06, A07, A08, A09, A10, A11: the rows of the table above
    *whole, exact = PURGE_TABLE[changes]
    times = [purge_minutes(changes, removal) for removal in ("90", "99", "99.9")]
    assert [round(float(each)) for each in times] == whole
    assert abs(times[2] - Fraction(exact)) <= Fraction("0.0005")


def test_published_purge_time_that_is_wrong_is_not_repeated() -> None:
    # T9: a copy of the table prints 3 for 13 air changes and 99.9 %; it is 32
    assert round(float(purge_minutes("13", "99.9"))) == 32


def test_mixing_multiplies_the_time() -> None:
    # A12: 6 air changes, 99 %, factor 3: 138.155 min
    assert abs(purge_minutes("6", "99", "3") - Fraction("138.155")) <= Fraction("0.0005")


def test_room_of_the_worked_example_is_purged_in_28_minutes() -> None:
    # A13: 12 ft * 15 ft * 8 ft with 240 cfm; 99 %
    changes = calculated("air-changes", {"flow": "240 cfm", "room": "1440 ft3"}).results["air_changes"]
    texts = {"air_changes": changes, "removal": "99 %", "mixing": "1"}
    assert round(float(calculated("purge-time", texts).results["time"].number), 2) == 27.63


def test_mixing_is_asked_for_and_never_supposed() -> None:
    assert refusal("purge-time", {"air_changes": "6 1/h", "removal": "99 %"}) == (
        "argument-missing",
        "'purge-time' needs mixing",
        'add mixing="3"',
    )


def test_purge_time_says_that_it_is_no_clock_for_going_back_in() -> None:
    helper = HELPERS["purge-time"]
    assert "never a clock for going back in" in helper.documentation.sections["Limits"]
    assert "never a clock for going back in" in helper.result("time").says


@given(st.integers(1, 9999), st.integers(1, 100), st.integers(1, 100))
def test_what_is_left_after_the_time_is_what_was_asked(removed: int, changes: int, tenths: int) -> None:
    mixing = max(10, min(tenths, 100))
    hours = float(purge_minutes(str(changes), f"{removed // 100}.{removed % 100:02}", f"{mixing / 10:.1f}")) / 60
    # exponential decay of a well mixed room, slowed down by the factor
    assert exp(-changes * hours / (mixing / 10)) == pytest.approx(1 - removed / 10_000, rel=1e-9)


@pytest.mark.parametrize(
    ("more", "sentence"),
    [
        ({"air_changes": "0 1/h"}, "air_changes '0 1/h' is not above 0 1/h"),
        ({"removal": "100 %"}, "removal '100 %' is not above 0 % and below 100 %"),
        ({"removal": "0 %"}, "removal '0 %' is not above 0 % and below 100 %"),
        ({"mixing": "0.5"}, "mixing '0.5' is not at least 1 and at most 10"),
        ({"mixing": "11"}, "mixing '11' is not at least 1 and at most 10"),
    ],
)
def test_purge_that_does_not_end_is_refused(more: dict[str, str], sentence: str) -> None:
    assert refusal("purge-time", {"air_changes": "6 1/h", "removal": "99 %", "mixing": "3"} | more)[1] == sentence


# --- vapour -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("ppm", "molar_mass", "published", "tolerance"),
    [
        # NIOSH pocket guide, as printed; then by ppm * molar mass / 24.45
        ("0.5", "70.906", "1.45", "0.0035"),  # X12: chlorine
        ("0.5", "70.906", "1.4500", "0.00002"),
        ("5", "118.174", "24", "0.0070"),  # X13: 2-butoxyethanol
        ("5", "118.174", "24.166", "0.00003"),
        ("400", "60.095", "980", "0.0035"),  # X14: isopropanol, 2.46 mg/m3 a ppm
        ("400", "60.095", "983.1", "0.0001"),
        ("1", "34.0147", "1.39", "0.0015"),  # X15: hydrogen peroxide
        ("1", "34.0147", "1.3912", "0.00002"),
        ("10", "60.052", "25", "0.018"),  # X16: acetic acid
        ("10", "60.052", "24.56", "0.0001"),
        # limits printed both ways for one substance
        ("1", "70.906", "3", "0.034"),  # X01: chlorine, whole milligrams in print
        ("50", "17.031", "35", "0.006"),  # X02: ammonia
        ("5", "36.461", "7", "0.066"),  # X03: hydrogen chloride, whole milligrams in print
        # X13: chemicals 1.5.2, safety.ppmv_to_mgm3, which takes 24.4654 L for a mole
        ("5", "118.174", "24.151", "0.0007"),
    ],
)
def test_mass_in_air_is_the_published_one(ppm: str, molar_mass: str, published: str, tolerance: str) -> None:
    found = number(
        "vapour", "mass_concentration", "mg/m3", concentration=f"{ppm} ppm", molar_mass=f"{molar_mass} g/mol"
    )
    assert is_close(found, published, tolerance)


@given(amounts, amounts, st.integers(1, 500))
def test_twice_the_parts_are_twice_the_mass(one: int, other: int, molar_mass: int) -> None:
    masses = [
        number("vapour", "mass_concentration", "mg/m3", concentration=f"{ppm} ppm", molar_mass=f"{molar_mass} g/mol")
        for ppm in (one, other)
    ]
    assert masses[0] * other == masses[1] * one


@pytest.mark.parametrize(
    ("more", "sentence"),
    [
        ({"concentration": "-1 ppm"}, "concentration '-1 ppm' is not at least 0 ppm and at most 1000000 ppm"),
        ({"concentration": "1000001 ppm"}, "concentration '1000001 ppm' is not at least 0 ppm and at most 1000000 ppm"),
        ({"concentration": "1 mg/m3"}, "concentration '1 mg/m3' is of the kind mass concentration, not share in air"),
        ({"molar_mass": "0 g/mol"}, "molar_mass '0 g/mol' is not above 0 g/mol"),
    ],
)
def test_vapour_that_cannot_be_is_refused(more: dict[str, str], sentence: str) -> None:
    assert refusal("vapour", {"concentration": "1 ppm", "molar_mass": "70.906 g/mol"} | more)[1] == sentence


# --- mixture-exposure -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("pairs", "index"),
    [
        # 29 CFR 1910.1000(d)(2)(ii), recalled, not seen: 500/1000 + 45/200 + 40/200 = 0.925
        ("500/1000, 45/200, 40/200", "0.925"),
        ("500 ppm/1000 ppm, 45 ppm/200 ppm, 40 ppm/200 ppm", "0.925"),
        ("500/1000 ppm, 45/200 ppm, 40 ppm / 200 ppm", "0.925"),
        ("1 mg/m3/2 mg/m3", "0.5"),
        # X02, X09: 25 ppm of ammonia of 50, 25 ppm of 2-butoxyethanol of 50: at the limit of the mixture
        ("25/50 ppm, 25/50 ppm", "1"),
        ("0/5", "0"),
    ],
)
def test_index_is_the_sum_of_the_shares_of_the_limits(pairs: str, index: str) -> None:
    assert number("mixture-exposure", "index", "", pairs=pairs) == Fraction(index)


@given(st.lists(st.tuples(st.integers(0, 1000), st.integers(1, 1000)), min_size=1, max_size=30))
def test_order_of_the_substances_does_not_matter(pairs: list[tuple[int, int]]) -> None:
    texts = [", ".join(f"{measured}/{limit} ppm" for measured, limit in each) for each in (pairs, pairs[::-1])]
    forwards, backwards = (number("mixture-exposure", "index", "", pairs=text) for text in texts)
    assert forwards == backwards == sum(Fraction(measured, limit) for measured, limit in pairs)


ALIKE = "give both halves of every pair in ppm, or in mg/m3, or as bare numbers in one unit"


@pytest.mark.parametrize(
    ("pairs", "code", "sentence", "hint"),
    [
        (
            "500/0",
            "out-of-domain",
            "pairs '0' is not above 0",
            "give the second half of pairs a value above 0",
        ),
        (
            "-1 ppm/5 ppm",
            "out-of-domain",
            "pairs '-1 ppm' is not at least 0 ppm and at most 1000000 ppm",
            "give the first half of pairs a value at least 0 ppm and at most 1000000 ppm",
        ),
        (
            "5 mg/m3/10 ppm",
            "unit-wrong-kind",
            "'mixture-exposure' has no formula for pairs as mass concentration / share in air",
            ALIKE,
        ),
        (
            "5/10 ppm, 1/2 mg/m3",
            "unit-wrong-kind",
            "pairs has entries as share in air / share in air and as mass concentration / mass concentration",
            ALIKE,
        ),
        (
            "500",
            "argument-form",
            "pairs '500' is no pair",
            'write pairs="500 ppm/1000 ppm, 45 ppm/200 ppm", a stroke inside each pair',
        ),
        (
            "500/1000,",
            "list-length",
            "pairs '500/1000,' is no list of 1 to 500 entries",
            'write pairs="500 ppm/1000 ppm, 45 ppm/200 ppm", commas between',
        ),
    ],
)
def test_pairs_that_cannot_be_added_are_refused(pairs: str, code: str, sentence: str, hint: str) -> None:
    assert refusal("mixture-exposure", {"pairs": pairs}) == (code, sentence, hint)


# --- shift-average ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("pairs", "average", "unit"),
    [
        ("2 h/150 ppm, 2 h/75 ppm, 4 h/50 ppm", "81.25", "ppm"),  # X11: 29 CFR 1910.1000(d)(1)(ii)
        ("120 min/150 ppm, 2 h/75 ppm, 240 min/50 ppm", "81.25", "ppm"),
        ("2 h/150 mg/m3, 2 h/75 mg/m3, 4 h/50 mg/m3", "81.25", "mg/m3"),
        ("4 h/50 ppm", "25", "ppm"),  # the other 4 h count as none
        ("12 h/50 ppm", "75", "ppm"),  # a long shift is divided by 8 all the same
        ("8 h/0 ppm", "0", "ppm"),
    ],
)
def test_average_is_over_eight_hours(pairs: str, average: str, unit: str) -> None:
    found = calculated("shift-average", {"pairs": pairs}).results["average"]
    assert (found.number, found.unit.symbol) == (Fraction(average), unit)


@given(st.integers(1, 480), st.integers(0, 1000))
def test_even_exposure_over_a_whole_shift_is_its_own_average(minutes: int, ppm: int) -> None:
    parts = [f"{minutes} min/{ppm} ppm", *([f"{480 - minutes} min/{ppm} ppm"] if minutes < 480 else [])]
    assert number("shift-average", "average", "ppm", pairs=", ".join(parts)) == ppm


@pytest.mark.parametrize(
    ("pairs", "sentence", "hint"),
    [
        ("20 h/5 ppm, 5 h/1 ppm", "pairs add up to '25 h', more than '24 h'", "list the parts of one shift"),
        ("0 h/5 ppm", "pairs '0 h' is not above 0 h", "give the first half of pairs a value above 0 h"),
        (
            "1 h/-5 mg/m3",
            "pairs '-5 mg/m3' is not at least 0 mg/m3",
            "give the second half of pairs a value at least 0 mg/m3",
        ),
        (
            "1 h/5 ppm, 1 h/1 mg/m3",
            "pairs has entries as time / share in air and as time / mass concentration",
            "give every concentration in ppm or every one in mg/m3",
        ),
        (
            "2/5 ppm",
            "pairs '2' has no unit",
            "write the unit after the number, for example '2 L'",
        ),
    ],
)
def test_shift_that_cannot_be_is_refused(pairs: str, sentence: str, hint: str) -> None:
    assert refusal("shift-average", {"pairs": pairs})[1:] == (sentence, hint)


# --- hardness ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("value", "to", "published", "within"),
    [
        # H1: a distributor's table; exact by 17.118061045, the factor of pint
        ("60 mg/L", "grain/US gal", "3.5", "0.05"),
        ("120 mg/L", "grain/US gal", "7.0", "0.05"),
        ("180 mg/L", "grain/US gal", "10.5", "0.05"),
        ("60 mg/L", "grain/US gal", "3.505", "0.0005"),
        ("120 mg/L", "grain/US gal", "7.010", "0.0005"),
        ("180 mg/L", "grain/US gal", "10.515", "0.0005"),
        ("10 grain/US gal", "mg/L", "171", "0.5"),  # Q12
        ("1 grain/US gal", "mg/L", "17.118061045", "0.0000000005"),  # pint
        ("1 fH", "mg/L", "10", "0"),  # by definition
        ("1 dH", "mg/L", "17.848", "0.0005"),  # 10 mg/L of CaO: 10 * 100.0869 / 56.0774
        ("1 mmol/L", "fH", "10.00869", "0"),  # molar mass of CaCO3 100.0869 g/mol
        ("1 mmol/L", "dH", "5.608", "0.0005"),  # 100.0869 / 17.848
    ],
)
def test_hardness_is_converted_as_published(value: str, to: str, published: str, within: str) -> None:
    found = calculated("hardness", {"value": value, "to": to}).results["value"]
    assert found.unit.symbol == to
    assert abs(found.number - Fraction(published)) <= Fraction(within)


@pytest.mark.parametrize(
    ("value", "word"),
    # US Geological Survey: soft 0 to 60, moderately hard 61 to 120, hard 121 to 180, very hard above
    [
        ("0 mg/L", "soft"),
        ("60 mg/L", "soft"),
        ("61 mg/L", "moderately hard"),
        ("120 mg/L", "moderately hard"),
        ("121 mg/L", "hard"),
        ("180 mg/L", "hard"),
        ("181 mg/L", "very hard"),
        ("3.5 grain/US gal", "soft"),
        ("18 grain/US gal", "very hard"),
        ("1 mmol/L", "moderately hard"),
    ],
)
@pytest.mark.parametrize("to", [None, "grain/US gal"])
def test_class_is_that_of_the_survey_whatever_the_unit(value: str, word: str, to: str | None) -> None:
    found = calculated("hardness", {"value": value} | ({} if to is None else {"to": to}))
    assert found.words == {"class": word, "scheme": "US Geological Survey"}
    assert found.results["value"].unit.symbol == (to or "mg/L")


@given(amounts, st.sampled_from(["mg/L", "grain/US gal", "dH", "fH"]), st.sampled_from(["mg/L", "grain/US gal", "dH"]))
def test_hardness_there_and_back_is_the_same(hundredths: int, unit: str, other: str) -> None:
    there = calculated("hardness", {"value": f"{hundredths / 100:.2f} {unit}", "to": other}).results["value"]
    back = calculated("hardness", {"value": there, "to": unit}).results["value"]
    assert back.number == Fraction(hundredths, 100)


@pytest.mark.parametrize(
    ("texts", "code", "sentence"),
    [
        ({"value": "-1 mg/L"}, "out-of-domain", "value '-1 mg/L' is not at least 0 mg/L"),
        ({"value": "300 ppm"}, "unit-ambiguous", "unit 'ppm' of value '300 ppm' does not name one size"),
        ({"value": "18 gpg"}, "unit-unknown", "unit 'gpg' of value '18 gpg' is not known"),
        ({"value": "1 mg/L", "to": "gpg"}, "value-not-allowed", "to 'gpg' is none of its words"),
        ({"to": "mg/L"}, "argument-missing", "'hardness' needs value"),
    ],
)
def test_hardness_that_is_unclear_is_refused(texts: dict[str, str], code: str, sentence: str) -> None:
    assert refusal("hardness", texts)[:2] == (code, sentence)


# --- softener-interval ------------------------------------------------------------------------------------------------

#: H2: 4 people at 80 US gal a day, 10 grains, 0.5 mg/L of iron and 1 mg/L of manganese at 2 grains each
HOUSE = {
    "hardness": "10 grain/US gal",
    "use": "320 US gal/d",
    "iron": "1.5 mg/L",
    "iron_factor": "2",
}


def test_iron_counts_as_published() -> None:
    # H2: 10 + 2 * 0.5 + 2 * 1 = 13
    assert number("softener-interval", "compensated", "grain/US gal", capacity="30000 grain", **HOUSE) == 13


@pytest.mark.parametrize(
    ("capacity", "days"),
    [
        ("29120 grain", 7),  # H2, H3: 4,160 grains a day, 29,120 in 7 days
        ("29119 grain", 6),
        ("4160 grain", 1),  # H2
        ("4159 grain", 0),  # does not last a day
        ("30000 grain", 7),
    ],
)
def test_interval_is_in_whole_days(capacity: str, days: int) -> None:
    found = calculated("softener-interval", HOUSE | {"capacity": capacity}).results["interval"]
    assert (found.number, found.unit.symbol) == (days, "d")


def test_house_without_iron_takes_up_the_published_grains() -> None:
    # H4: 4 * 75 US gal * 10 grains = 3,000 grains a day
    texts = {"hardness": "10 grain/US gal", "use": "300 US gal/d"}
    days = [
        number("softener-interval", "interval", "d", capacity=f"{grains} grain", **texts) for grains in (2999, 3000)
    ]
    assert days == [0, 1]


def test_metric_water_lasts_as_long() -> None:
    # 171 mg/L * 1,200 L = 205.2 g a day; 1,500 g / 205.2 g = 7.3
    found = calculated("softener-interval", {"hardness": "171 mg/L", "use": "1200 L/d", "capacity": "1500 g"}).results
    assert (found["interval"].number, found["compensated"].unit.symbol) == (7, "mg/L")


@given(amounts, amounts, st.integers(1, 100))
def test_capacity_lasts_for_the_interval_and_not_for_a_day_more(capacity: int, use: int, hardness: int) -> None:
    texts = {"hardness": f"{hardness} grain/US gal", "use": f"{use} US gal/d", "capacity": f"{capacity} grain"}
    days = number("softener-interval", "interval", "d", **texts)
    assert days * use * hardness <= capacity < (days + 1) * use * hardness


@pytest.mark.parametrize(
    ("more", "sentence"),
    [
        ({"hardness": "0 mg/L"}, "hardness '0 mg/L' is not above 0 mg/L"),
        ({"use": "0 L/d"}, "use '0 L/d' is not above 0 L/d"),
        ({"capacity": "0 g"}, "capacity '0 g' is not above 0 g"),
        ({"iron": "-1 mg/L"}, "iron '-1 mg/L' is not at least 0 mg/L"),
        ({"iron_factor": "-1"}, "iron_factor '-1' is not at least 0"),
    ],
)
def test_softener_that_cannot_work_is_refused(more: dict[str, str], sentence: str) -> None:
    assert refusal("softener-interval", HOUSE | {"capacity": "30000 grain"} | more)[1] == sentence


@pytest.mark.parametrize(
    ("left_out", "sentence", "hint"),
    [
        ("iron_factor", "'softener-interval' needs iron_factor", 'add iron_factor="2"'),
        ("iron", "'softener-interval' needs iron", 'add iron="1.5 mg/L"'),
    ],
)
def test_iron_and_its_factor_go_together(left_out: str, sentence: str, hint: str) -> None:
    texts = {name: text for name, text in HOUSE.items() if name != left_out} | {"capacity": "30000 grain"}
    assert refusal("softener-interval", texts)[1:] == (sentence, hint)


# --- anything at all --------------------------------------------------------------------------------------------------

PIECES = (
    *("0", "1", "3", "2.5", "-1", "50 %", "100 %", "-5 %", "", "x", "mg/L", "dH", "99.9 %", "7 1/h", "0 1/h"),
    *("240 cfm", "0 m3/h", "40 m3", "0 ft3", "5 ppm", "-5 ppm", "1 mg/L", "18 grain/US gal", "70 g/mol", "0 g/mol"),
    *("500/1000", "1/0", "1/2, 3", "2 h/150 ppm", "2 h/150", "9 h/1 mg/m3, 1 min/1 ppm", "25 h/1 ppm", "1 ppm/1 mg/m3"),
    *("1000 grain", "5 g", "320 US gal/d", "0 L/d", "2 mmol/L", "/", ",", "1/", "0.00000000000000000000000000001 1/h"),
)


@pytest.mark.parametrize(
    "name",
    [
        "air-changes",
        "purge-time",
        "vapour",
        "mixture-exposure",
        "shift-average",
        "hardness",
        "softener-interval",
    ],
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
        assert all(each.in_unit(UNITS[each.unit.symbol]) >= 0 for each in found.results.values())
        assert found.working

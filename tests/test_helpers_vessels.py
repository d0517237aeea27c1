"""Tanks: levels and volumes against published values, a library of tank geometry, and their own laws."""

from fractions import Fraction

import pytest
from calculating import calculated, is_close, number, refusal
from fluids.geometry import TANK
from hypothesis import example, given
from hypothesis import strategies as st

from tankside.units import UNITS, Quantity, QuantityError

#: G06, G07: vertical tank on a cone; the length of the straight side is ours, the volume does not depend on it
LARGE_CONE = {"shape": "cone-bottom", "diameter": "132 in", "cone_depth": "33 in", "length": "200 in"}
#: G09
SMALL_CONE = {"shape": "cone-bottom", "diameter": "0.6 m", "length": "0.9 m", "cone_depth": "0.25 m"}
#: G08
UPRIGHT = {"shape": "upright", "diameter": "1.2 m", "length": "4 m"}
#: G12
LYING = {"shape": "lying", "diameter": "1 m", "length": "2 m"}
#: G10: only the diameter is published
WIDE = {"shape": "upright", "diameter": "144 in", "length": "198 in"}
BOX = {"shape": "box", "length": "60 cm", "width": "40 cm", "height": "50 cm"}
TANKS = {"upright": UPRIGHT, "cone-bottom": SMALL_CONE, "lying": LYING, "box": BOX}


@pytest.mark.parametrize(
    ("tank", "level", "published", "unit", "tolerance"),
    [
        # G06: docstring of fluids.geometry.V_vertical_conical, inside the cone
        (LARGE_CONE, "24 in", "250.6746138", "US gal", "0.0000000002"),
        # G07: the same library, 27 in above the cone
        (LARGE_CONE, "60 in", "2251.1755358", "US gal", "0.00000000003"),
        # G08: docstring of fluids.geometry.TANK, full and at half a metre
        (UPRIGHT, "4 m", "4.523893", "m3", "0.0000001"),
        (UPRIGHT, "0.5 m", "0.565487", "m3", "0.000001"),
        # G09: the same library: in the cone, at its top, above it, full
        (SMALL_CONE, "0.10 m", "0.0015080", "m3", "0.00003"),
        (SMALL_CONE, "0.25 m", "0.0235619", "m3", "0.000003"),
        (SMALL_CONE, "0.50 m", "0.0942478", "m3", "0.0000003"),
        (SMALL_CONE, "1.15 m", "0.278031", "m3", "0.000002"),
        # G10: one inch of level in a tank 144 in wide is printed as 70.50 US gal; exact 70.5022
        (WIDE, "1 in", "70.50", "US gal", "0.00004"),
        (WIDE, "1 in", "70.5022", "US gal", "0.0000007"),
        # G12: the same library
        (LYING, "0.25 m", "0.307092", "m3", "0.0000015"),
        # L05: area of DN 100 schedule 40, 8213.057355 mm2; a full metre of it lying or upright holds as many mL
        (
            {"shape": "lying", "diameter": "102.2604 mm", "length": "1 m"},
            "102.2604 mm",
            "8213.057355",
            "mL",
            "0.0000000001",
        ),
        ({"shape": "upright", "diameter": "102.2604 mm", "length": "1 m"}, "1 m", "8213.057355", "mL", "0.0000000001"),
        # L04, L09: 100 ft of pipe of 4.026 in, of hose of 1 in, full; US gal by the plain formula
        ({"shape": "lying", "diameter": "4.026 in", "length": "100 ft"}, "4.026 in", "66.1312", "US gal", "0.000001"),
        ({"shape": "lying", "diameter": "1 in", "length": "100 ft"}, "1 in", "4.0800", "US gal", "0.00002"),
        # 60 cm * 40 cm * 25 cm
        (BOX, "25 cm", "60", "L", "0"),
    ],
)
def test_volume_is_the_published_one(
    tank: dict[str, str], level: str, published: str, unit: str, tolerance: str
) -> None:
    assert is_close(number("tank-volume", "volume", unit, **tank, level=level), published, tolerance)


@pytest.mark.parametrize(
    ("tank", "volume", "published", "unit", "tolerance"),
    [
        (UPRIGHT, "0.5 m3", "0.442097", "m", "0.000001"),  # G08
        (SMALL_CONE, "0.1 m3", "0.520344", "m", "0.000001"),  # G09
        # G06, G07, G10, G12 the other way round
        (LARGE_CONE, "250.6746138 US gal", "24", "in", "0.0000000002"),
        (LARGE_CONE, "2251.1755358 US gal", "60", "in", "0.00000000003"),
        (WIDE, "70.5022 US gal", "1", "in", "0.0000007"),
        (LYING, "0.307092 m3", "0.25", "m", "0.0000015"),
        (BOX, "60 L", "25", "cm", "0"),
    ],
)
def test_level_is_the_published_one(
    tank: dict[str, str], volume: str, published: str, unit: str, tolerance: str
) -> None:
    assert is_close(number("tank-level", "level", unit, **tank, volume=volume), published, tolerance)


@pytest.mark.parametrize("share", [0.01, 0.2, 0.4999, 0.5, 0.77, 0.99])
@pytest.mark.parametrize(
    ("tank", "library"),
    [
        (UPRIGHT, TANK(D=1.2, L=4.0, horizontal=False)),
        (SMALL_CONE, TANK(D=0.6, L=0.9, horizontal=False, sideA="conical", sideA_a=0.25)),
        (LYING, TANK(D=1.0, L=2.0, horizontal=True)),
    ],
    ids=["upright", "cone-bottom", "lying"],
)
def test_library_of_tank_geometry_agrees_both_ways(tank: dict[str, str], library: TANK, share: float) -> None:
    level = round(share * library.h_max, 6)
    volume = library.V_from_h(level)
    assert float(number("tank-volume", "volume", "m3", **tank, level=f"{level} m")) == pytest.approx(volume, rel=1e-9)
    back = number("tank-level", "level", "m", **tank, volume=f"{volume:.15f} m3")
    assert float(back) == pytest.approx(level, rel=1e-9)


# --- laws -------------------------------------------------------------------------------------------------------------

millimetres = st.integers(1, 20_000)
shapes = st.sampled_from(list(TANKS))


def tank_of(shape: str, first: int, second: int, third: int) -> tuple[dict[str, str], int]:
    """A tank and how deep it is in millimetres."""
    sizes = {
        "upright": ({"diameter": first, "length": second}, second),
        "cone-bottom": ({"diameter": first, "length": second, "cone_depth": third}, second + third),
        "lying": ({"diameter": first, "length": second}, first),
        "box": ({"length": first, "width": second, "height": third}, third),
    }
    given_sizes, depth = sizes[shape]
    return {"shape": shape, **{name: f"{size} mm" for name, size in given_sizes.items()}}, depth


def contents(tank: dict[str, str], level: Fraction) -> Quantity:
    return calculated("tank-volume", {**tank, "level": Quantity(level / 1000, UNITS["mm"])}).results["volume"]


@given(shapes, millimetres, millimetres, millimetres, st.integers(0, 999))
def test_level_of_the_volume_at_a_level_is_that_level(shape: str, a: int, b: int, c: int, thousandths: int) -> None:
    tank, depth = tank_of(shape, a, b, c)
    level = Fraction(depth * thousandths, 1000)
    back = number("tank-level", "level", "mm", **tank, volume=contents(tank, level))
    # both ways are rounded to 30 digits
    assert abs(back - level) <= Fraction(depth, 10**27)


@given(shapes, millimetres, millimetres, millimetres)
# The thirtieth digit of these volumes is rounded up.
@example("upright", 2, 95, 1)
@example("cone-bottom", 2, 95, 3)
@example("lying", 4, 1, 1)
def test_full_tank_is_full_to_the_top_and_no_more(shape: str, a: int, b: int, c: int) -> None:
    tank, depth = tank_of(shape, a, b, c)
    top = Quantity(Fraction(depth, 1000), UNITS["mm"])
    full = calculated("tank-volume", {**tank, "level": top}).results
    assert full["freeboard"].value == 0
    level = calculated("tank-level", {**tank, "volume": full["volume"]}).results
    # Near the top of a lying tank the volume changes with the power 3/2 of the freeboard: of 30 digits 20 are left.
    assert 0 <= level["freeboard"].number <= Fraction(depth, 10**19)


@given(shapes, millimetres, millimetres, millimetres, st.integers(0, 1000), st.integers(0, 1000))
def test_higher_level_is_more_volume_and_less_freeboard(
    shape: str, a: int, b: int, c: int, one: int, other: int
) -> None:
    tank, depth = tank_of(shape, a, b, c)
    low, high = sorted((one, other))
    levels = [Quantity(Fraction(depth * each, 10**6), UNITS["mm"]) for each in (low, high)]
    lower, higher = (calculated("tank-volume", {**tank, "level": level}).results for level in levels)
    assert (lower["volume"].value < higher["volume"].value) == (low < high)
    assert (lower["freeboard"].value > higher["freeboard"].value) == (low < high)


@given(millimetres, millimetres, st.integers(0, 1000))
def test_what_is_empty_in_a_lying_tank_is_what_would_be_full_upside_down(a: int, b: int, thousandths: int) -> None:
    tank, depth = tank_of("lying", a, b, 0)
    level = Fraction(depth * thousandths, 1000)
    parts = [contents(tank, each).value for each in (level, depth - level)]
    full = contents(tank, Fraction(depth)).value
    assert abs(sum(parts) - full) <= full / 10**28


@given(millimetres, millimetres, millimetres)
def test_volume_and_level_do_not_jump_at_the_top_of_the_cone(diameter: int, length: int, cone: int) -> None:
    tank = tank_of("cone-bottom", diameter, length, cone)[0]
    tiny = Fraction(1, 10**12)
    volumes = [
        number("tank-volume", "volume", "m3", **tank, level=f"{text} mm")
        for text in (f"{cone - 1}.999999999999", f"{cone}", f"{cone}.000000000001")
    ]
    # A billionth of a millimetre is so much of the circle's area; 0.79 is pi / 4 and some.
    most = tiny / 1000 * Fraction("0.79") * Fraction(diameter, 1000) ** 2
    assert 0 < volumes[2] - volumes[1] <= most
    assert 0 < volumes[1] - volumes[0] <= most
    # a third of the cylinder of the same height: Euclid, Elements XII.10
    as_cylinder = {**tank, "shape": "upright", "length": f"{cone} mm"}
    del as_cylinder["cone_depth"]
    whole = number("tank-volume", "volume", "m3", **as_cylinder, level=f"{cone} mm")
    assert abs(3 * volumes[1] - whole) <= whole / 10**27


def test_cone_of_a_fixed_size_stands_at_its_top_when_its_own_volume_is_in() -> None:
    # pi / 12 * 0.6^2 * 0.25 m3 = 0.0075 pi m3, pi to 25 decimals, cut: just below and just above the cone
    below, above = "0.02356194490192344928846982 m3", "0.02356194490192344928846983 m3"
    levels = [number("tank-level", "level", "m", **SMALL_CONE, volume=each) for each in (below, above)]
    assert levels[0] < Fraction("0.25") < levels[1]
    assert levels[1] - levels[0] < Fraction(1, 10**24)


# --- refusals and units -----------------------------------------------------------------------------------------------

SIZES = (
    "give diameter and length of an upright or lying tank, cone_depth too of a cone-bottom one, "
    "or length, width and height of a box"
)
LEVEL = "give a level within the tank, or correct its sizes"
VOLUME = "give a volume that the tank holds, or correct its sizes"


@pytest.mark.parametrize(
    ("name", "texts", "code", "sentence", "hint"),
    [
        (
            "tank-volume",
            UPRIGHT | {"level": "4.001 m"},
            "out-of-domain",
            "level '4.001 m' is above the top of a tank of length '4 m'",
            LEVEL,
        ),
        (
            "tank-volume",
            SMALL_CONE | {"level": "1.16 m"},
            "out-of-domain",
            "level '1.16 m' is above the top of a tank of length '0.9 m' with cone_depth '0.25 m'",
            LEVEL,
        ),
        (
            "tank-volume",
            LYING | {"level": "101 cm"},
            "out-of-domain",
            "level '101 cm' is above the top of a tank of diameter '1 m'",
            LEVEL,
        ),
        (
            "tank-volume",
            BOX | {"level": "51 cm"},
            "out-of-domain",
            "level '51 cm' is above the top of a tank of height '50 cm'",
            LEVEL,
        ),
        (
            "tank-volume",
            BOX | {"level": "-1 cm"},
            "out-of-domain",
            "level '-1 cm' is not at least 0 cm",
            "give level a value at least 0 cm",
        ),
        (
            "tank-level",
            BOX | {"volume": "121 L"},
            "out-of-domain",
            "volume '121 L' does not fit in a tank of length '60 cm' with width '40 cm' with height '50 cm'",
            VOLUME,
        ),
        (
            # pi / 4 * 0.6^2 * (0.9 + 0.25 / 3) m3 = 278.03 L
            "tank-level",
            SMALL_CONE | {"volume": "278.1 L"},
            "out-of-domain",
            "volume '278.1 L' does not fit in a tank of diameter '0.6 m' with length '0.9 m' with cone_depth '0.25 m'",
            VOLUME,
        ),
        (
            "tank-level",
            LYING | {"volume": "-1 L"},
            "out-of-domain",
            "volume '-1 L' is not at least 0 L",
            "give volume a value at least 0 L",
        ),
        *(
            (
                "tank-volume",
                tank | {size: "0 cm", "level": "0 cm"},
                "out-of-domain",
                f"{size} '0 cm' is not above 0 cm",
                f"give {size} a value above 0 cm",
            )
            for tank in TANKS.values()
            for size in tank
            if size != "shape"
        ),
        (
            "tank-volume",
            {"shape": "lying", "diameter": "1 m", "level": "1 cm"},
            "argument-missing",
            "'tank-volume' needs length",
            'add length="90 cm"',
        ),
        ("tank-level", {"volume": "1 L"}, "argument-missing", "'tank-level' needs shape", 'add shape="upright"'),
        ("tank-level", UPRIGHT, "argument-missing", "'tank-level' needs volume", 'add volume="100 L"'),
        (
            "tank-level",
            UPRIGHT | {"volume": "1 L", "cone_depth": "1 cm", "width": "1 cm"},
            "argument-not-used",
            "'tank-level' does not use cone_depth with shape as upright and diameter and length",
            "leave cone_depth out",
        ),
        (
            "tank-level",
            {"shape": "box", "diameter": "1 m", "length": "1 m", "volume": "1 L"},
            "unit-wrong-kind",
            "'tank-level' has no formula for shape as box and diameter and length",
            SIZES,
        ),
        (
            "tank-level",
            UPRIGHT | {"shape": "lieing", "volume": "1 L"},
            "value-not-allowed",
            "shape 'lieing' is none of its words",
            "write lying",
        ),
        (
            "tank-volume",
            UPRIGHT | {"level": "5 L"},
            "unit-wrong-kind",
            "level '5 L' is of the kind volume, not length",
            "write mm, cm, m, in or ft",
        ),
    ],
)
def test_refusal_says_what_is_wrong_and_the_way_out(
    name: str, texts: dict[str, str], code: str, sentence: str, hint: str
) -> None:
    assert refusal(name, texts) == (code, sentence, hint)


@pytest.mark.parametrize("tank", TANKS.values(), ids=TANKS)
def test_lengths_are_in_the_unit_that_the_tank_or_the_level_was_given_in(tank: dict[str, str]) -> None:
    volume = calculated("tank-volume", {**tank, "level": "2 in"}).results
    assert [volume[name].unit.symbol for name in ("volume", "freeboard")] == ["L", "in"]
    level = calculated("tank-level", {**tank, "volume": "1 US gal"}).results
    symbol = tank.get("diameter", tank["length"]).partition(" ")[2]
    assert [level[name].unit.symbol for name in ("level", "freeboard")] == [symbol, symbol]


WORDS = ("upright", "cone-bottom", "lying", "box", "", "1 m, 2 m")
LENGTHS = ("0 cm", "1 cm", "40 cm", "1 m", "-1 in", "80000000000000000 ft", "0.000000000000000000000000001 mm")
OTHERS = ("7", "5 L", "3 kg", "0 L", "1000000000000000000000000000000 US gal")
pieces = st.sampled_from((*WORDS, *LENGTHS, *OTHERS))
names = ["shape", "diameter", "length", "cone_depth", "width", "height", "level", "volume"]


@given(st.sampled_from(["tank-volume", "tank-level"]), shapes, st.dictionaries(st.sampled_from(names), pieces))
def test_whatever_is_given_there_is_a_result_or_a_refusal(name: str, shape: str, texts: dict[str, str]) -> None:
    last = "level" if name == "tank-volume" else "volume"
    sizes = dict(TANKS[shape]) if len(texts) < 4 else {}
    known = {key: text for key, text in {**sizes, **texts}.items() if key not in {"level", "volume"} - {last}}
    try:
        found = calculated(name, known)
    except QuantityError:
        return
    assert set(found.results) == {"freeboard", "volume" if last == "level" else "level"}
    assert found.working

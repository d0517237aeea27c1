"""Eyewash, containment and absorbent: published values, their laws, and each refusal."""

from fractions import Fraction
from math import ceil

import pytest
from calculating import askings, calculated, is_close, number, refusal
from hypothesis import given
from hypothesis import strategies as st

from tankside.units import QuantityError

# --- eyewash-water ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("flow", "time", "unit", "volume", "tolerance"),
    [
        # S01: WAC 296-800-15030: 0.4 US gal/min for 15 min
        ("0.4 US gal/min", "15 min", "US gal", "6.0", "0"),
        ("0.4 US gal/min", "15 min", "L", "22.7", "0.001"),
        # S01: its 1.5 L/min, 1.5 * 15
        ("1.5 L/min", "15 min", "L", "22.5", "0"),
        # S02: the same, shower: 20 US gal/min, 75 L/min
        ("20 US gal/min", "15 min", "US gal", "300", "0"),
        ("20 US gal/min", "15 min", "L", "1136", "0.0005"),
        ("75 L/min", "15 min", "L", "1125", "0"),
        # S08: 16 US gal last 40 min
        ("0.4 US gal/min", "40 min", "US gal", "16", "0"),
    ],
)
def test_water_is_the_published_volume(flow: str, time: str, unit: str, volume: str, tolerance: str) -> None:
    assert is_close(number("eyewash-water", "volume", unit, flow=flow, time=time), volume, tolerance)


@pytest.mark.parametrize(
    ("texts", "sentence", "hint"),
    [
        (
            {"flow": "0 L/min", "time": "15 min"},
            "flow '0 L/min' is not above 0 L/min",
            "give flow a value above 0 L/min",
        ),
        ({"flow": "1 L/min", "time": "-1 s"}, "time '-1 s' is not above 0 s", "give time a value above 0 s"),
    ],
)
def test_eyewash_without_flow_or_time_is_refused(texts: dict[str, str], sentence: str, hint: str) -> None:
    assert refusal("eyewash-water", texts) == ("out-of-domain", sentence, hint)


# --- containment ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("containers", "share", "unit", "volume", "governed_by"),
    [
        # the rule of 40 CFR 264.175: the larger of a tenth of all and the largest
        (["55 US gal"] * 8, None, "US gal", "55", "largest container"),  # C01: a tenth is 44
        (["55 US gal"] * 10, None, "US gal", "55", "largest container"),  # C02: a tie
        (["55 US gal"] * 12, None, "US gal", "66", "share of all containers"),  # C03
        (["275 US gal"] + ["5 US gal"] * 6, None, "US gal", "275", "largest container"),  # C04
        # a quarter of all: 0.25 * 420 = 105
        (["200 L", "200 L", "20 L"], "25 %", "L", "200", "largest container"),
        (["200 L", "200 L", "20 L"], "50 %", "L", "210", "share of all containers"),
        (["20 L"], "100 %", "L", "20", "largest container"),
        (["1 m3", "200 L"], None, "L", "1000", "largest container"),
    ],
)
def test_containment_is_the_published_one(
    containers: list[str], share: str | None, unit: str, volume: str, governed_by: str
) -> None:
    texts = {"containers": ", ".join(containers)} | ({} if share is None else {"share": share})
    found = calculated("containment", texts)
    assert found.results["volume"].unit.symbol == containers[0].partition(" ")[2]
    assert number("containment", "volume", unit, **texts) == Fraction(volume)
    assert found.words == {"governed_by": governed_by}


def test_rule_of_a_tenth_more_than_the_largest_is_another_one() -> None:
    # C04: 110 % of the largest would be 302.5 US gal
    containers = "275, 5, 5, 5, 5, 5, 5 US gal"
    assert number("containment", "volume", "US gal", containers=containers) == 275


litres = st.lists(st.integers(1, 2000), min_size=1, max_size=40)


@given(litres, st.integers(1, 100))
def test_largest_container_and_the_share_both_fit_and_one_just_so(sizes: list[int], percent: int) -> None:
    texts = {"containers": ", ".join(f"{each} L" for each in sizes), "share": f"{percent} %"}
    volume = number("containment", "volume", "L", **texts)
    parts = (max(sizes), Fraction(percent, 100) * sum(sizes))
    assert all(part <= volume for part in parts)
    assert volume in parts
    texts["containers"] = ", ".join(f"{each} L" for each in reversed(sizes))
    assert number("containment", "volume", "L", **texts) == volume


@pytest.mark.parametrize(
    ("texts", "code", "sentence", "hint"),
    [
        (
            {"containers": "200 L, 0 L"},
            "out-of-domain",
            "containers '0 L' is not above 0 L",
            "give containers a value above 0 L",
        ),
        *(
            (
                {"containers": "200 L", "share": share},
                "out-of-domain",
                f"share '{share}' is not above 0 % and at most 100 %",
                "give share a value above 0 % and at most 100 %",
            )
            for share in ("0 %", "110 %")
        ),
        (
            {"containers": "200 L,"},
            "list-length",
            "containers '200 L,' is no list of 1 to 500 entries",
            'write containers="200 L, 200 L, 20 L", commas between',
        ),
        (
            {"containers": "200 kg"},
            "unit-wrong-kind",
            "containers '200 kg' is of the kind mass, not volume",
            "write mL, L, m3, US fl oz, US pt, US qt, US gal, UK fl oz, UK gal, in3 or ft3",
        ),
    ],
)
def test_refusal_of_containers_says_the_way_out(texts: dict[str, str], code: str, sentence: str, hint: str) -> None:
    assert refusal("containment", texts) == (code, sentence, hint)


# --- absorbent --------------------------------------------------------------------------------------------------------

PACKS = ("mineral", "synthetic", "organic", "acid-neutralising", "alkali-neutralising")
#: what may touch what, written out again by hand: no combustible on an oxidiser, no acid on an alkali's foe, and
#: organic packs (common practice, no source) on nothing but water
ALLOWED = {
    "acid": {"mineral", "synthetic", "acid-neutralising"},
    "alkali": {"mineral", "synthetic", "alkali-neutralising"},
    "oxidiser": {"mineral"},
    "solvent": {"mineral", "synthetic"},
    "water": set(PACKS),
}


@pytest.mark.parametrize(
    ("spill", "pack_holds", "packs"),
    [
        ("20 L", "3 L", 7),  # 20 / 3 = 6.67
        ("21 L", "3 L", 7),  # exactly
        ("21.000000000000000000001 L", "3 L", 8),
        ("0.1 L", "5 L", 1),
        ("1 US gal", "1 L", 4),  # 3.785
        ("0.6 L", "0.2 L", 3),  # doubles say 2.9999999999999996
    ],
)
def test_packs_are_whole_and_enough(spill: str, pack_holds: str, packs: int) -> None:
    texts = {"spill": spill, "pack_holds": pack_holds, "material": "oxidiser", "pack": "mineral"}
    assert number("absorbent", "packs", "", **texts) == packs


@pytest.mark.parametrize("material", ALLOWED)
@pytest.mark.parametrize("pack", PACKS)
def test_pack_that_must_not_touch_the_material_is_refused(material: str, pack: str) -> None:
    texts = {"spill": "20 L", "pack_holds": "4 L", "material": material, "pack": pack}
    if pack in ALLOWED[material]:
        assert number("absorbent", "packs", "", **texts) == 5
    else:
        code, sentence, hint = refusal("absorbent", texts)
        assert (code, sentence) == ("out-of-domain", f"pack '{pack}' must not touch material '{material}'")
        head, _, listed = hint.partition(": ")
        assert head == "take a pack that may"
        assert set(listed.split(", ")) == ALLOWED[material]


def test_pack_is_asked_for_unless_every_pack_may_touch_the_material() -> None:
    texts = {"spill": "20 L", "pack_holds": "4 L"}
    assert number("absorbent", "packs", "", **texts, material="water") == 5
    for material in ALLOWED.keys() - {"water"}:
        code, sentence, _ = refusal("absorbent", {**texts, "material": material})
        assert (code, sentence) == ("argument-missing", "'absorbent' needs pack")


@pytest.mark.parametrize(
    ("change", "code", "sentence", "hint"),
    [
        ({"spill": "0 L"}, "out-of-domain", "spill '0 L' is not above 0 L", "give spill a value above 0 L"),
        (
            {"pack_holds": "0 L"},
            "out-of-domain",
            "pack_holds '0 L' is not above 0 L",
            "give pack_holds a value above 0 L",
        ),
        (
            {"material": "hypochlorite"},
            "value-not-allowed",
            "material 'hypochlorite' is none of its words",
            "write acid, alkali, oxidiser, solvent, water",
        ),
        (
            {"pack": "sawdust"},
            "value-not-allowed",
            "pack 'sawdust' is none of its words",
            "write mineral, synthetic, organic, acid-neutralising, alkali-neutralising",
        ),
    ],
)
def test_refusal_of_a_pack_says_the_way_out(change: dict[str, str], code: str, sentence: str, hint: str) -> None:
    texts = {"spill": "20 L", "pack_holds": "4 L", "material": "oxidiser", "pack": "mineral"} | change
    assert refusal("absorbent", texts) == (code, sentence, hint)


@given(st.integers(1, 10**6), st.integers(1, 10**6))
def test_packs_hold_the_spill_and_one_fewer_would_not(spill: int, holds: int) -> None:
    texts = {"spill": f"{spill} mL", "pack_holds": f"{holds} mL", "material": "acid", "pack": "synthetic"}
    packs = number("absorbent", "packs", "", **texts)
    assert packs == ceil(Fraction(spill, holds))
    assert (packs - 1) * holds < spill <= packs * holds


@given(askings("eyewash-water", "containment", "absorbent"))
def test_whatever_is_given_there_is_a_result_or_a_refusal(asked: tuple[str, dict[str, str]]) -> None:
    try:
        found = calculated(*asked)
    except QuantityError:
        return
    assert all(quantity.value >= 0 for quantity in found.results.values())
    assert found.working

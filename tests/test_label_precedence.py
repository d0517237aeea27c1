"""Signal words and pictograms of hazard statements, and what gives way to what.

The rules are 29 CFR 1910.1200, App. C.2.1 (read in a copy) and Article 26 of Regulation (EC) 1272/2008 (read in
copies). Which statement has which signal word and pictogram is UN GHS, annex 3, from memory; the signal words marked
`read` in `hazard_statements.py` were seen in copies of annex I of that regulation.
"""

import pytest

from tankside.audit.reading.hazard_statements import Label, label_of


def us(*codes: str) -> Label:
    return label_of(codes, "US")


def eu(*codes: str) -> Label:
    return label_of(codes, "EU")


def test_danger_drops_warning_and_corrosion_drops_the_mark_of_irritation() -> None:
    # vector S10: H314 Danger and H319 Warning give Danger, corrosion, no exclamation mark for irritation (C.2.1)
    assert us("H314", "H319") == Label(
        words=frozenset({"Danger"}),
        wanted=frozenset({"GHS05"}),
        allowed=frozenset({"GHS05", "GHS09"}),
        dropped=frozenset({"GHS07"}),
        is_whole=True,
    )


def test_corrosion_leaves_the_exclamation_mark_for_what_is_harmful() -> None:
    # C.2.1.3 drops it for irritation of skin or eyes only; H302 is acute toxicity
    assert us("H314", "H302").wanted == {"GHS05", "GHS07"}
    assert us("H314", "H302").dropped == set()


def test_corrosion_of_metal_drops_the_mark_of_irritation_too() -> None:
    # C.2.1.3 asks whether the corrosion pictogram is there, not why
    assert us("H290", "H315").dropped == {"GHS07"}
    assert us("H290", "H315").words == {"Warning"}


def test_skull_drops_the_exclamation_mark_for_acute_toxicity_only_in_the_us() -> None:
    # C.2.1.2 "where it is used for acute toxicity"; Article 26(1)(b) drops it altogether
    assert us("H301", "H312").dropped == {"GHS07"}
    assert us("H301", "H319").wanted == {"GHS06", "GHS07"}
    assert eu("H301", "H319").wanted == {"GHS06"}
    assert eu("H301", "H319").dropped == {"GHS07"}


@pytest.mark.parametrize("milder", ["H317", "H315", "H319"])
def test_respiratory_sensitiser_drops_the_mark_of_skin_sensitisation_and_irritation(milder: str) -> None:
    # C.2.1.4 and Article 26(1)(d)
    assert us("H334", milder).dropped == {"GHS07"}
    assert eu("H334", milder).dropped == {"GHS07"}


def test_another_hazard_to_health_drops_nothing() -> None:
    # H372 has the same pictogram as H334, and is no respiratory sensitisation
    assert us("H372", "H317").wanted == {"GHS07", "GHS08"}


def test_respiratory_irritation_keeps_its_mark_beside_corrosion() -> None:
    # H335 is no irritation of skin or eyes
    assert us("H314", "H335").wanted == {"GHS05", "GHS07"}


def test_environment_asks_for_nothing_in_the_us_and_may_stand_there() -> None:
    # OSHA does not cover hazards to the environment
    assert us("H410").words == {"", "Warning"}
    assert us("H410").wanted == set()
    assert "GHS09" in us("H319").allowed


def test_environment_has_its_mark_in_the_eu() -> None:
    # annex I, 4.1.4: H410 Warning, H411 no signal word, H412 neither word nor pictogram
    assert (eu("H410").words, eu("H410").wanted) == ({"Warning"}, {"GHS09"})
    assert (eu("H411").words, eu("H411").wanted) == ({""}, {"GHS09"})
    assert (eu("H412").words, eu("H412").wanted) == ({""}, set())


def test_category_that_is_not_written_leaves_both_words() -> None:
    # annex I, 2.13.3: H272 is Danger in category 2 and Warning in category 3
    assert us("H272").words == {"Danger", "Warning"}
    assert us("H272", "H314").words == {"Danger"}


def test_unknown_statement_lets_a_stronger_word_stand() -> None:
    assert us("H221", "H319").words == {"Danger", "Warning"}
    assert not us("H221").is_whole


def test_supplement_asks_for_nothing() -> None:
    assert us("EUH031").words == {""}
    assert us("EUH031").is_whole


def test_letters_behind_a_statement_do_not_matter() -> None:
    # H360FD and H350i are written so in the EU
    assert us("H360FD").wanted == {"GHS08"}
    assert us("H350i").words == {"Danger"}


def test_explosive_makes_flame_optional_in_the_eu() -> None:
    # Article 26(1)(a)
    assert eu("H200", "H225").wanted == {"GHS01"}
    assert us("H200", "H225").wanted == {"GHS01", "GHS02"}

"""What the words of a caution say of harm, what in it is a step, and where the rules on cautions draw their lines."""

import re
from collections.abc import Mapping
from datetime import date
from pathlib import Path

import pytest
from demo_book import overlaid, replace

from tankside.audit import RULES, audit_of
from tankside.audit.reading.caution_words import foreign_in_caution, foreign_on_label, heading_in, steps_in
from tankside.audit.reading.harm import is_property_alone, least_said
from tankside.checkup import read_book

BASE = Path(__file__).parent / "audited"
BLEND = "procedures/batch/blend-sample-batch.yaml"
RINSE = "procedures/cleaning/rinse-tank.yaml"
EQUIPMENT = "procedures/plant/equipment.yaml"
TAGS = ("V2", "P1", "G-V2", "hatch-250", "H200")

#: ANSI Z535: WARNING could kill or injure seriously, CAUTION slightly or moderately, NOTICE injures nobody
LEAST: Mapping[str, tuple[str, ...]] = {
    "warning": (
        "It burns eyes and skin and can blind.",
        "It burns the lungs and can kill.",
        "It burns eyes and skin deeply.",
        "It crushes and tears hands, and drags in sleeves and hair.",
        "Its coupling crushes fingers.",
        "Loss of sight within minutes.",
    ),
    "caution": (
        "It irritates eyes and skin.",
        "It bruises feet and strains backs.",
        "Dust burns the eyes.",
        "It splashes and burns whoever carries the bottle.",
        "It does not blind, but it irritates skin.",
    ),
    "notice": (
        "Its bearings run hot and break, and the line leaks.",
        "The motor burns out.",
        "The battery dies and the filter blinds.",
        "It strains back into the line.",
        "A fatal error stops the meter.",
        "It kills the pump.",
        "It splashes into the mouth of the bottle.",
    ),
}


@pytest.mark.parametrize(("word", "harm"), [(word, harm) for word, all_ in LEAST.items() for harm in all_])
def test_words_of_harm_ask_for_a_signal_word(word: str, harm: str) -> None:
    assert least_said(harm)[0] == word


@pytest.mark.parametrize("harm", ["The batch is spoiled.", "Its bearings run hot and break.", "The reading is wrong."])
def test_harm_to_equipment_or_product_alone_is_told(harm: str) -> None:
    assert is_property_alone(harm)


@pytest.mark.parametrize(
    "harm",
    [
        "The line bursts.",
        "The bottle breaks in a hand.",
        "The tank tips onto feet.",
        "The line sprays acid.",
        "It falls.",
    ],
)
def test_harm_that_may_be_to_people_is_left_alone(harm: str) -> None:
    assert not is_property_alone(harm)


@pytest.mark.requirement(number=15)
@pytest.mark.parametrize(
    ("text", "step"),
    [
        ("Open V2 slowly.", "Open V2 slowly"),
        ("Goggles on, shut the hatch first.", "shut the hatch first"),
        ("Shut hatch-250.", "Shut hatch-250"),
        ("The lid is hot. Add the rest.", "Add the rest"),
        ("Record the time.", "Record the time"),
        ("Then stop P1.", "Then stop P1"),
        ("Unscrew bungs slowly.", "Unscrew bungs slowly"),
    ],
)
def test_step_in_a_caution_is_found(text: str, step: str) -> None:
    assert list(steps_in(text, TAGS)) == [step]


@pytest.mark.requirement(number=15)
@pytest.mark.parametrize(
    "text",
    [
        "V2 shut, hatch clamped.",
        "Stand to the side, face shield down.",
        "Cover the eyes, turn the face aside.",
        "Cover your ears.",
        "Rinse that drips is strong.",
        "Open drums splash.",
        "Never open V2. Do not open V2. Move no drum.",
        "Stop of P1 within reach.",
        "Keep the lid on, wear goggles.",
    ],
)
def test_state_or_way_to_avoid_is_no_step(text: str) -> None:
    assert list(steps_in(text, TAGS)) == []


def test_signal_word_as_heading_is_told_from_the_word_in_a_sentence() -> None:
    assert heading_in("Caution: it is wet.") == "Caution:"
    assert heading_in("WARNING! It is wet.") == "WARNING!"
    assert heading_in("Danger stands on the label.") == ""
    assert heading_in("Notice boards hang at the door.") == ""


def test_word_of_a_label_in_a_caution_is_told_from_a_tag() -> None:
    assert foreign_in_caution("Mortal DANGER.", TAGS) == "DANGER"
    assert foreign_in_caution("It is H314.", TAGS) == "H314"
    assert foreign_in_caution("H200 is hot, the DANGER tag hangs on it.", TAGS) == ""


def test_label_has_two_signal_words_only() -> None:
    assert foreign_on_label("Waste, acid. Caution. Burns eyes.") == "Caution"
    assert foreign_on_label("Waste, acid. Danger. Burns eyes.") == ""
    assert foreign_on_label("Handle with caution when it is hot.") == ""


def found(book: Path, code: str) -> list[str]:
    read = read_book(book)
    assert read.rehearsal is not None, "\n".join(each.as_text() for each in read.problems)
    rules = [rule for rule in RULES if rule.code == code]
    return [each.found.message for each in audit_of(read.rehearsal, date(2026, 12, 1), rules).findings]


def test_notice_covers_no_exposure(tmp_path: Path) -> None:
    book = overlaid(BASE, tmp_path / "book")
    replace(book / BLEND, "  - caution: The concentrate", "  - notice: The concentrate")
    assert any("'weigh'" in each for each in found(book, "exposure-not-covered"))
    assert not any("'weigh'" in each for each in found(BASE, "exposure-not-covered"))


def test_pump_with_harmless_liquid_alone_needs_no_caution(tmp_path: Path) -> None:
    # The walls of the line may have sample cleaner on them, whose label says Danger. What has no label is harmless.
    book = overlaid(BASE, tmp_path / "book")
    assert any("'start-rest'" in each for each in found(book, "machine-not-covered"))
    materials = book / "procedures/plant/materials.yaml"
    text = re.sub(
        r" {4}signal_word: .+\n(?: {4}pictograms: .+\n)(?: {4}hazards:\n)(?: {6}.+\n)+",
        "",
        materials.read_text("utf-8"),
    )
    materials.write_text(text, encoding="utf-8", newline="\n")
    assert found(book, "machine-not-covered") == []


def test_valve_that_lets_out_into_a_closed_tank_needs_no_caution() -> None:
    opened = " ".join(found(BASE, "opening-not-covered"))
    assert "'open-v3-rest'" in opened
    assert "'open-v1'" not in opened


def test_one_caution_statement_to_three_steps_is_not_too_many(tmp_path: Path) -> None:
    book = overlaid(BASE, tmp_path / "book")
    one = "  - caution: The edge is sharp.\n    harm: It cuts skin.\n    avoid: Gloves on.\n    covers: [label-hold]\n"
    # 20 steps and one caution: 6 statements are less than a third, 7 are more.
    replace(book / BLEND, "  - section: water-in\n", f"{one * 5}  - section: water-in\n")
    assert found(book, "wallpaper") == []
    replace(book / BLEND, "  - section: mix\n", f"{one}  - section: mix\n")
    assert found(book, "wallpaper") == ["'blend-sample-batch' has 7 caution statements for 20 steps"]

"""The same book on other days: what goes out of date in the demo, and on which day it is said.

The days are worked out by hand from the dates in procedures/plant and in the procedures: everything takes effect on
2026-11-25 or a few days later and is reviewed a year after; data sheets are of 2026-09-01; see CALIBRATED for the rest.
"""

from datetime import date
from pathlib import Path

import pytest
from demo_book import ROOT

from tankside.audit import RULES, Audit, Family, Weight, audit_of
from tankside.checkup import read_book
from tankside.plant.rehearsal import Rehearsal

WRITTEN = frozenset(
    path.stem
    for path in (*ROOT.glob("procedures/*/*.yaml"), *ROOT.glob("checklists/*.yaml"))
    if path.parent.name != "plant"
)
FEBRUARY = (
    {"G1", "T1", "conductivity-meter", "hand-thermometer", "chlorine-kit"}
    | {"D-hydrometer", "D-thermometer"}
    | {"G-T1", "G-hydrometer", "G-thermometer"}
)
MAY = {"floor-scale", "bench-scale", "bottle-scale", "D-scale", "G-scale"}
JUNE = {"meter-1", "D-meter", "G-meter"}
#: `calibration_due` -> tags
CALIBRATED = {"2027-02-28": FEBRUARY, "2027-05-31": MAY, "2027-06-30": JUNE}
#: every raw material and product, and every waste with hazards
WITH_SHEET = (
    {"potassium-hydroxide-solution", "scale-inhibitor", "hypochlorite-solution", "milk-line-cleaner"}
    | {"wash-solution", "rinse-water", "waste-alkaline-bleach"}
    | {"citric-acid", "lactic-acid-solution", "acid-descaler", "waste-acid"}
    | {"glycol-ether", "sugar-surfactant", "grill-degreaser", "waste-degreaser"}
)
UPKEEP = tuple(rule for rule in RULES if rule.family is Family.UPKEEP)
#: day -> code -> what it is about
FOUND = {
    # The sheets are of the next day, and nothing is in force.
    "2026-08-31": {"data-sheet-future": WITH_SHEET, "effective-later": WRITTEN},
    "2026-09-01": {"effective-later": WRITTEN},
    "2026-11-24": {"effective-later": WRITTEN},
    "2026-12-01": {},
    # 31 days before 28 February, then 30, then the last day on which the instruments count, then that day itself.
    "2027-01-28": {},
    "2027-01-29": {"calibration-soon": FEBRUARY},
    "2027-02-27": {"calibration-soon": FEBRUARY},
    "2027-02-28": {"calibration-due": FEBRUARY},
    "2027-04-30": {"calibration-due": FEBRUARY},
    "2027-05-01": {"calibration-due": FEBRUARY, "calibration-soon": MAY},
    "2027-05-31": {"calibration-due": FEBRUARY | MAY, "calibration-soon": JUNE},
    "2027-06-30": {"calibration-due": FEBRUARY | MAY | JUNE},
    # 31 days before the first review, then the day of it: whoever is reviewed later is within 30 days, too.
    "2027-10-25": {"calibration-due": FEBRUARY | MAY | JUNE},
    "2027-11-25": {"calibration-due": FEBRUARY | MAY | JUNE, "review-soon": WRITTEN},
    # A year after the first audit every review has passed.
    "2027-12-01": {"calibration-due": FEBRUARY | MAY | JUNE, "review-overdue": WRITTEN},
    # Three years after the data sheets, and the day after.
    "2029-09-01": {"calibration-due": FEBRUARY | MAY | JUNE, "review-overdue": WRITTEN},
    "2029-09-02": {
        "calibration-due": FEBRUARY | MAY | JUNE,
        "review-overdue": WRITTEN,
        "data-sheet-old": WITH_SHEET,
    },
}
MUST = {"calibration-due", "effective-later", "review-overdue"}


@pytest.fixture(scope="module")
def demo() -> Rehearsal:
    return rehearsed(ROOT)


def rehearsed(book: Path) -> Rehearsal:
    read = read_book(book)
    assert read.rehearsal is not None, "\n".join(each.as_text() for each in read.problems)
    return read.rehearsal


def audited(demo: Rehearsal, day: str) -> Audit:
    return audit_of(demo, date.fromisoformat(day), UPKEEP)


@pytest.mark.parametrize("day", FOUND)
def test_what_is_out_of_date_on_a_day_is_found_and_nothing_else(demo: Rehearsal, day: str) -> None:
    found: dict[str, set[str]] = {}
    for each in audited(demo, day).findings:
        found.setdefault(each.rule.code, set()).add(each.found.at)
        assert (each.weight is Weight.MUST) == (each.rule.code in MUST)
    assert found == FOUND[day]


@pytest.mark.parametrize("day", FOUND)
def test_procedure_that_is_out_of_date_is_no_longer_for_use_and_an_instrument_stamps_none(
    demo: Rehearsal, day: str
) -> None:
    stamped = {"effective-later", "review-overdue"} & FOUND[day].keys()
    assert audited(demo, day).drafts.keys() == (WRITTEN if stamped else frozenset())


def test_procedure_certified_366_days_ago_is_out_of_date_and_365_days_ago_is_not(demo: Rehearsal) -> None:
    # 29 CFR 1910.119(f)(3): each year. Of 2026-11-25, to be reviewed a year later; 2027-11-26 is 366 days after.
    overdue = {
        day: "two-sides" in {each.found.at for each in audited(demo, day).findings if each.weight is Weight.MUST}
        for day in ("2027-11-25", "2027-11-26")
    }
    assert overdue == {"2027-11-25": False, "2027-11-26": True}


def test_each_day_of_calibration_is_that_of_the_book() -> None:
    equipment = (ROOT / "procedures/plant/equipment.yaml").read_text(encoding="utf-8")
    assert {day: equipment.count(f"calibration_due: {day}") for day in CALIBRATED} == {
        day: len(tags) for day, tags in CALIBRATED.items()
    }
    assert equipment.count("calibration_due: ") == sum(map(len, CALIBRATED.values()))

"""A published accident rebuilt: the dry run refutes what released chlorine, though the floor was rinsed between.

MMWR 1991, http://www.cdc.gov/mmwr/preview/mmwrhtml/00015111.htm: five releases of chlorine in two hospitals, at least
14 people ill, from a floor cleaner with 4 % phosphoric acid and thinned bleach; once after the floor had been rinsed
between the two, in a room whose exhaust was out of order.
"""

import shutil
from collections.abc import Sequence
from pathlib import Path

import pytest
from demo_book import replace

from tankside.checkup import check_book
from tankside.problems import Problem

ACCIDENT = Path(__file__).parent / "mmwr"
PROCEDURE = "procedures/cleaning/clean-floor.yaml"
EQUIPMENT = "procedures/plant/equipment.yaml"
RINSE = """\
  - section: rinse
    title: Rinse
  - move: water
    step: rinse-it
    path: [water-bucket, floor]
    amount: 5 L
"""
DISINFECT = """\
  - section: disinfect
    title: Disinfect
  - move: diluted-bleach
    step: disinfect-it
    path: [bleach-bucket, floor]
    amount: 2 L
"""
EXHAUST_PROVED = """\
  - start: exhaust-fan
  - do: Hold a strip of paper at the fan and see it pulled in.
    step: prove-fan
    leaves:
      - exhaust-fan proved
"""


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return Path(shutil.copytree(ACCIDENT, tmp_path / "book"))


def problems(book: Path) -> tuple[Problem, ...]:
    return check_book(book).problems


def line_of(book: Path, path: str, text: str) -> int:
    lines = (book / path).read_text(encoding="utf-8").splitlines()
    (found,) = [number for number, line in enumerate(lines, 1) if line == text]
    return found


def with_code(found: Sequence[Problem], code: str) -> Problem:
    (problem,) = [each for each in found if each.code == code]
    return problem


def assert_chlorine(book: Path, found: Sequence[Problem]) -> None:
    met = with_code(found, "never-meet")
    assert (met.span.path, met.span.line) == (PROCEDURE, line_of(book, PROCEDURE, "  - move: diluted-bleach"))
    assert "'acid-cleaner'" in met.message
    assert "'floor'" in met.message
    assert "chlorine gas" in met.message


def test_bleach_after_acid_is_refuted_though_it_was_rinsed_between(book: Path) -> None:
    found = problems(book)
    assert_chlorine(book, found)
    assert "what is left of 'acid-cleaner'" in with_code(found, "never-meet").message


def test_bleach_after_acid_is_refuted_without_a_rinse(book: Path) -> None:
    replace(book / PROCEDURE, RINSE, "")
    assert_chlorine(book, problems(book))


def test_acid_after_bleach_is_refuted_as_well(book: Path) -> None:
    replace(book / PROCEDURE, DISINFECT, "")
    replace(book / PROCEDURE, "  - move: acid-cleaner\n", f"{DISINFECT}  - move: acid-cleaner\n")
    met = with_code(problems(book), "never-meet")
    assert met.span.line == line_of(book, PROCEDURE, "  - move: acid-cleaner")
    assert "chlorine gas" in met.message


@pytest.mark.parametrize("count", [2, 20])
def test_no_number_of_rinses_is_enough(book: Path, count: int) -> None:
    rinse = RINSE.replace("amount: 5 L", "amount: 0.2 L")
    replace(book / PROCEDURE, RINSE, "".join(rinse.replace("rinse", f"rinse-{each}") for each in range(count)))
    found = problems(book)
    assert_chlorine(book, found)
    assert "runs-dry" not in {each.code for each in found}


def test_exhaust_that_nobody_has_proved_is_named(book: Path) -> None:
    air = with_code(problems(book), "air-not-proved")
    assert air.span.line == line_of(book, PROCEDURE, "  - move: diluted-bleach")
    assert "'exhaust-fan'" in air.message


@pytest.mark.parametrize(
    "exhaust",
    [
        "  - start: exhaust-fan\n",
        f"{EXHAUST_PROVED}  - stop: exhaust-fan\n",
        f"{EXHAUST_PROVED}  - stop: exhaust-fan\n  - start: exhaust-fan\n    step: start-again\n",
    ],
    ids=["only runs", "stopped again", "stopped and started again"],
)
def test_exhaust_that_runs_or_has_run_is_not_proved(book: Path, exhaust: str) -> None:
    replace(book / PROCEDURE, "steps:\n", f"steps:\n{exhaust}")
    assert "'exhaust-fan'" in with_code(problems(book), "air-not-proved").message


def test_exhaust_that_was_proved_takes_the_word_about_air_away_and_not_the_chlorine(book: Path) -> None:
    replace(book / PROCEDURE, "steps:\n", f"steps:\n{EXHAUST_PROVED}")
    found = problems(book)
    assert [each.code for each in found if each.code == "air-not-proved"] == []
    assert_chlorine(book, found)


def test_floor_is_named_as_shared(book: Path) -> None:
    shared = with_code(problems(book), "shared-part")
    assert (shared.span.path, shared.span.line) == (EQUIPMENT, line_of(book, EQUIPMENT, "  floor:"))
    assert "'clean-it'" in shared.message
    assert "'disinfect-it'" in shared.message


def test_nothing_else_is_said(book: Path) -> None:
    assert sorted(each.code for each in problems(book)) == ["air-not-proved", "never-meet", "shared-part"]


def test_without_the_bleach_it_is_sound(book: Path) -> None:
    replace(book / PROCEDURE, DISINFECT, "")
    assert problems(book) == ()


def test_without_the_acid_and_with_air_proved_it_is_sound(book: Path) -> None:
    acid = "  - move: acid-cleaner\n    step: clean-it\n    path: [acid-bucket, floor]\n    amount: 2 L\n"
    replace(book / PROCEDURE, acid, "")
    replace(book / PROCEDURE, "steps:\n", f"steps:\n{EXHAUST_PROVED}")
    assert problems(book) == ()

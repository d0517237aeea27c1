"""Under a memory only what changed is rehearsed again, and what is remembered is what a new rehearsal would give."""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from demo_book import copy_book, replace

from tankside.checkup import check_book
from tankside.memory import Memory
from tankside.model.procedures import Procedure
from tankside.plant.running import Rehearsing, Run
from tankside.plant.state import State

BASE = Path(__file__).parent / "base"
FLUSH = "procedures/filling/flush.yaml"
BLEED = "procedures/filling/bleed-cleaner-line.yaml"


@pytest.fixture
def ran(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The procedures that have been carried through since the test began."""
    names: list[str] = []
    original = Rehearsing.run

    def noting(self: Rehearsing, procedure: Procedure, starts: tuple[State, ...], *more: object) -> Run:
        names.append(str(procedure.procedure))
        return original(self, procedure, starts, *more)  # type: ignore[arg-type]

    monkeypatch.setattr(Rehearsing, "run", noting)
    return names


@pytest.fixture
def checked(ran: list[str]) -> Iterator[Callable[[Path], list[str]]]:
    """Check a book again within one memory, and say what was rehearsed for it."""
    memory = Memory()

    def check(book: Path) -> list[str]:
        ran.clear()
        with memory.in_use():
            assert check_book(book).is_sound
        memory.forget_unasked()
        return list(ran)

    return check


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return Path(shutil.copytree(BASE, tmp_path / "book"))


def test_nothing_is_rehearsed_again_while_nothing_changes(book: Path, checked: Callable[[Path], list[str]]) -> None:
    assert sorted(checked(book)) == ["blend", "flush"]
    assert checked(book) == []
    assert checked(book) == []


def test_only_the_procedure_that_was_edited_is_rehearsed_again(
    book: Path, checked: Callable[[Path], list[str]]
) -> None:
    checked(book)
    replace(book / FLUSH, "purpose: Rinse water", "purpose: Old rinse water")
    assert checked(book) == ["flush"]


def test_fact_of_the_plant_has_everything_rehearsed_again(book: Path, checked: Callable[[Path], list[str]]) -> None:
    checked(book)
    replace(book / "procedures/plant/equipment.yaml", "capacity: 100 L", "capacity: 101 L")
    assert sorted(checked(book)) == ["blend", "flush"]


def test_text_of_one_procedure_leaves_the_rest_of_its_day_as_it_was(
    tmp_path: Path, checked: Callable[[Path], list[str]]
) -> None:
    demo = copy_book(tmp_path / "demo")
    whole = checked(demo)
    replace(demo / BLEED, "purpose: ", "purpose: Edited. ")
    again = checked(demo)
    # By itself, in its day, and those that may send to it; what comes after it in the day begins as it did before.
    assert again.count("bleed-cleaner-line") == whole.count("bleed-cleaner-line")
    assert "end-of-day" in whole
    assert "end-of-day" not in again
    assert len(again) < len(whole) // 4


def test_remembered_findings_are_those_of_a_rehearsal_from_nothing(book: Path) -> None:
    memory = Memory()
    with memory.in_use():
        assert check_book(book).problems == ()
    replace(book / FLUSH, "  - open: V1\n", "")
    with memory.in_use():
        remembered = check_book(book).problems
    assert [each.code for each in remembered] == ["path-shut"]
    assert remembered == check_book(book).problems
    replace(book / FLUSH, "  - move: descaler", "  - open: V1\n  - move: descaler")
    with memory.in_use():
        assert check_book(book).problems == ()

"""Over the whole book: a part that two materials share although each needs equipment of its own is found."""

import shutil
from pathlib import Path

import pytest
from demo_book import replace

from tankside.checkup import check_book, read_book
from tankside.plant.everywhere import arrivals

BASE = Path(__file__).parent / "base"
EQUIPMENT = "procedures/plant/equipment.yaml"
FLUSH = "procedures/filling/flush.yaml"
BUCKET = "    name: Rinse bucket\n"


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return Path(shutil.copytree(BASE, tmp_path / "book"))


def shared(book: Path) -> list[str]:
    return [f"{each.span}: {each.message}" for each in check_book(book).problems if each.code == "shared-part"]


def place(book: Path, text: str) -> str:
    """Return the only place where a text stands in the file of the equipment."""
    before, found, _ = (book / EQUIPMENT).read_text(encoding="utf-8").partition(text)
    assert found
    lines = before.split("\n")
    return f"{EQUIPMENT}:{len(lines)}:{len(lines[-1]) + 1}"


def test_part_that_is_meant_for_both_is_found_at_the_second_of_the_two(book: Path) -> None:
    replace(book / EQUIPMENT, BUCKET, f"{BUCKET}    holds: [water, acid, bleach]\n")
    said = "'bucket-1' is shared: it is meant for 'acid', it is meant for 'bleach': chlorine gas burns the lungs"
    assert shared(book) == [f"{place(book, 'bleach]')}: {said}"]


def test_part_that_is_meant_for_one_and_gets_the_other_is_found(book: Path) -> None:
    # The pail of the filling line, into which 'flush' runs descaler, of the acids.
    replace(book / EQUIPMENT, "    name: Waste pail\n", "    name: Waste pail\n    holds: [bleach]\n")
    said = "it is meant for 'bleach', 'flush' brings 'descaler' into it at 'move-descaler'"
    assert shared(book) == [f"{place(book, 'bleach]')}: 'pail-1' is shared: {said}: chlorine gas burns the lungs"]


def test_pair_that_may_meet_shares_what_it_likes(book: Path) -> None:
    replace(book / EQUIPMENT, BUCKET, f"{BUCKET}    holds: [water, acid, descaler]\n")
    assert shared(book) == []


def test_what_comes_where_is_what_the_paths_of_the_book_say(book: Path) -> None:
    rehearsal = read_book(book).rehearsal
    assert rehearsal is not None
    # 'flush' moves descaler along [tank-1, V1, line-1, pail-1]; 'blend' pours acid into tank-1, of which nothing is
    # known before: what was only thought possible there is not counted as brought.
    assert arrivals(rehearsal.all()) == {
        ("tank-1", "acid"): ("blend", "add-acid"),
        **{(tag, "descaler"): ("flush", "move-descaler") for tag in ("tank-1", "V1", "line-1", "pail-1")},
    }

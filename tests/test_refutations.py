"""The dry run refutes what it must: each breakage of the demo book is found, with its code, where it is done."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from breakages import ALL, GROUPS, Breakage
from breakages.breakage import line_of
from demo_book import copy_book, replace

from tankside.checkup import check_book, read_book
from tankside.memory import Memory
from tankside.plant.rehearsal import as_problem
from tankside.problems import Problem, Severity


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A copy of the demo book; what has not been changed in it is read and rehearsed once."""
    book = copy_book(tmp_path_factory.mktemp("broken") / "book")
    with Memory().in_use():
        check_book(book)
        yield book


@pytest.fixture
def book(demo: Path, breakage: Breakage) -> Iterator[Path]:
    """The demo book with one breakage in it."""
    path = demo / breakage.path
    whole = path.read_bytes()
    replace(path, breakage.old, breakage.new)
    yield demo
    path.write_bytes(whole)


def found(book: Path, place: str) -> Iterator[Problem]:
    """Return what `check_book` finds at a file, as it does, without the rehearsals that say nothing of that file."""
    read = read_book(book)
    yield from read.problems
    if read.rehearsal is None or read.book is None:
        return
    rehearsed = {procedure.span.path: name for name, procedure in read.book.procedures.items()}
    if place in rehearsed:
        yield from map(as_problem, read.rehearsal.of(rehearsed[place]).findings)
    else:
        yield from read.rehearsal.problems()


def test_unbroken_book_gives_nothing(demo: Path) -> None:
    assert check_book(demo).problems == ()


@pytest.mark.parametrize("breakage", ALL, ids=lambda breakage: breakage.what.replace(" ", "-"))
def test_breakage_is_refuted_where_it_is_done(book: Path, breakage: Breakage) -> None:
    place = breakage.at_path or breakage.path
    line = line_of((book / place).read_text(encoding="utf-8"), breakage.at)
    here = [each for each in found(book, place) if (each.span.path, each.span.line) == (place, line)]
    assert {each.code for each in here} == set(breakage.codes.split())
    assert {each.severity for each in here} == {Severity.ERROR}
    first = breakage.codes.split()[0]
    assert any(breakage.says in each.message for each in here if each.code == first)


@pytest.mark.parametrize(
    "breakage", [group[0] for group in GROUPS], ids=lambda breakage: breakage.what.replace(" ", "-")
)
def test_whole_check_says_the_same(book: Path, breakage: Breakage) -> None:
    assert set(found(book, breakage.at_path or breakage.path)) <= set(check_book(book).problems)


def test_each_breakage_is_another_one() -> None:
    assert len(ALL) >= 60
    assert len({(each.path, each.old, each.new) for each in ALL}) == len(ALL)

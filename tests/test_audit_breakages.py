"""The audit is tested by breaking the demo book: each breakage is found by the rule that must find it, where it is.

Some breakages of each rule are tried here. `tests/caught.py` tries all of them, and prints how many are caught.
"""

from collections.abc import Iterator
from pathlib import Path

import pytest
from audit_breakages import BREAKAGES, HARMLESS, Breakage, Harmless
from audit_breakages.judging import Same, findings, is_caught, raised
from demo_book import copy_book

from tankside.audit import RULES
from tankside.memory import Memory


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A copy of the demo book; what a breakage does not touch is read and rehearsed once."""
    book = copy_book(tmp_path_factory.mktemp("audited") / "book")
    with Memory().in_use():
        yield book


@pytest.fixture(scope="module")
def known(demo: Path) -> set[Same]:
    """What is found in the demo book as it is."""
    return {each.same for each in findings(demo)}


def named(pair: tuple[str, Breakage | Harmless]) -> str:
    family, each = pair
    return f"{family}: {each.what}".replace(" ", "-")


def some() -> Iterator[tuple[str, Breakage]]:
    """Return breakages of each rule: the first and the last that are listed, and one between them."""
    by_rule: dict[str, list[tuple[str, Breakage]]] = {}
    for pair in BREAKAGES:
        by_rule.setdefault(pair[1].code, []).append(pair)
    for pairs in by_rule.values():
        yield from (pairs[at] for at in sorted({0, len(pairs) // 2, len(pairs) - 1}))


SOME = tuple(some())


@pytest.mark.parametrize("pair", SOME, ids=named)
def test_breakage_is_found_by_the_rule_that_must_find_it(
    demo: Path, known: set[Same], pair: tuple[str, Breakage]
) -> None:
    assert is_caught(demo, pair[1], known)


@pytest.mark.parametrize("pair", HARMLESS, ids=named)
def test_harmless_change_raises_nothing(demo: Path, known: set[Same], pair: tuple[str, Harmless]) -> None:
    assert raised(demo, pair[1], known) == []


def test_there_are_as_many_as_were_asked_for() -> None:
    assert len({(each.path, each.old, each.new) for _, each in SOME}) >= 150
    assert len(HARMLESS) >= 50


def test_every_rule_is_broken() -> None:
    assert {rule.code for rule in RULES} == {each.code for _, each in BREAKAGES}

"""Python and the page answer the same, to the last digit and letter, whatever they are asked."""

from collections.abc import Iterator
from itertools import chain

import pytest
from demo_book import ROOT
from evaluator_page import evaluator_page
from playwright.sync_api import Browser, Page
from random_folds import Course, compared_folds, random_courses
from random_inputs import compared
from random_readings import compared_readings

from tankside.checkup import check_book
from tankside.plant.portable import read_effect, read_rules
from tankside.plant.pressure import settled
from tankside.plant.setting import setting_of
from tankside.quantities.registry import HELPERS

#: of these, and of 100,000 with benchmark/agreement.py
INPUTS = 20_000
TEXTS = 5_000
COURSES = 400
SEED = 20261125


@pytest.fixture(scope="module")
def page(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Page]:
    found = evaluator_page(browser, tmp_path_factory.mktemp("evaluator"))
    yield found
    found.close()


def test_page_works_every_helper_out_as_python_does(page: Page, capsys: pytest.CaptureFixture[str]) -> None:
    tally = compared(page, INPUTS, SEED)
    with capsys.disabled():
        print(f"\n{tally}")
    assert tally.differences == []
    assert tally.inputs == INPUTS
    assert {helper for helper, _ in tally.forms} == set(HELPERS)
    # It is about results, irrational ones too, and about refusals.
    assert tally.results > INPUTS / 2
    assert tally.irrational > INPUTS / 50
    assert tally.refusals > INPUTS / 50


def test_page_reads_what_is_typed_as_python_does(page: Page, capsys: pytest.CaptureFixture[str]) -> None:
    assert compared_readings(page, TEXTS, SEED) == []
    with capsys.disabled():
        print(f"\n{TEXTS:,} texts read alike")


def test_page_folds_effects_as_python_does(page: Page, capsys: pytest.CaptureFixture[str]) -> None:
    assert compared_folds(page, random_courses(COURSES, SEED)) == []
    with capsys.disabled():
        print(f"\n{COURSES:,} courses of effects folded alike")


def test_page_folds_each_procedure_of_the_demo_book_as_python_does(page: Page) -> None:
    checked = check_book(ROOT)
    assert checked.book is not None
    setting = setting_of(checked.book.plant)
    start = settled(setting.rules.pressure, setting.at_rest)
    courses = [
        Course(read_rules(each.fold_rules), start, tuple(map(read_effect, chain(*each.effects.values()))))
        for each in checked.editions.values()
        if each.effects
    ]
    assert len(courses) > 10
    assert compared_folds(page, courses) == []


def test_comparison_notices_a_wrong_last_digit(page: Page) -> None:
    broken = """() => {
      const {decimalText} = tankside;
      tankside.decimalText = {...decimalText, decimalText: (value) => decimalText.decimalText(value) + '0'};
    }"""
    page.reload()
    page.evaluate(broken)
    assert len(compared(page, 100, SEED).differences) > 50
    assert len(compared_readings(page, 100, SEED)) > 20
    page.reload()


def test_comparison_notices_a_volume_that_is_a_little_off(page: Page) -> None:
    broken = """() => {
      const {folded} = tankside.fold;
      const off = (state) => JSON.parse(JSON.stringify(state).replace(/1000000"/g, '1000001"'));
      tankside.fold = {folded: (...given) => off(folded(...given))};
    }"""
    page.reload()
    page.evaluate(broken)
    assert len(compared_folds(page, random_courses(20, SEED))) > 20
    page.reload()

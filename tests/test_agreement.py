"""Python and the page answer the same, to the last digit and letter, whatever they are asked."""

from collections.abc import Iterator

import pytest
from evaluator_page import evaluator_page
from playwright.sync_api import Browser, Page
from random_inputs import compared
from random_readings import compared_readings

from tankside.quantities.registry import HELPERS

#: of these, and of 100,000 with benchmark/agreement.py
INPUTS = 20_000
TEXTS = 5_000
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

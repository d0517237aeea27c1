"""The scripts that work something out in a page: classic, strict, without made code, one unit table."""

import json
import re
from fractions import Fraction
from pathlib import Path

import pytest
from evaluator_page import BOARD, COPY, FOLD, PAPER, SCRIPTS, evaluator_page
from playwright.sync_api import Browser

from tankside.checkup import check_book
from tankside.quantities.evaluate import evaluate
from tankside.quantities.expression import fewest, to_json
from tankside.render_site.scripts import LIVE_AMOUNTS, TRAINING, UNIT_TABLE, unit_table_script

ROOT = Path(__file__).parent.parent
#: what shows the board
SHOWN = ("board-words.js", "board-list.js", "board-diagram.js", "board-page.js")
#: what says how competence stands, on its own pages and before a start
TRAINED = (*(name for name in TRAINING if name.startswith("training-")), "work-trained.js")
AMOUNTS = tuple(Path(address).name for address in LIVE_AMOUNTS if not address.endswith(UNIT_TABLE))
OURS = (*AMOUNTS, *FOLD, *COPY, *PAPER, *BOARD, *SHOWN, *TRAINED)
#: what makes code of text, loads a module, asks elsewhere, or keeps something
UNWANTED = re.compile(r"\beval\b|\bFunction\b|\bimport\b|\bexport\b|\bfetch\b|XMLHttpRequest|https?:|\w+Storage\b")


@pytest.mark.parametrize("name", OURS)
def test_script_is_classic_and_strict_and_makes_no_code(name: str) -> None:
    text = (SCRIPTS / name).read_text(encoding="utf-8")
    assert text.startswith("'use strict';\n")
    assert UNWANTED.findall(text) == []
    assert len(text.splitlines()) <= 250


def test_unwanted_is_noticed() -> None:
    text = "import x; eval(y); new Function(z); fetch('http://elsewhere'); localStorage.a = sessionStorage.b"
    assert len(UNWANTED.findall(text)) == 7


def test_unit_table_of_the_page_is_that_of_python() -> None:
    table = (ROOT / "tools/tankside/units.json").read_text(encoding="utf-8")
    _, _, said = unit_table_script().partition("unitTable = ")
    assert json.loads(said.rstrip().removesuffix(";")) == json.loads(table)


def test_evaluator_puts_one_name_into_the_page(browser: Browser, tmp_path: Path) -> None:
    empty = tmp_path / "empty.html"
    empty.write_text("<!doctype html><title>Empty</title>", encoding="utf-8", newline="\n")
    plain = browser.new_page()
    plain.goto(empty.as_uri())
    before = set(plain.evaluate("Object.getOwnPropertyNames(window)"))
    plain.close()
    page = evaluator_page(browser, tmp_path)
    added = set(page.evaluate("Object.getOwnPropertyNames(window)")) - before
    page.close()
    assert added == {"tankside"}


EVALUATE = """(tree) => {
  try {
    return tankside.decimalText.decimalText(tankside.evaluation.evaluate(tree, new Map()));
  } catch (error) {
    return error.name;
  }
}"""


def test_count_that_would_take_hours_is_given_up_on_both_sides(browser: Browser, tmp_path: Path) -> None:
    # ln 0.5 / ln 0.999 = 692.8; ln 0.5 / ln 0.9999 = 6931.1
    near, far = (fewest(Fraction(base), Fraction("0.5")) for base in ("0.999", "0.9999"))
    assert evaluate(near, {}) == 693
    with pytest.raises(ValueError, match=r"power 1000 of 9999/10000 has not come down to 1/2"):
        evaluate(far, {})
    page = evaluator_page(browser, tmp_path)
    assert [page.evaluate(EVALUATE, to_json(tree)) for tree in (near, far)] == ["693", "RangeError"]
    page.close()


def test_what_the_page_is_told_changes_no_hash() -> None:
    edition = check_book(ROOT / "tests" / "base").editions["blend"]
    assert edition.amounts["acid"].live["form"]["ranges"][0]["name"] == "make"
    assert "ranges" not in edition.canonical
    assert '"live"' not in edition.canonical

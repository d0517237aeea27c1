"""Amounts in questions: the right ones by hand from the facts of the book, the wrong ones by the mistake they name.

Recipe shares, densities, sizes and graduations stand in procedures/plant. The sums beside the numbers are by hand.
"""

import re
import shutil
from fractions import Fraction
from pathlib import Path

import pytest
import yaml
from asked_questions import asked, checked, every_question, faults, subject
from demo_book import ROOT, replace

from tankside.checkup import check_book
from tankside.views.training.question import Question
from tankside.views.training.questions.amounts import amount_questions

BASE = Path(__file__).parent / "base"
FLUSH = "procedures/filling/flush.yaml"
#: (procedure, question) -> what is right
RIGHT = {
    # 200 L * 1.06 kg/L * 10 %
    ("blend-milk-line-cleaner", "alkali.amount"): "21.2 kg",
    # 200 L * 1.06 kg/L * 15 %
    ("blend-milk-line-cleaner", "hypochlorite.amount"): "31.8 kg",
    # 200 L * 1.06 kg/L * 2 %
    ("blend-milk-line-cleaner", "inhibitor.amount"): "4.24 kg",
    # 50 L * 1.06 kg/L * 12 %
    ("blend-descaler", "citric.amount"): "6.36 kg",
    # 50 L * 1.06 kg/L * 6 %
    ("blend-descaler", "lactic.amount"): "3.18 kg",
    # 50 L * 1.06 kg/L * 82 % / 0.9982 kg/L = 43.538 L, in steps of 0.1 L
    ("blend-descaler", "water.amount"): "43.5 L",
    # 60 L * 1.05 kg/L * 10 %
    ("blend-degreaser", "alkali.amount"): "6.3 kg",
    # 60 L * 1.05 kg/L * 7 % = 4.41 kg, in steps of 0.02 kg, a half goes up
    ("blend-degreaser", "solvent.amount"): "4.42 kg",
    # 60 L * 1.05 kg/L * 5 % = 3.15 kg, in steps of 0.02 kg, a half goes up
    ("blend-degreaser", "surfactant.amount"): "3.16 kg",
    # 5 L * 1.06 kg/L
    ("fill-cleaner-bottles", "fill-to.amount"): "5.3 kg",
    # 30 L * 2 %
    ("clean-mixing-tank", "wash-cleaner.amount"): "0.6 L",
    # 30 L - 0.6 L = 29.4 L, in steps of 0.5 L
    ("clean-mixing-tank", "wash-water.amount"): "29.5 L",
    # pi/4 * (2.72 cm)^2 * 400 cm + pi/4 * (1.9 cm)^2 * 200 cm + 0.8 L = 3.6914 L
    # 3.6914 L * ln 20 (2.9957) = 11.06 L, up to 0.5 L
    ("bleed-cleaner-line", "most-to-run.amount"): "11.5 L",
    # pi/4 * (1.3 cm)^2 * 250 cm + 0.2 L = 0.5318 L; * ln 20 = 1.593 L, up to 0.5 L
    ("bleed-descaler-line", "most-to-run.amount"): "2 L",
}
#: (procedure, question, what the reason begins with) -> what that mistake comes to
WRONG = {
    # 200 L counted as 200 kg, * 15 %
    ("blend-milk-line-cleaner", "hypochlorite.amount", "That counts a litre"): "30 kg",
    # 40 L * 1.06 kg/L * 12 % = 5.088 kg, in steps of 0.005 kg
    ("blend-descaler", "citric.amount", "That is for 40 L"): "5.09 kg",
    # 50 L * 1.05 kg/L * 5 % * 50/60 = 2.1875 kg, in steps of 0.02 kg
    ("blend-degreaser", "surfactant.amount", "That goes down"): "2.18 kg",
    # 5 L / 1.06 kg/L = 4.71698, up to 0.001 kg
    ("fill-cleaner-bottles", "fill-to.amount", "That divides"): "4.717 kg",
    # 3.6914 L once, up to 0.5 L
    ("bleed-cleaner-line", "most-to-run.amount", "That is what the line holds, once"): "4 L",
    # 3.6914 L twice = 7.383 L, up to 0.5 L
    ("bleed-cleaner-line", "most-to-run.amount", "That is what the line holds, twice"): "7.5 L",
}
AMOUNTS = [(name, each) for name, each in every_question() if each.kind == "amounts"]


def question(name: str, own: str) -> Question:
    return next(each for each in amount_questions(subject(checked(), name)) if each.id == own)


@pytest.mark.parametrize(("name", "own"), RIGHT)
def test_right_amount_is_that_worked_out_by_hand(name: str, own: str) -> None:
    assert question(name, own).right.says == RIGHT[name, own]


@pytest.mark.parametrize(("name", "own", "why"), WRONG)
def test_wrong_amount_is_what_the_mistake_comes_to(name: str, own: str, why: str) -> None:
    found = [each.says for each in question(name, own).choices if each.why.startswith(why)]
    assert found == [WRONG[name, own, why]]


def number(says: str) -> Fraction:
    """Return the number in a text such as "about 5.3 kg"."""
    found = re.search(r"[0-9.]+", says)
    assert found is not None
    return Fraction(found[0])


@pytest.mark.parametrize(("name", "asked_for"), AMOUNTS, ids=[f"{name}:{each.id}" for name, each in AMOUNTS])
def test_no_wrong_amount_would_be_within_the_tolerance(name: str, asked_for: Question) -> None:
    path = next((ROOT / "procedures").glob(f"*/{name}.yaml"))
    amounts = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)["amounts"]
    tolerance, unit = amounts[asked_for.id.removesuffix(".amount")]["tolerance"].split(" ")
    right = asked_for.right.says
    for choice in asked_for.choices:
        assert choice.says.endswith(f" {unit}")
        assert choice.is_right or abs(number(choice.says) - number(right)) > Fraction(tolerance)


def test_amount_that_follows_the_input_is_asked_for_another_size_than_the_usual() -> None:
    sized = [each for _, each in AMOUNTS if " for " in each.asks]
    assert len(sized) > 8
    usual = {"blend-milk-line-cleaner": "150 L", "blend-descaler": "40 L", "blend-degreaser": "50 L"}
    for name, each in AMOUNTS:
        assert name not in usual or not each.asks.endswith(f"for {usual[name]}?")


def test_every_amount_of_the_procedures_with_an_input_can_be_asked() -> None:
    book = checked().book
    assert book is not None
    for name, procedure in book.procedures.items():
        if procedure.inputs:
            made = {each.id for each in amount_questions(subject(checked(), name))}
            assert made == {f"{amount}.amount" for amount in procedure.amounts}
    assert any(each.kind == "amounts" for each in asked()["fill-by-hand"])


#: amounts that the demonstration book has no use for, put into the base book
SMALL = """\
  drain:
    title: Time to drain
    calculate: drain-time
    with:
      tank_area: 0.28 m2
      outlet_area: 3 cm2
      level_from: 80 cm
      level_to: 20 cm
  stock:
    title: Stock
    calculate: dilute
    with:
      stock: 100 %v/v
      target: 20 %v/v
      make: 10 L
    result: stock_volume
  water:
    title: Water
    calculate: dilute
    with:
      stock: 100 %v/v
      target: 20 %v/v
      make: 10 L
    result: water_volume
  added:
    title: Stock to add
    calculate: dilute-into
    with:
      stock: 100 %v/v
      target: 20 %v/v
      water: 10 L
    result: stock_volume
"""


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Question]:
    book = Path(shutil.copytree(BASE, tmp_path_factory.mktemp("small") / "book"))
    replace(book / FLUSH, "amounts:\n", f"amounts:\n{SMALL}")
    replace(book / FLUSH, "  - open: V1\n", "  - open: V1\n    how: <drain>, <stock>, <water>, <added>\n")
    made = subject(check_book(book), "flush")
    questions = tuple(amount_questions(made))
    assert [faults(each, made.procedure) for each in questions] == [[]] * len(questions)
    return {each.id: each for each in questions}


def _because(question: Question, why: str) -> str:
    return next(each.says for each in question.choices if each.why.startswith(why))


def test_made_up_to_and_added_to_are_taken_for_each_other(small: dict[str, Question]) -> None:
    # made up to 10 L: 10 * 20/100 = 2 L; into 10 L of water: 10 * 20/(100 - 20) = 2.5 L
    assert small["stock.amount"].right.says == "2 L"
    assert _because(small["stock.amount"], "That is for adding") == "2.5 L"
    assert small["water.amount"].right.says == "8 L"
    assert _because(small["water.amount"], "That is for adding") == "10 L"
    assert small["added.amount"].right.says == "2.5 L"
    assert _because(small["added.amount"], "That is for making up") == "2 L"


def test_time_to_drain_is_got_wrong_as_if_the_flow_were_steady(small: dict[str, Question]) -> None:
    """From 80 cm to 20 cm the true time is in proportion to sqrt(80) - sqrt(20), the mistake to (80 - 20)/(2 sqrt(80)).

    Their ratio is (1 + sqrt(20/80)) / 2 = 0.75, whatever area, outlet and coefficient.
    """
    drain = small["drain.amount"]
    wrong, right = number(_because(drain, "That takes the flow as steady")), number(drain.right.says)
    assert abs(wrong / right - Fraction(3, 4)) < Fraction(1, 1000)

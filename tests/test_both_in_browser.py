"""The golden cases in tests/both, which drive both implementations of amounts and of effects, driving Chromium."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import copy_cases
import pytest
from evaluator_page import evaluator_page
from playwright.sync_api import Browser, Page

FOLDER = Path(__file__).parent / "both"

#: what the page answers to a case; a refusal is answered with its code, sentence and hint
ANSWERS = {
    "expressions": """({expression, names}) => {
      const {read} = tankside.rational;
      const values = new Map(Object.entries(names).map(([name, text]) => [name, read(text)]));
      return tankside.decimalText.decimalText(tankside.evaluation.evaluate(expression, values));
    }""",
    "conversions": """({text, unit}) => {
      const {value} = tankside.reading.parseQuantity(text);
      return tankside.decimalText.decimalText(tankside.units.fromBase(value, tankside.reading.unitNamed(unit)));
    }""",
    "refusals": """({text}) => tankside.reading.parseQuantity(text)""",
    "readings": """({text, kinds, for: name}) => {
      const {value, unit} = tankside.reading.parseQuantity(text, kinds, name);
      return [tankside.decimalText.decimalText(value), unit.symbol];
    }""",
    "working": """({result, unit, expression, values}) => {
      const {reading, working, evaluation} = tankside;
      const known = new Map(Object.entries(values).map(([name, text]) => [name, reading.parseQuantity(text)]));
      const bare = new Map([...known].map(([name, quantity]) => [name, quantity.value]));
      const value = evaluation.evaluate(expression, bare);
      return working.working(result, expression, known, {value, unit: reading.unitNamed(unit)});
    }""",
    "folds": """({rules, before, effects}) => {
      const frozen = (value) => {
        if (value instanceof Object) Object.values(Object.freeze(value)).forEach(frozen);
        return value;
      };
      const {folded} = tankside.fold;
      return frozen(effects).reduce((state, effect) => frozen(folded(frozen(rules), state, effect)), frozen(before));
    }""",
    "formulas": """({expression}) => tankside.infix(expression, (name) => name)""",
    "serials": """({text}) => {
      const {plain, fault, checkCharacter, grouped} = tankside.serial;
      const serial = plain(text);
      return [serial, fault(serial), checkCharacter(serial), grouped(serial)];
    }""",
    "chains": """({text, times, json, linked, events}) => {
      const {sha256, canonical, eventHash, chained, brokenLinks} = tankside.chain;
      if (text !== undefined) return sha256(text.repeat(times));
      if (json !== undefined) return [canonical(JSON.parse(json)), eventHash(JSON.parse(json))];
      if (linked !== undefined) return brokenLinks(linked);
      let before = null;
      return events.map((event) => {
        before = chained(event, before);
        return [before.seq, before.previous, before.hash];
      });
    }""",
    "copies": copy_cases.ANSWER,
    "shown": """({text, system}) => {
      const {parseQuantity} = tankside.reading;
      const {exactText, primaryText, otherText} = tankside.numberText;
      const quantity = parseQuantity(text);
      const about = 'about {value}';
      return [exactText(quantity), primaryText(quantity, system, about), otherText(quantity, system, about)];
    }""",
}
ASK = """(asked) => asked.map((each) => {
  try {
    return (ANSWER)(each);
  } catch (error) {
    if (!(error instanceof tankside.reading.Refusal)) return `${error}`;
    return {code: error.code, sentence: error.sentence, hint: error.hint};
  }
})"""


def cases(name: str) -> list[Any]:
    if name == "copies":
        return copy_cases.copy_cases()
    found: list[Any] = json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))["cases"]
    return found


@pytest.fixture(scope="module")
def page(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Page]:
    found = evaluator_page(browser, tmp_path_factory.mktemp("evaluator"))
    yield found
    found.close()


def answers(page: Page, name: str) -> list[Any]:
    found: list[Any] = page.evaluate(ASK.replace("ANSWER", ANSWERS[name]), cases(name))
    return found


@pytest.mark.parametrize("name", sorted(ANSWERS.keys() - {"refusals"}))
def test_browser_answers_each_case_as_expected(page: Page, name: str) -> None:
    expected = [case["expected"] for case in cases(name)]
    assert len(expected) >= 15
    assert answers(page, name) == expected


def test_browser_refuses_what_is_no_quantity_with_its_code(page: Page) -> None:
    assert [each["code"] for each in answers(page, "refusals")] == [case["code"] for case in cases("refusals")]


def test_what_is_not_given_is_hashed_as_if_it_were_not_there(page: Page) -> None:
    # A file of JSON cannot say that something is not given, so what is read from it must have the same hash.
    said = page.evaluate("tankside.chain.canonical({b: undefined, a: [{d: undefined, c: 1}]})")
    assert said == '{"a":[{"c":1}]}'


def test_every_file_of_cases_is_put_to_the_browser() -> None:
    # Those of the board are driven in test_board_page.py, those of training in test_training_agrees.py.
    assert {path.stem for path in FOLDER.glob("*.json")} == ANSWERS.keys() | {"boards", "starts", "standings"}

"""Random texts, most of them nearly quantities, and what Python and the page read in them: a value or a refusal."""

import json
from random import Random

from playwright.sync_api import Page

from tankside.quantities.decimal_text import decimal_text
from tankside.texts import words
from tankside.units import KINDS, UNITS, QuantityError, parse_quantity
from tankside.views.numbers import exact_text, other_text, primary_text

READ = """(sent) => JSON.stringify(JSON.parse(sent).map(([text, kinds, name, system]) => {
  try {
    const {exactText, primaryText, otherText} = tankside.numberText;
    const quantity = tankside.reading.parseQuantity(text, kinds, name);
    const about = 'about {value}';
    return [
      tankside.decimalText.decimalText(quantity.value), quantity.unit.symbol, exactText(quantity),
      primaryText(quantity, system, about), otherText(quantity, system, about)];
  } catch (error) {
    if (!(error instanceof tankside.reading.Refusal)) return `${error}`;
    return [error.code, error.sentence, error.hint];
  }
}))"""
#: what is put in, left out or doubled where somebody mistypes
MARKS = "0159.,-+ /%LlmgkGUS°µ²٣\t\u00a0'"
MISTAKES = 3


def compared_readings(page: Page, count: int, seed: int) -> list[str]:
    """Put `count` texts to Python and to the page, which is one of `evaluator_page`; return what they differ in."""
    chance = Random(seed)
    asked = [_asked(chance) for _ in range(count)]
    answers = json.loads(page.evaluate(READ, json.dumps(asked)))
    pairs = ((each, python_reading(*each), got) for each, got in zip(asked, answers, strict=True))
    return [f"{each}: python {expected}, page {got}" for each, expected, got in pairs if expected != got]


def python_reading(text: str, kinds: list[str], name: str, system: str) -> list[str | None]:
    try:
        quantity = parse_quantity(text, kinds, name)
    except QuantityError as error:
        return [error.code, error.sentence, error.hint]
    say = words("en")
    shown = [exact_text(quantity), primary_text(quantity, system, say), other_text(quantity, system, say)]
    return [decimal_text(quantity.value), quantity.unit.symbol, *shown]


def _asked(chance: Random) -> tuple[str, list[str], str, str]:
    unit = chance.choice(list(UNITS.values()))
    kinds = chance.choice([[], [unit.kind.name], chance.sample(list(KINDS), 2)])
    text = f"{_number(chance)} {unit.symbol}"
    for _ in range(chance.randrange(MISTAKES + 1)):
        text = _mistyped(chance, text)
    return text, kinds, chance.choice(["", "make"]), chance.choice(["metric", "customary"])


def _number(chance: Random) -> str:
    digits = "".join(chance.choices("0123456789", k=chance.choice([1, 2, 3, 6, 12, 31])))
    at = chance.randrange(len(digits) + 1)
    whole, decimals = digits[:at].lstrip("0") or "0", digits[at:]
    return f"{chance.choice(['', '', '', '-'])}{whole}{f'.{decimals}' if decimals else ''}"


def _mistyped(chance: Random, text: str) -> str:
    at = chance.randrange(len(text) + 1)
    return chance.choice(
        [
            text[:at] + chance.choice(MARKS) + text[at:],
            text[:at] + text[at + 1 :],
            text[:at] + text[at : at + 1] + text[at:],
            text[:at] + text[at:].swapcase(),
        ]
    )

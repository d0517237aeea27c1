"""Random inputs for every helper in every form of its formula, and what Python and the page make of them.

An input is text, as somebody would write it. Both sides read it, check it and work it out; what they answer is compared
as text: each result to its last digit and for one in ten its working, or the whole refusal.
"""

import json
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from random import Random
from typing import Any

from playwright.sync_api import Page

from tankside.quantities.calculation import calculate
from tankside.quantities.decimal_text import decimal_text
from tankside.quantities.expression import is_irrational
from tankside.quantities.given import Choice, Listed, Pairs, Worth
from tankside.quantities.helper import RECIPE, Argument, Helper, Variant
from tankside.quantities.portable import portable
from tankside.quantities.recipe import Ingredient, Recipe
from tankside.quantities.refusals import OutOfDomainError
from tankside.quantities.registry import HELPERS
from tankside.units import KINDS, UNITS, Quantity, QuantityError, parse_quantity

#: how many inputs go to the page at once
BATCH = 1000
#: of a hundred values, how many are taken from far outside what is usual
EXTREME = 3

WORK_OUT = """(sent) => {
  const {forms, cases} = JSON.parse(sent);
  const {parseQuantity, Refusal} = tankside.reading;
  const {numberOf} = tankside.units;
  const answer = ([form, values, wantsWorking]) => {
    try {
      const given = new Map(values.map(([name, text, kind]) => [name, parseQuantity(text, [kind])]));
      const results = tankside.calculation.calculate(forms[form], given);
      const shown = [...results.values()].map((each) => tankside.decimalText.decimalText(numberOf(each)));
      const lines = wantsWorking ? tankside.calculation.workingOf(forms[form], given, results) : [];
      return JSON.stringify([shown, lines]);
    } catch (error) {
      if (error instanceof Refusal) return JSON.stringify([error.code, error.sentence, error.hint]);
      return error instanceof RangeError ? 'fault' : `${error}`;
    }
  };
  return JSON.stringify(cases.map(answer));
}"""


@dataclass(frozen=True)
class Input:
    """Values for one form of one helper."""

    helper: Helper
    #: name that trees use -> text and kind
    written: dict[str, tuple[str, str]]
    given: dict[str, Worth]
    #: whether the value of one of its formulas is not rational
    is_irrational: bool

    @property
    def open_names(self) -> list[str]:
        return [name for name, worth in self.given.items() if isinstance(worth, Quantity)]


@dataclass
class Tally:
    """What came of the inputs that were compared."""

    results: int = 0
    refusals: int = 0
    #: of the results, those of formulas whose value is not rational
    irrational: int = 0
    #: helper and number of its form
    forms: set[tuple[str, int]] = field(default_factory=set)
    differences: list[str] = field(default_factory=list)

    @property
    def inputs(self) -> int:
        return self.results + self.refusals

    def __str__(self) -> str:
        alike = self.inputs - len(self.differences)
        return (
            f"{alike:,} of {self.inputs:,} inputs answered alike: {self.results:,} results "
            f"({self.irrational:,} irrational), {self.refusals:,} refusals, {len(self.forms)} forms of helpers"
        )


FORMS = tuple((helper, number) for helper in HELPERS.values() for number, _ in enumerate(helper.variants))


def compared(page: Page, count: int, seed: int) -> Tally:
    """Put `count` inputs to Python and to the page, which is one of `evaluator_page`."""
    chance, tally, forms = Random(seed), Tally(), dict[str, int]()
    waiting: list[tuple[Input, str, list[Any]]] = []
    numbered = _numbered(chance)
    while tally.inputs + len(waiting) < count:
        found, number = next(numbered)
        wants_working = chance.randrange(10) == 0
        answer = python_answer(found, wants_working=wants_working)
        if answer is None:
            continue
        form = json.dumps(portable(found.helper, found.given, found.open_names), ensure_ascii=False)
        values = [[name, text, kind] for name, (text, kind) in found.written.items()]
        waiting.append((found, answer, [forms.setdefault(form, len(forms)), values, wants_working]))
        tally.forms.add((found.helper.name, number))
        if len(waiting) == BATCH or tally.inputs + len(waiting) == count:
            _put(page, forms, waiting, tally)
            waiting, forms = [], {}
    return tally


def _numbered(chance: Random) -> Iterator[tuple[Input, int]]:
    while True:
        for helper, number in FORMS:
            yield random_input(chance, helper, helper.variants[number]), number


def _put(page: Page, forms: dict[str, int], waiting: list[tuple[Input, str, list[Any]]], tally: Tally) -> None:
    parts = f'{{"forms":[{",".join(forms)}],"cases":{json.dumps([case for _, _, case in waiting])}}}'
    answers = json.loads(page.evaluate(WORK_OUT, parts))
    for (found, expected, _), got in zip(waiting, answers, strict=True):
        is_result = expected.startswith("[[")
        tally.results += is_result
        tally.refusals += not is_result
        tally.irrational += is_result and found.is_irrational
        if got != expected:
            tally.differences.append(f"{found.helper.name} {found.written}: python {expected}, page {got}")


def python_answer(found: Input, *, wants_working: bool) -> str | None:
    """Return what Python answers; None for what the page is never asked: a list or words that do not fit."""
    try:
        done = calculate(found.helper, found.given)
        shown = [decimal_text(each.number) for each in done.results.values()]
        return _json([shown, done.working if wants_working else ()])
    except OutOfDomainError as error:
        blamed = error.sentence.partition(" ")[0]
        is_list = isinstance(found.given.get(blamed), (Choice, Listed, Pairs))
        return None if is_list else _json([error.code, error.sentence, error.hint])
    except QuantityError:
        return None
    except (ValueError, ZeroDivisionError):
        return "fault"


def _json(answer: Any) -> str:
    return json.dumps(answer, ensure_ascii=False, separators=(",", ":"))


def random_input(chance: Random, helper: Helper, variant: Variant) -> Input:
    """Return values for one form of a helper: around those of its examples, some of them far away."""
    written: dict[str, tuple[str, str]] = {}
    given: dict[str, Worth] = {}
    for name, kind in variant.kinds.items():
        argument = helper.argument(name)
        if argument.choices:
            given[name] = Choice(kind)
        elif kind == RECIPE:
            given[name] = _recipe(chance, written)
        elif argument.pair_kinds:
            halves = kind.split(" / ")
            given[name] = Pairs(
                tuple(
                    (
                        _value(chance, argument, halves[0], f"{name}.{number}.first", written, is_entry=True),
                        _value(chance, argument, halves[1], f"{name}.{number}.second", written, is_entry=True),
                    )
                    for number in range(1, chance.randint(1, 4) + 1)
                )
            )
        elif argument.is_list:
            numbers = range(1, chance.randint(1, 6) + 1)
            given[name] = Listed(
                tuple(_value(chance, argument, kind, f"{name}.{number}", written, is_entry=True) for number in numbers)
            )
        else:
            given[name] = _value(chance, argument, kind, name, written)
    return Input(helper, written, given, any(map(is_irrational, helper.trees(variant).values())))


def _value(
    chance: Random,
    argument: Argument,
    kind: str,
    name: str,
    written: dict[str, tuple[str, str]],
    *,
    is_entry: bool = False,
) -> Quantity:
    unit = chance.choice([each for each in UNITS.values() if each.kind.name == kind])
    if argument.is_whole:
        text = str(chance.choice([chance.randint(0, 12), chance.randint(1, 500)]))
    elif not is_entry and chance.randrange(100) < EXTREME:
        text = chance.choice(["0", "-1", "0.000000001", "999999999999", "123456789.987654321"])
    else:
        middle = unit.from_base(_example(argument, kind) * Fraction(round(10 ** chance.uniform(2.5, 3.5)), 1000))
        text = _rounded(chance, middle)
    text = f"{text} {unit.symbol}".rstrip()
    written[name] = (text, kind)
    return parse_quantity(text, [kind], argument.name)


def _example(argument: Argument, kind: str) -> Fraction:
    """Return the example of an argument in base units, or something of the kind."""
    for part in argument.example.replace("/", ",").split(","):
        try:
            found = parse_quantity(part.strip(), [kind])
        except QuantityError:
            continue
        return found.value
    most = KINDS[kind].most
    return Fraction(1) if most is None else most / 3


def _rounded(chance: Random, value: Fraction) -> str:
    """Return a value to between one and twelve digits, as people and machines write them."""
    digits = chance.choice([1, 2, 2, 3, 3, 4, 6, 9, 12])
    return decimal_text(Fraction(f"{float(value):.{digits}g}"))


def _recipe(chance: Random, written: dict[str, tuple[str, str]]) -> Recipe:
    count = chance.randint(1, 4)
    cuts = sorted(chance.sample(range(1, 100_000), count - 1))
    shares = [end - start for start, end in zip([0, *cuts], [*cuts, 100_000], strict=True)]
    ingredients = tuple(
        Ingredient(
            f"part-{number}",
            _fact(written, f"part-{number}.share", f"{decimal_text(Fraction(share, 1000))} %w/w", "mass fraction"),
            _density(chance, written, f"part-{number}.density"),
        )
        for number, share in enumerate(shares, 1)
    )
    return Recipe("product", _density(chance, written, "product.density"), ingredients)


def _density(chance: Random, written: dict[str, tuple[str, str]], name: str) -> Quantity:
    text = f"{decimal_text(Fraction(chance.randint(700, 1900), 1000))} {chance.choice(['kg/L', 'g/mL'])}"
    return _fact(written, name, text, "mass concentration")


def _fact(written: dict[str, tuple[str, str]], name: str, text: str, kind: str) -> Quantity:
    written[name] = (text, kind)
    return parse_quantity(text, [kind])

"""Print how many formulas a second Python and Chromium work out exactly, and how many with plain floats.

Both walk the same trees with the same values: those of random inputs to every helper. Trees with a circle's segment are
left out, since floats have no such operation.
"""

import json
import math
import operator
import sys
import time
from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import reduce
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from typing import Any

from playwright.sync_api import sync_playwright

sys.path.insert(0, str(Path(__file__).parent.parent))
from conftest import ARGUMENTS, CHROMIUM
from evaluator_page import evaluator_page
from random_inputs import FORMS, random_input

from tankside.quantities.calculation import calculate
from tankside.quantities.evaluate import evaluate
from tankside.quantities.expression import Call, Constant, Expression, Name, Number, names_in, parts, to_json
from tankside.units import QuantityError

SEED = 1
#: seconds that each evaluator is kept busy
BUSY = 3.0

Case = tuple[Expression, dict[str, Fraction]]


def cases() -> list[Case]:
    """Return a tree with its values for each result of each form of each helper."""
    chance, found = Random(SEED), list[Case]()
    for helper, number in FORMS:
        given = random_input(chance, helper, helper.variants[number]).given
        try:
            done = calculate(helper, given)
        except QuantityError:
            continue
        known = {name: quantity.value for name, quantity in {**done.given, **done.results}.items()}
        found += [
            (tree, {name: known[name] for name in names_in(tree)})
            for tree in done.trees.values()
            if not any(isinstance(part, Call) and part.op == "segment-depth" for part in parts(tree))
        ]
    return found


def _fewest(base: float, limit: float) -> float:
    return math.ceil(math.log(limit) / math.log(base))


FLOATS: Mapping[str, Callable[..., float]] = {
    "add": operator.add,
    "sub": operator.sub,
    "mul": operator.mul,
    "div": operator.truediv,
    "power": operator.pow,
    "round-up": lambda value, step: math.ceil(value / step) * step,
    "round-down": lambda value, step: math.floor(value / step) * step,
    "round-nearest": lambda value, step: math.floor(value / step + 0.5) * step,
    "min": lambda *values: reduce(min, values),
    "max": lambda *values: reduce(max, values),
    "fewest": _fewest,
    "ln": math.log,
    "root": math.sqrt,
    "cube-root": math.cbrt,
    "arccos": math.acos,
    "pi": lambda: math.pi,
}


def with_floats(tree: Expression, values: Mapping[str, float]) -> float:
    """Return the value of a tree in floats, by the same walk as `evaluate`."""
    match tree:
        case Number(value):
            return float(value)
        case Constant():
            return float(tree.quantity.value)
        case Name(name):
            return values[name]
        case Call("choose", (left, right, then, otherwise)):
            return with_floats(then if with_floats(left, values) <= with_floats(right, values) else otherwise, values)
        case Call("table", (value, *rows, beyond)):
            at = with_floats(value, values)
            pairs = zip(rows[::2], rows[1::2], strict=True)
            return with_floats(
                next((found for limit, found in pairs if at <= with_floats(limit, values)), beyond), values
            )
        case Call(op, args):
            return FLOATS[op](*(with_floats(arg, values) for arg in args))
    raise TypeError(f"{tree!r} is no expression")


def rate(work: Callable[[Any, Any], object], given: list[tuple[Any, Any]]) -> float:
    """Return how many of the cases are worked out in a second."""
    rounds, started = 0, time.perf_counter()
    while (spent := time.perf_counter() - started) < BUSY:
        for tree, values in given:
            work(tree, values)
        rounds += 1
    return rounds * len(given) / spent


#: the same two walks in the page
RATES = """([sent, busy]) => {
  const {read} = tankside.rational;
  const {toBase, unitOf} = tankside.units;
  const asFloat = (text) => { const [a, b = 1] = text.split('/').map(Number); return a / b; };
  const FLOATS = {
    'add': (a, b) => a + b, 'sub': (a, b) => a - b, 'mul': (a, b) => a * b, 'div': (a, b) => a / b,
    'power': (a, b) => a ** b,
    'round-up': (a, b) => Math.ceil(a / b) * b,
    'round-down': (a, b) => Math.floor(a / b) * b,
    'round-nearest': (a, b) => Math.floor(a / b + 0.5) * b, 'min': Math.min, 'max': Math.max,
    'fewest': (a, b) => Math.ceil(Math.log(b) / Math.log(a)), 'ln': Math.log, 'root': Math.sqrt,
    'cube-root': Math.cbrt, 'arccos': Math.acos, 'pi': () => Math.PI,
  };
  const numbers = new Map();
  const leaf = (key, make) => numbers.get(key) ?? (numbers.set(key, make()), numbers.get(key));
  function withFloats(tree, values) {
    if (typeof tree === 'string') return leaf(tree, () => asFloat(tree));
    const [op, ...args] = tree;
    if (op === 'name') return values.get(args[0]);
    if (op === 'constant') {
      return leaf(args.join(' '), () => {
        const {numerator, denominator} = toBase(read(args[0]), unitOf(args[1]));
        return Number(numerator) / Number(denominator);
      });
    }
    const at = (index) => withFloats(args[index], values);
    if (op === 'choose') return at(0) <= at(1) ? at(2) : at(3);
    if (op === 'table') {
      const value = at(0);
      let row = 1;
      while (row + 1 < args.length && value > at(row)) row += 2;
      return at(row + 1 < args.length ? row + 1 : row);
    }
    return FLOATS[op](...args.map((arg) => withFloats(arg, values)));
  }
  const cases = JSON.parse(sent);
  const valuesIn = (convert) => cases.map(
    ([tree, values]) => [tree, new Map(Object.entries(values).map(([name, text]) => [name, convert(text)]))]);
  function rate(work, given) {
    const started = performance.now();
    let [rounds, spent] = [0, 0];
    for (; spent < busy * 1000; rounds += 1, spent = performance.now() - started) {
      for (const [tree, values] of given) work(tree, values);
    }
    return rounds * given.length / spent * 1000;
  }
  return [rate(tankside.evaluation.evaluate, valuesIn(read)), rate(withFloats, valuesIn(asFloat))];
}"""


def main() -> None:
    exact = cases()
    floats = [(tree, {name: float(value) for name, value in values.items()}) for tree, values in exact]
    sent = json.dumps([[to_json(tree), {name: str(each) for name, each in values.items()}] for tree, values in exact])
    with sync_playwright() as playwright, TemporaryDirectory() as folder:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        in_page = evaluator_page(browser, Path(folder)).evaluate(RATES, [sent, BUSY])
        browser.close()
    print(f"{len(exact)} formulas, {BUSY:.0f} s each; evaluations a second")
    for name, (slow, fast) in {
        "Python": (rate(evaluate, exact), rate(with_floats, floats)),
        "Chromium": in_page,
    }.items():
        print(f"{name:9} exact {slow:>10,.0f}   floats {fast:>12,.0f}   floats are {fast / slow:.1f} times as fast")


if __name__ == "__main__":
    main()

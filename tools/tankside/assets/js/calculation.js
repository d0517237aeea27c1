'use strict';

var tankside = window.tankside || {};

/** @typedef {{value: string, isInclusive: boolean} | null} Bound */
/** @typedef {{name: string, low: Bound, high: Bound, isWhole: boolean}} Allowed the range of an argument */
/** @typedef {{tree: Tree, values: Array<[string, string]>}} Side the values in it, each with what it is called */
/** @typedef {{left: Side, right: Side, isStrict: boolean, broken: string, hint: string}} Condition */
/** @typedef {{ranges: Allowed[], conditions: Condition[], results: Array<[string, Tree, string]>}} Form */
/** @typedef {ReadonlyMap<string, Quantity>} Given */

/* A helper worked out with what it is given: `calculation.py` and the ranges of `domain.py`, for a helper as
   `portable.py` writes it. */
tankside.calculation = (function () {
  const { read, compare } = tankside.rational;
  const { MOST, quantityText, shortQuantity, unitOf } = tankside.units;
  const { evaluate } = tankside.evaluation;
  const { working } = tankside.working;
  const { Refusal } = tankside.reading;

  const OUTSIDE = 'out-of-domain';
  /** Significant digits of a bound or a result in a sentence. */
  const DIGITS = 6;

  /**
   * Return each result; what is out of the helper's domain is refused.
   * @param {Form} form
   * @param {Given} given
   * @returns {Map<string, Quantity>}
   */
  function calculate(form, given) {
    form.ranges.forEach((range) => requireInRange(range, /** @type {Quantity} */ (given.get(range.name))));
    form.conditions.forEach((condition) => requireCondition(condition, given));
    const known = new Map(given);
    /** @type {Map<string, Quantity>} */
    const results = new Map();
    for (const [name, tree, symbol] of form.results) {
      const result = { value: evaluate(tree, valuesOf(known)), unit: unitOf(symbol) };
      requirePossible(name, result);
      known.set(name, result);
      results.set(name, result);
    }
    return results;
  }

  /**
   * Return the working of each result, line by line.
   * @param {Form} form
   * @param {Given} given
   * @param {Given} results
   */
  function workingOf(form, given, results) {
    const known = new Map(given);
    return form.results.flatMap(([name, tree]) => {
      const result = /** @type {Quantity} */ (results.get(name));
      const lines = working(name, tree, known, result);
      known.set(name, result);
      return lines;
    });
  }

  /** @param {Given} given */
  function valuesOf(given) {
    return new Map([...given].map(([name, quantity]) => [name, quantity.value]));
  }

  /** @param {Allowed} range @param {Quantity} quantity */
  function requireInRange({ name, low, high, isWhole }, quantity) {
    const order = (/** @type {Bound} */ bound) => (bound ? compare(quantity.value, read(bound.value)) : 0);
    const isAbove = low === null || order(low) > 0 || (low.isInclusive && order(low) === 0);
    const isBelow = high === null || order(high) < 0 || (high.isInclusive && order(high) === 0);
    const named = `${name} '${quantityText(quantity)}'`;
    if (!isAbove || !isBelow) {
      const ends = [endWords(low, 'at least', 'above', quantity), endWords(high, 'at most', 'below', quantity)];
      const wanted = ends.filter(Boolean).join(' and ');
      throw new Refusal(OUTSIDE, `${named} is not ${wanted}`, `give ${name} a value ${wanted}`);
    }
    if (isWhole && quantity.value.denominator !== 1n) {
      throw new Refusal(OUTSIDE, `${named} is no whole number`, `give ${name} a whole number`);
    }
  }

  /** @param {Bound} bound @param {string} inclusive @param {string} exclusive @param {Quantity} quantity */
  function endWords(bound, inclusive, exclusive, { unit }) {
    return bound && `${bound.isInclusive ? inclusive : exclusive} ${inUnit(read(bound.value), unit)}`;
  }

  /** @param {Rational} value @param {Unit} unit */
  function inUnit(value, unit) {
    return shortQuantity({ value, unit }, DIGITS)[0];
  }

  /** @param {Condition} condition @param {Given} given */
  function requireCondition({ left, right, isStrict, broken, hint }, given) {
    const order = compare(evaluate(left.tree, valuesOf(given)), evaluate(right.tree, valuesOf(given)));
    if (order < 0 || (order === 0 && !isStrict)) return;
    /** @param {Side} side */
    const words = ({ values }) => values.map(([value, argument]) => {
      const quantity = /** @type {Quantity} */ (given.get(value));
      return `${argument} '${quantityText(quantity)}'`;
    }).join(' with ');
    throw new Refusal(OUTSIDE, `${words(left)} ${broken} ${words(right)}`, hint);
  }

  /** @param {string} name @param {Quantity} result */
  function requirePossible(name, result) {
    const most = MOST.get(result.unit.kind);
    if (most === undefined || compare(result.value, most) <= 0) return;
    const [shown] = shortQuantity(result, DIGITS);
    throw new Refusal(
      OUTSIDE, `${name} comes out as ${shown}, more than ${inUnit(most, result.unit)}`,
      'look for a wrong value or unit');
  }

  return Object.freeze({ calculate, workingOf });
})();

'use strict';

var tankside = window.tankside || {};

/** @typedef {[string, string]} Written a value in base units, and the symbol of the unit it is shown in */
/** @typedef {{text: string, value: Written}} End of a range, as the book writes it */
/** @typedef {{name: string, unit: string, from: End, to: End}} Input */
/**
 * @typedef {{
 *   tag: string, direction: 'up' | 'down' | 'nearest', graduation: Written, tolerance: Written,
 *   accuracy: Written | null, low: Written | null, high: Written | null
 * }} VesselWritten
 */
/**
 * @typedef {{
 *   name: string, title: string, given: Record<string, Written>, open: Record<string, string>, form: Form,
 *   result: string, vessel: VesselWritten | null, receiver: {tag: string, capacity: Written} | null
 * }} Amount
 */
/** @typedef {{system: string, words: Record<string, string>, input: Input, amounts: Amount[]}} Procedure */
/** @typedef {{exact: Quantity, shown: Quantity, lines: () => string[]}} Worked the lines are put together when asked for */

/* The amounts of a procedure for a value of its input: `compute/amounts.py` and `views/amounts.py`, for a procedure as
   `compute/live.py` and `views/live.py` write it. */
tankside.amounts = (function () {
  const { read, compare } = tankside.rational;
  const { unitOf } = tankside.units;
  const { Refusal, parseQuantity } = tankside.reading;
  const { calculate, workingOf } = tankside.calculation;
  const { measured, requireRoom } = tankside.measuring;
  const { exactText, primaryText, otherText } = tankside.numberText;

  /** @param {Written} written @returns {Quantity} */
  function quantity([value, symbol]) {
    return { value: read(value), unit: unitOf(symbol) };
  }

  /**
   * Return what was typed for an input, in its unit; a number alone has that unit.
   * @param {Input} input
   * @param {string} typed
   * @returns {Quantity}
   */
  function readInput({ unit, from, to }, typed) {
    const own = unitOf(unit);
    const { value } = readIn(own, typed);
    const chosen = { value, unit: own };
    if (compare(value, read(from.value[0])) < 0 || compare(value, read(to.value[0])) > 0) {
      throw new Refusal(
        'input-out-of-range', `'${exactText(chosen)}' is not from '${from.text}' to '${to.text}'`,
        `write a value from ${from.text} to ${to.text}`);
    }
    return chosen;
  }

  /** @param {Unit} unit @param {string} typed @returns {Quantity} */
  function readIn(unit, typed) {
    try {
      return parseQuantity(typed, [unit.kind]);
    } catch (error) {
      if (!(error instanceof Refusal && error.code === 'unit-missing')) throw error;
      return parseQuantity(`${typed} ${unit.symbol}`, [unit.kind]);
    }
  }

  /**
   * Return each amount that depends on the input; when one cannot be worked out, none is.
   * @param {Procedure} procedure
   * @param {Quantity} chosen
   * @returns {Map<string, Worked>}
   */
  function workedAmounts({ input, amounts }, chosen) {
    /** @type {Map<string, Worked>} */
    const done = new Map();
    const byName = new Map(amounts.map((amount) => [amount.name, amount]));

    /** @param {string} source the input or another amount, whose exact value counts @returns {Quantity} */
    function valueOf(source) {
      return source === input.name ? chosen : workedOut(/** @type {Amount} */ (byName.get(source))).exact;
    }

    /** @param {Amount} amount @returns {Worked} */
    function workedOut(amount) {
      const before = done.get(amount.name);
      if (before !== undefined) return before;
      /** @type {Map<string, Quantity>} */
      const given = new Map();
      for (const [name, written] of Object.entries(amount.given)) given.set(name, quantity(written));
      for (const [name, source] of Object.entries(amount.open)) given.set(name, valueOf(source));
      const found = worked(amount, given);
      done.set(amount.name, found);
      return found;
    }

    amounts.forEach(workedOut);
    return done;
  }

  /** @param {Amount} amount @param {Given} given @returns {Worked} */
  function worked({ title, form, result, vessel, receiver }, given) {
    try {
      const results = calculate(form, given);
      const exact = /** @type {Quantity} */ (results.get(result));
      const rounded = vessel && measured(exact, readVessel(vessel));
      const shown = rounded ? rounded.shown : exact;
      if (receiver) requireRoom(shown, { tag: receiver.tag, capacity: quantity(receiver.capacity) });
      const last = rounded ? [rounded.line] : [];
      return { exact, shown, lines: () => [...workingOf(form, given, results), ...last] };
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      throw new Refusal(error.code, `${title}: ${error.sentence}`, error.hint);
    }
  }

  /** @param {VesselWritten} vessel @returns {Vessel} */
  function readVessel({ tag, direction, graduation, tolerance, accuracy, low, high }) {
    return {
      tag,
      direction,
      graduation: quantity(graduation),
      tolerance: quantity(tolerance),
      accuracy: accuracy && quantity(accuracy),
      low: low && quantity(low),
      high: high && quantity(high),
    };
  }

  /**
   * Return what is shown of each amount, by the way it is shown: alone in both systems of units, inside a sentence, and
   * how it was worked out, which takes most of the time and is seldom looked at: put together when asked for.
   * @param {Procedure} procedure
   * @param {Quantity} chosen
   */
  function amountTexts(procedure, chosen) {
    const { system, words } = procedure;
    const at = words.for.replace('{value}', exactText(chosen));
    return new Map([...workedAmounts(procedure, chosen)].map(([name, { shown, lines }]) => {
      const value = primaryText(shown, system, words.about);
      const other = otherText(shown, system, words.about);
      return [name, {
        both: other === null ? value : `${value} (${other})`,
        inside: `${value} (${at})`,
        at,
        working: () => lines().join('\n'),
      }];
    }));
  }

  return Object.freeze({ readInput, workedAmounts, amountTexts });
})();

'use strict';

var tankside = window.tankside || {};

/**
 * @typedef {{
 *   tag: string, direction: 'up' | 'down' | 'nearest', graduation: Quantity, tolerance: Quantity,
 *   accuracy: Quantity | null, low: Quantity | null, high: Quantity | null
 * }} Vessel
 */
/** @typedef {{tag: string, capacity: Quantity}} Receiver */

/* An amount as its scale or measuring vessel can show it, and whether that vessel will do: `compute/measuring.py`. */
tankside.measuring = (function () {
  const { rational, add, compare, magnitude, multiply, subtract } = tankside.rational;
  const { quantityText, shortQuantity } = tankside.units;
  const { evaluate } = tankside.evaluation;
  const { Refusal } = tankside.reading;

  const WAYS = { up: 'up to', down: 'down to', nearest: 'to the nearest' };
  /** How full a receiver may get, so that it can be carried. */
  const FULLEST = rational(3n, 4n);
  /** Significant digits of a quantity in a sentence. */
  const DIGITS = 4;

  /**
   * Return an amount rounded to the graduation of its vessel, in the safe direction, and the line that says so.
   * @param {Quantity} exact
   * @param {Vessel} vessel
   */
  function measured(exact, { tag, direction, graduation, tolerance, accuracy, low, high }) {
    const tree = [`round-${direction}`, ['name', 'exact'], ['name', 'step']];
    const values = new Map([['exact', exact.value], ['step', graduation.value]]);
    const shown = { value: evaluate(tree, values), unit: graduation.unit };
    const off = magnitude(subtract(shown.value, exact.value));
    if (compare(accuracy ? add(off, accuracy.value) : off, tolerance.value) > 0) {
      const right = accuracy ? `, right to ${quantityText(accuracy)}` : '';
      const steps = `'${tag}' can show only steps of ${quantityText(graduation)}${right}`;
      throw new Refusal(
        'vessel-too-coarse', `${steps}; ${short(exact)} is off by more than ${quantityText(tolerance)}`, '');
    }
    if ((low && compare(shown.value, low.value) < 0) || (high && compare(shown.value, high.value) > 0)) {
      throw new Refusal('vessel-out-of-range', `${quantityText(shown)} is outside what '${tag}' can measure`, '');
    }
    return { shown, line: `rounded ${WAYS[direction]} ${quantityText(graduation)} of ${tag}: ${quantityText(shown)}` };
  }

  /**
   * Refuse an amount that would fill its receiver past three quarters.
   * @param {Quantity} shown
   * @param {Receiver} receiver
   */
  function requireRoom(shown, { tag, capacity }) {
    if (compare(shown.value, multiply(capacity.value, FULLEST)) <= 0) return;
    throw new Refusal(
      'receiver-too-small', `${short(shown)} fills '${tag}' (${quantityText(capacity)}) past three quarters`,
      'collect it in a larger vessel, or in several passes');
  }

  /** @param {Quantity} quantity */
  function short(quantity) {
    return shortQuantity(quantity, DIGITS)[0];
  }

  return Object.freeze({ measured, requireRoom });
})();

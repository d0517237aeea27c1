'use strict';

var tankside = window.tankside || {};

/** @typedef {Object<string, Object<string, string>>} Inputs procedure -> input -> the value that was chosen */

/* What an amount or a reading must be, and what was entered (`records/worth.py`). */
tankside.copyWorth = (function () {
  const { ZERO, read, add, subtract, compare } = tankside.rational;
  const { evaluate } = tankside.evaluation;
  const { parseQuantity, Refusal } = tankside.reading;

  /**
   * Return what a step adds, and the least and the most that is in tolerance.
   * @param {CopyPart} part
   * @param {any} step
   * @param {Inputs} inputs
   */
  function target(part, step, inputs) {
    const amount = part.edition.amounts[step.amount.replace(/[<>]/g, '')];
    const { unit } = parseQuantity(amount.usual.shown.text);
    const wanted = worth(part, amount, inputs);
    const off = read(amount.tolerance.value);
    const low = subtract(wanted, off);
    const atLeast = compare(low, ZERO) < 0 ? ZERO : low;
    return { wanted: { value: wanted, unit }, low: { value: atLeast, unit }, high: { value: add(wanted, off), unit } };
  }

  /** @param {CopyPart} part @param {any} amount @param {Inputs} inputs @returns {Rational} */
  function worth(part, amount, inputs) {
    const asked = Object.keys(part.edition.written.inputs);
    const chosen = inputs[part.procedure];
    return evaluate(amount.tree, new Map(asked.map((name) => [name, parseQuantity(chosen[name]).value])));
  }

  /**
   * Return the ends of the limits of a reading, null where there is none.
   * @param {CopyPart} part
   * @param {any} step
   */
  function limits(part, step) {
    const { from, to } = part.edition.limits[step.limits];
    return {
      low: from === undefined ? null : parseQuantity(from),
      high: to === undefined ? null : parseQuantity(to),
    };
  }

  /**
   * Return the value of an event, null when it is no number with a unit of the table.
   * @param {any} event
   * @returns {Quantity | null}
   */
  function entered({ value = '', unit = '' }) {
    return quantityOrNull(`${value} ${unit}`);
  }

  /** @param {string} text @returns {Quantity | null} */
  function quantityOrNull(text) {
    try {
      return parseQuantity(text);
    } catch (error) {
      if (error instanceof Refusal) return null;
      throw error;
    }
  }

  /** @param {Quantity | null} value @param {Quantity} example whether both are of the same kind */
  function like(value, example) {
    return value !== null && value.unit.kind === example.unit.kind;
  }

  /** @param {Rational} value @param {Quantity | null} low @param {Quantity | null} high the ends belong to them */
  function isInside(value, low, high) {
    return (low === null || compare(low.value, value) <= 0) && (high === null || compare(value, high.value) <= 0);
  }

  return Object.freeze({ target, worth, limits, entered, quantityOrNull, like, isInside });
})();

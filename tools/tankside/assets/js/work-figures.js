'use strict';

var tankside = window.tankside || {};

/** @typedef {'below' | 'enough' | 'over'} Verdict */

/* The figures of a step: what is to be put in, what is in, what a reading must be, which labels are where; and what an
   event copies of them. Values leave here as decimal text. */
tankside.workFigures = (function () {
  const { add, subtract, compare } = tankside.rational;
  const { decimalText } = tankside.decimalText;
  const { numberOf } = tankside.units;
  const { exactText } = tankside.numberText;
  const { target, limits, entered, isInside } = tankside.copyWorth;
  const { partOf, stepOf, latest } = tankside.copyState;

  /** @param {Quantity | null} quantity the number that stands before its unit, empty for none */
  function numberText(quantity) {
    return quantity === null ? '' : decimalText(numberOf(quantity));
  }

  /** @param {Quantity} quantity as people read it */
  function shownText(quantity) {
    return exactText(quantity).replace(/\bdeg([CF])$/, '°$1');
  }

  /**
   * Return what a step adds, and what of it is in.
   * @param {Copy} copy
   * @param {Visit} visit
   */
  function adding(copy, visit) {
    const found = target(partOf(copy, visit), stepOf(copy, visit), copy.inputs);
    return { ...found, total: { value: visit.total, unit: found.wanted.unit } };
  }

  /** @param {Quantity} total @param {{low: Quantity, high: Quantity}} ends @returns {Verdict} */
  function verdict(total, { low, high }) {
    if (compare(total.value, low.value) < 0) return 'below';
    return compare(total.value, high.value) > 0 ? 'over' : 'enough';
  }

  /** @param {Quantity} one @param {Quantity} other @returns {Quantity} how far apart they are, in the unit of the first */
  function apart(one, other) {
    const [less, more] = compare(one.value, other.value) < 0 ? [one, other] : [other, one];
    return { value: subtract(more.value, less.value), unit: one.unit };
  }

  /**
   * Return what will be in after one more pour, null when it is no number above 0.
   * @param {{total: Quantity}} state see `adding`
   * @param {string} number
   * @returns {Quantity | null}
   */
  function together({ total }, number) {
    const value = entered({ value: number, unit: total.unit.symbol });
    if (value === null || value.value.numerator <= 0n) return null;
    return { value: add(total.value, value.value), unit: total.unit };
  }

  /**
   * Return what the event of a pour holds beside its visit.
   * @param {Copy} copy
   * @param {Visit} visit
   * @param {string} number
   */
  function pour(copy, visit, number) {
    const state = adding(copy, visit);
    const total = /** @type {Quantity} */ (together(state, number));
    return {
      value: number,
      unit: total.unit.symbol,
      target: numberText(state.wanted),
      low: numberText(state.low),
      high: numberText(state.high),
      inside: verdict(total, state) === 'enough',
      total: numberText(total),
    };
  }

  /**
   * Return the limits of a reading, and the unit in which they are written.
   * @param {Copy} copy
   * @param {Visit} visit
   */
  function measuring(copy, visit) {
    const { low, high } = limits(partOf(copy, visit), stepOf(copy, visit));
    const { unit } = /** @type {Quantity} */ (low || high);
    // The book may write each end in a unit of its own; a reading has one.
    const alike = (/** @type {Quantity | null} */ end) => end && { value: end.value, unit };
    return { low: alike(low), high: alike(high), unit };
  }

  /**
   * Return what the event of a reading holds beside its visit and its instrument, null when it is no number.
   * @param {Copy} copy
   * @param {Visit} visit
   * @param {string} number
   */
  function reading(copy, visit, number) {
    const { low, high, unit } = measuring(copy, visit);
    const found = entered({ value: number, unit: unit.symbol });
    if (found === null) return null;
    return {
      value: number,
      unit: unit.symbol,
      low: numberText(low),
      high: numberText(high),
      inside: isInside(found.value, low, high),
    };
  }

  /**
   * Return the counts by which labels of a product were taken out, corrections included.
   * @param {Copy} copy
   * @param {Visit} visit
   */
  function takenOut(copy, visit) {
    const { product } = stepOf(copy, visit);
    return copy.trail
      .filter((each) => each.kind === 'labels' && stepOf(copy, each).product === product)
      .flatMap((each) => each.values.map((seq) => latest(copy, seq)))
      .filter((count) => count.issued !== undefined);
  }

  /** @param {Copy} copy @param {Visit} visit how many labels of its product were taken out */
  function issued(copy, visit) {
    return takenOut(copy, visit).reduce((sum, count) => sum + count.issued, 0);
  }

  /** @param {Copy} copy @param {Visit} visit the last label that was read for a step, null when none was */
  function lastLook(copy, visit) {
    const place = copy.trail.indexOf(visit);
    const looks = copy.events.filter((event) => event.kind === 'look' && event.visit === place);
    return looks.length > 0 ? looks[looks.length - 1] : null;
  }

  /** @param {Copy} copy @param {Visit} visit its values as they are now, corrections included */
  function valuesOf(copy, visit) {
    return visit.values.map((seq) => ({ seq, first: copy.events[seq], event: latest(copy, seq) }));
  }

  return Object.freeze({
    numberText, shownText, adding, verdict, apart, together, pour, measuring, reading, takenOut, issued, lastLook, valuesOf,
  });
})();

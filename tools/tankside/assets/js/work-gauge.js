'use strict';

var tankside = window.tankside || {};

/* How much is in, as a bar: too little, enough and too much are told apart by where it ends, by outline and in words. */
tankside.workGauge = (function () {
  const { el, say } = tankside.dom;
  const { ZERO, compare, subtract, divide } = tankside.rational;

  /** Where "enough" begins and ends on the bar, in per cent: tolerances are far too small to be drawn to scale. */
  const [ENOUGH, OVER, END] = [45, 75, 100];
  const HEIGHT = 12;

  /** @param {Rational} value @param {Rational} from @param {Rational} to how far it is on the way, from 0 to 1 */
  function share(value, from, to) {
    const whole = subtract(to, from);
    if (compare(whole, ZERO) <= 0) return 1;
    const { numerator, denominator } = divide(subtract(value, from), whole);
    return Math.min(Math.max(Number(numerator) / Number(denominator), 0), 1);
  }

  /**
   * Return where a total ends on the bar, in per cent.
   * @param {Rational} total
   * @param {Rational} low
   * @param {Rational} high
   * @returns {number}
   */
  function reach(total, low, high) {
    if (compare(total, low) < 0) return ENOUGH * share(total, ZERO, low);
    if (compare(total, high) <= 0) return ENOUGH + (OVER - ENOUGH) * share(total, low, high);
    // Once more the target past its end is the whole of the last part.
    const twice = { numerator: 2n * high.numerator, denominator: high.denominator };
    return OVER + (END - OVER) * Math.max(share(total, high, twice), 0.15);
  }

  /** @param {string} name @param {Object<string, string | number>} attributes @param {...Element} children */
  function drawn(name, attributes, ...children) {
    const made = document.createElementNS('http://www.w3.org/2000/svg', name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
    made.append(...children);
    return made;
  }

  /**
   * Return the bar.
   * @param {{total: Quantity, low: Quantity, high: Quantity}} state
   * @param {Quantity | null} after what will be in when what was typed is in, too
   * @returns {HTMLElement}
   */
  function gauge({ total, low, high }, after) {
    const [now, then] = [total, after || total].map(({ value }) => reach(value, low.value, high.value));
    const bar = drawn('svg', { viewBox: `0 0 ${END} ${HEIGHT}`, preserveAspectRatio: 'none', 'aria-hidden': 'true' },
      drawn('rect', { class: 'gauge-then', x: 0, y: 2, width: then, height: HEIGHT - 4 }),
      drawn('rect', { class: 'gauge-now', x: 0, y: 2, width: now, height: HEIGHT - 4 }),
      drawn('rect', { class: 'gauge-enough', x: ENOUGH, y: 0, width: OVER - ENOUGH, height: HEIGHT }));
    const words = ['work-gauge-below', 'work-gauge-enough', 'work-gauge-over'].map((key) => el('span', {}, say(key)));
    return el('div.work-gauge', {}, bar, el('p', {}, words));
  }

  return Object.freeze({ gauge });
})();

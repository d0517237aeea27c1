'use strict';

var tankside = window.tankside || {};

/* Decimal text of exact values. Halves go away from zero; there is never an exponent. */
tankside.decimalText = (function () {
  const { rational, absolute, compare, divide, magnitude, multiply } = tankside.rational;
  const DIGITS = 30;

  /**
   * Return a value in full when its decimals end, else to `digits` significant digits.
   * @param {Rational} value
   * @param {number} [digits]
   */
  function decimalText(value, digits = DIGITS) {
    const places = placesWhenFinite(value);
    if (places !== null) return fixed(value, places);
    return fixed(rounded(value, digits), Math.max(placesFor(value, digits), 0));
  }

  /**
   * Return text of at most `significant` digits, and whether it is still exact.
   * @param {Rational} value
   * @param {number} significant
   * @returns {[string, boolean]}
   */
  function shortText(value, significant) {
    const short = rounded(value, significant);
    return [decimalText(short), compare(short, value) === 0];
  }

  /**
   * Return a value to `digits` significant digits, to the nearest unless told otherwise.
   * @param {Rational} value
   * @param {number} digits
   * @param {(value: Rational) => bigint} [whole]
   */
  function rounded(value, digits, whole = nearestWhole) {
    const step = powerOfTen(-placesFor(value, digits));
    return multiply(rational(whole(divide(value, step))), step);
  }

  /**
   * Return the whole number nearest to a value, a half away from zero.
   * @param {Rational} value
   */
  function nearestWhole(value) {
    const whole = (2n * absolute(value.numerator) + value.denominator) / (2n * value.denominator);
    return value.numerator >= 0n ? whole : -whole;
  }

  /**
   * Return how many decimals hold `digits` significant digits; negative left of the mark.
   * @param {Rational} value
   * @param {number} digits
   */
  function placesFor(value, digits) {
    if (value.numerator === 0n) return 0;
    let order = String(absolute(value.numerator)).length - String(value.denominator).length;
    if (compare(magnitude(value), powerOfTen(order)) < 0) order -= 1;
    return digits - 1 - order;
  }

  /**
   * Return the decimals of an expansion that ends, or null; it ends when only 2 and 5 divide the denominator.
   * @param {Rational} value
   */
  function placesWhenFinite(value) {
    let [rest, twos, fives] = [value.denominator, 0, 0];
    for (; rest % 2n === 0n; rest /= 2n) twos += 1;
    for (; rest % 5n === 0n; rest /= 5n) fives += 1;
    return rest === 1n ? Math.max(twos, fives) : null;
  }

  /**
   * Return a value, a whole number of units of the last place, without trailing zeros after the mark.
   * @param {Rational} value
   * @param {number} places
   */
  function fixed(value, places) {
    const scaled = absolute(value.numerator) * 10n ** BigInt(places) / value.denominator;
    const digits = String(scaled).padStart(places + 1, '0');
    const whole = digits.slice(0, digits.length - places);
    const decimals = digits.slice(digits.length - places).replace(/0+$/, '');
    return (value.numerator < 0n ? '-' : '') + whole + (decimals && '.' + decimals);
  }

  /** @param {number} exponent */
  function powerOfTen(exponent) {
    return exponent >= 0 ? rational(10n ** BigInt(exponent)) : rational(1n, 10n ** BigInt(-exponent));
  }

  return Object.freeze({ DIGITS, decimalText, shortText, rounded, nearestWhole });
})();

'use strict';

var tankside = window.tankside || {};

/** @typedef {{readonly numerator: bigint, readonly denominator: bigint}} Rational in lowest terms, denominator > 0 */

/* Exact fractions of whole numbers of any size. */
tankside.rational = (function () {

  /**
   * Return a fraction in lowest terms.
   * @param {bigint} numerator
   * @param {bigint} [denominator]
   * @returns {Rational}
   */
  function rational(numerator, denominator = 1n) {
    if (denominator === 1n) return { numerator, denominator };
    if (denominator === 0n) throw new RangeError('division by zero');
    const common = commonDivisor(absolute(numerator), absolute(denominator));
    const divisor = denominator < 0n ? -common : common;
    return { numerator: numerator / divisor, denominator: denominator / divisor };
  }

  /** @param {bigint} a @param {bigint} b */
  function commonDivisor(a, b) {
    while (b !== 0n) [a, b] = [b, a % b];
    return a;
  }

  /** @param {bigint} whole */
  function absolute(whole) {
    return whole < 0n ? -whole : whole;
  }

  /**
   * Return the fraction written as a decimal number or as `a/b`; each text is read once.
   * @param {string} text
   * @returns {Rational}
   */
  function read(text) {
    let found = known.get(text);
    if (found === undefined) known.set(text, (found = readAnew(text)));
    return found;
  }
  /** @type {Map<string, Rational>} */
  const known = new Map();

  /** @param {string} text */
  function readAnew(text) {
    if (text.includes('/')) {
      const [above, below] = text.split('/');
      return rational(BigInt(above), BigInt(below));
    }
    const [whole, decimals = ''] = text.split('.');
    return rational(BigInt(whole + decimals), 10n ** BigInt(decimals.length));
  }

  /** @param {Rational} a @param {Rational} b */
  function add(a, b) {
    return rational(a.numerator * b.denominator + b.numerator * a.denominator, a.denominator * b.denominator);
  }

  /** @param {Rational} a @param {Rational} b */
  function subtract(a, b) {
    return rational(a.numerator * b.denominator - b.numerator * a.denominator, a.denominator * b.denominator);
  }

  /** @param {Rational} a @param {Rational} b */
  function multiply(a, b) {
    return rational(a.numerator * b.numerator, a.denominator * b.denominator);
  }

  /** @param {Rational} a @param {Rational} b */
  function divide(a, b) {
    return rational(a.numerator * b.denominator, a.denominator * b.numerator);
  }

  /** @param {Rational} base @param {bigint} exponent */
  function power(base, exponent) {
    if (exponent < 0n) return power(divide(ONE, base), -exponent);
    return { numerator: base.numerator ** exponent, denominator: base.denominator ** exponent };
  }

  /** @param {Rational} a */
  function negative(a) {
    return { numerator: -a.numerator, denominator: a.denominator };
  }

  /** @param {Rational} a */
  function magnitude(a) {
    return a.numerator < 0n ? negative(a) : a;
  }

  /**
   * Return a number below, at or above 0, as `a` is below, at or above `b`.
   * @param {Rational} a
   * @param {Rational} b
   */
  function compare(a, b) {
    const left = a.numerator * b.denominator;
    const right = b.numerator * a.denominator;
    if (left === right) return 0;
    return left < right ? -1 : 1;
  }

  /**
   * Return the largest whole number that is not above `a`.
   * @param {Rational} a
   */
  function floor(a) {
    const towardsZero = a.numerator / a.denominator;
    return a.numerator < 0n && a.denominator !== 1n ? towardsZero - 1n : towardsZero;
  }

  const ZERO = rational(0n);
  const ONE = rational(1n);

  return Object.freeze({
    ZERO, ONE, rational, read, absolute, add, subtract, multiply, divide, power, negative, magnitude, compare, floor,
  });
})();

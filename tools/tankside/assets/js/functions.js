'use strict';

var tankside = window.tankside || {};

/* Roots, logarithm, angles and pi in whole numbers of 10^-60: `functions.py` line by line, which says how exact they
   are. Every division of whole numbers below has a numerator that is not negative and a positive denominator: there
   the truncation of BigInt and the floor of Python are the same. Signs are put back at the end. */
tankside.functions = (function () {
  const { ONE, absolute, rational, subtract } = tankside.rational;
  const SCALE = 10n ** 60n;
  const GUARD = 10n ** 10n;
  /** Halvings that bring 4 down to one unit: 4 * 10^60 < 2^202. */
  const BISECTIONS = 202;

  /**
   * Return the natural logarithm of a value above 0.
   * @param {Rational} value
   */
  function ln(value) {
    let [above, below] = [value.numerator, value.denominator];
    if (above <= 0n) throw new RangeError('logarithm of a value that is not above 0');
    let twos = bitLength(above) - bitLength(below);
    if (twos >= 0n ? above < below << twos : above << -twos < below) twos -= 1n;
    // value = 2^twos * m with 1 <= m < 2
    [above, below] = twos >= 0n ? [above, below << twos] : [above << -twos, below];
    return withoutGuard(twos * lnFromOneToTwo(2n, 1n) + lnFromOneToTwo(above, below));
  }

  /**
   * Return the square root of a value from 0 up; exact where it is rational.
   * @param {Rational} value
   */
  function root(value) {
    if (value.numerator < 0n) throw new RangeError('square root of a value below 0');
    const [above, below] = [wholeRoot(value.numerator), wholeRoot(value.denominator)];
    if (above ** 2n === value.numerator && below ** 2n === value.denominator) return rational(above, below);
    return withoutGuard(wholeRoot(value.numerator * SCALE ** 2n / value.denominator));
  }

  /**
   * Return the cube root of a value from 0 up; exact where it is rational.
   * @param {Rational} value
   */
  function cubeRoot(value) {
    if (value.numerator < 0n) throw new RangeError('cube root of a value below 0');
    const [above, below] = [wholeCubeRoot(value.numerator), wholeCubeRoot(value.denominator)];
    if (above ** 3n === value.numerator && below ** 3n === value.denominator) return rational(above, below);
    return withoutGuard(wholeCubeRoot(value.numerator * SCALE ** 3n / value.denominator));
  }

  function pi() {
    return withoutGuard(scaledPi());
  }

  /**
   * Return the angle from 0 to pi that has a value from -1 to 1 as its cosine.
   * @param {Rational} value
   */
  function arccos(value) {
    const [above, below] = [absolute(value.numerator), value.denominator];
    if (above > below) throw new RangeError('arccosine of a value that is not from -1 to 1');
    const angle = 2n * arctangent(wholeRoot((below - above) * SCALE ** 2n / (below + above)));
    return withoutGuard(value.numerator >= 0n ? angle : scaledPi() - angle);
  }

  /**
   * Return the depth of the segment that has this share of a circle's area, as a share of the diameter.
   * @param {Rational} share
   * @returns {Rational}
   */
  function segmentDepth(share) {
    const [above, below] = [share.numerator, share.denominator];
    if (above < 0n || above > below) throw new RangeError('segment with a share that is not from 0 to 1');
    if (2n * above > below) return subtract(ONE, segmentDepth(subtract(ONE, share)));
    const wanted = 2n * scaledPi() * above / below;
    let [low, high] = [0n, 4n * SCALE];
    for (let step = 0; step < BISECTIONS; step += 1) {
      const middle = (low + high) / 2n;
      if (middle - sine(middle) < wanted) low = middle;
      else high = middle;
    }
    return withoutGuard(sine(low / 4n) ** 2n / SCALE);
  }

  /**
   * Return ln m = 2 (y + y^3/3 + y^5/5 + ...) with y = (m - 1) / (m + 1), so 0 <= y <= 1/3.
   * @param {bigint} above
   * @param {bigint} below
   */
  function lnFromOneToTwo(above, below) {
    let power = (above - below) * SCALE / (above + below);
    const square = power * power / SCALE;
    let [total, odd] = [0n, 1n];
    while (power !== 0n) {
      total += power / odd;
      [power, odd] = [power * square / SCALE, odd + 2n];
    }
    return 2n * total;
  }

  /** Return pi, by Machin: 16 atan(1/5) - 4 atan(1/239). */
  function scaledPi() {
    knownPi = knownPi || 16n * arctangent(SCALE / 5n) - 4n * arctangent(SCALE / 239n);
    return knownPi;
  }
  let knownPi = 0n;

  /**
   * Return atan t = 2 atan(t / (1 + sqrt(1 + t^2))), and for 0 <= t <= 1/5 it is t - t^3/3 + t^5/5 - ...
   * @param {bigint} tangent
   * @returns {bigint}
   */
  function arctangent(tangent) {
    if (5n * tangent > SCALE) {
      return 2n * arctangent(tangent * SCALE / (SCALE + wholeRoot(SCALE * SCALE + tangent * tangent)));
    }
    const square = tangent * tangent / SCALE;
    let [power, total, odd, sign] = [tangent, 0n, 1n, 1n];
    while (power !== 0n) {
      total += sign * (power / odd);
      [power, odd, sign] = [power * square / SCALE, odd + 2n, -sign];
    }
    return total;
  }

  /**
   * Return sin a = a - a^3/3! + a^5/5! - ... for 0 <= a <= 4.
   * @param {bigint} angle
   */
  function sine(angle) {
    const square = angle * angle / SCALE;
    let [term, total, last, sign] = [angle, 0n, 1n, 1n];
    while (term !== 0n) {
      total += sign * term;
      [term, last, sign] = [term * square / (SCALE * (last + 1n) * (last + 2n)), last + 2n, -sign];
    }
    return total;
  }

  /** @param {bigint} scaled */
  function withoutGuard(scaled) {
    const whole = (2n * absolute(scaled) + GUARD) / (2n * GUARD);
    return rational(scaled >= 0n ? whole : -whole, SCALE / GUARD);
  }

  /** @param {bigint} whole not negative */
  function bitLength(whole) {
    return whole === 0n ? 0n : BigInt(whole.toString(2).length);
  }

  /**
   * Return the largest whole number whose square is at most `whole`, by Newton's steps from above.
   * @param {bigint} whole not negative
   */
  function wholeRoot(whole) {
    let guess = 1n << (bitLength(whole) + 1n) / 2n;
    while (guess * guess > whole) guess = (guess + whole / guess) / 2n;
    return guess;
  }

  /**
   * Return the largest whole number whose cube is at most `whole`, by Newton's steps from above.
   * @param {bigint} whole not negative
   */
  function wholeCubeRoot(whole) {
    let guess = 1n << (bitLength(whole) + 2n) / 3n;
    while (guess ** 3n > whole) guess = (2n * guess + whole / (guess * guess)) / 3n;
    return guess;
  }

  return Object.freeze({ ln, root, cubeRoot, pi, arccos, segmentDepth });
})();

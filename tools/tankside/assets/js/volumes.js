'use strict';

var tankside = window.tankside || {};

/** @typedef {{readonly low: Rational, readonly high: Rational}} Interval a volume known to lie between the two [L] */
/** @typedef {{readonly volume: Interval, readonly parts: ReadonlyMap<string, Interval>}} Contents by material */
/** @typedef {[string, string]} IntervalText exact: `["3/2", "5"]` */
/** @typedef {{volume: IntervalText, parts: Object<string, IntervalText>}} ContentsText */

/* Volumes as exact intervals, and what stands in a piece of equipment: `volumes.py`, and as `portable.py` writes it. */
tankside.volumes = (function () {
  const { ZERO, ONE, rational, read, add, subtract, multiply, divide, negative, compare, floor } = tankside.rational;

  /** What is known of the share of a material is kept to a millionth of a litre, rounded outward. */
  const GRAIN = 1000000n;
  /** Terms of the series for e**x. */
  const TERMS = 8n;

  /** @param {Rational} a @param {Rational} b */
  function least(a, b) {
    return compare(b, a) < 0 ? b : a;
  }

  /** @param {Rational} a @param {Rational} b */
  function most(a, b) {
    return compare(b, a) > 0 ? b : a;
  }

  /** @param {Rational[]} volumes */
  function total(volumes) {
    return volumes.reduce(add, ZERO);
  }

  /** @param {Rational} low @param {Rational} high @returns {Interval} */
  function interval(low, high) {
    return { low, high };
  }

  const NOTHING = interval(ZERO, ZERO);

  /** @param {Interval} one @param {Interval} other */
  function plus(one, other) {
    return interval(add(one.low, other.low), add(one.high, other.high));
  }

  /**
   * Return what is left of one without the other, never below nothing.
   * @param {Interval} one
   * @param {Interval} other
   */
  function less(one, other) {
    return interval(most(subtract(one.low, other.high), ZERO), most(subtract(one.high, other.low), ZERO));
  }

  /** @param {Interval} one @param {Rational} limit */
  function atMost(one, limit) {
    return interval(least(one.low, limit), least(one.high, limit));
  }

  /**
   * Return what lies in both, null when nothing does.
   * @param {Interval} one
   * @param {Interval} other
   */
  function within(one, other) {
    const found = interval(most(one.low, other.low), least(one.high, other.high));
    return compare(found.low, found.high) <= 0 ? found : null;
  }

  /**
   * Return an interval rounded outward to the grain.
   * @param {Interval} one
   */
  function outward(one) {
    const grain = rational(GRAIN);
    return interval(
      rational(floor(multiply(one.low, grain)), GRAIN), rational(-floor(negative(multiply(one.high, grain))), GRAIN));
  }

  /** @param {Rational} volume */
  function isSome(volume) {
    return volume.numerator > 0n;
  }

  /**
   * Return contents with what is known of their parts made consistent with their volume.
   * @param {Interval} volume
   * @param {Iterable<[string, Interval]>} parts
   * @returns {Contents}
   */
  function contents(volume, parts) {
    const known = [...parts];
    if (known.length === 1) known[0] = [known[0][0], volume];
    const kept = known.filter(([, part]) => isSome(part.high))
      .map(([name, part]) => /** @type {[string, Interval]} */ ([name, atMost(outward(part), volume.high)]))
      .filter(([, part]) => isSome(part.high));
    return { volume, parts: new Map(kept.sort(([one], [other]) => (one < other ? -1 : 1))) };
  }

  const EMPTY = contents(NOTHING, []);

  /**
   * Return so much of one material.
   * @param {string} material
   * @param {Interval} volume
   */
  function poured(material, volume) {
    return contents(volume, [[material, volume]]);
  }

  /**
   * Return how much of a material is there.
   * @param {Contents} held
   * @param {string} material
   */
  function amount(held, material) {
    return held.parts.get(material) || NOTHING;
  }

  /** @param {Contents} one @param {Contents} other */
  function together(one, other) {
    const names = new Set([...one.parts.keys(), ...other.parts.keys()]);
    const parts = [...names].map((name) => /** @type {[string, Interval]} */ (
      [name, plus(amount(one, name), amount(other, name))]));
    return contents(plus(one.volume, other.volume), parts);
  }

  /**
   * Return so much of a mixture, taken as perfectly mixed.
   * @param {Contents} mixture
   * @param {Interval} volume
   */
  function shareOf(mixture, volume) {
    const names = [...mixture.parts.keys()];
    return contents(volume, names.map((name) => [name, names.length === 1 ? volume : share(mixture, name, volume)]));
  }

  /** @param {Contents} mixture @param {string} name @param {Interval} volume */
  function share(mixture, name, volume) {
    const own = amount(mixture, name);
    const others = [...mixture.parts].filter(([other]) => other !== name).map(([, part]) => part);
    const [lows, highs] = [total(others.map((part) => part.low)), total(others.map((part) => part.high))];
    const othersLeast = most(most(subtract(mixture.volume.low, own.high), lows), ZERO);
    const othersMost = least(subtract(mixture.volume.high, own.low), highs);
    const low = own.low.numerator === 0n ? ZERO : divide(own.low, add(own.low, othersMost));
    const high = divide(own.high, add(own.high, othersLeast));
    return interval(multiply(volume.low, low), least(multiply(volume.high, high), volume.high));
  }

  /**
   * Return what is taken out and what is left; when `taken` is null, all but the heel goes.
   * @param {Contents} mixture
   * @param {Interval | null} taken
   * @param {Rational} heel
   * @returns {[Contents, Contents]}
   */
  function divided(mixture, taken, heel) {
    const { volume } = mixture;
    const left = taken === null ? atMost(volume, heel) : less(volume, taken);
    const out = taken === null
      ? less(volume, interval(heel, heel))
      : interval(least(taken.low, volume.low), least(taken.high, volume.high));
    return [shareOf(mixture, out), shareOf(mixture, left)];
  }

  /**
   * Return what stands in a line and what came out of it, after `passed` has come out at its end.
   * @param {Contents} line
   * @param {Rational} capacity
   * @param {Contents} incoming
   * @param {Interval} passed
   * @returns {[Contents, Contents]}
   */
  function flushed(line, capacity, incoming, passed) {
    const filled = less(plus(line.volume, incoming.volume), passed);
    const kept = atMost(interval(most(filled.low, line.volume.low), filled.high), capacity);
    const inside = isSome(passed.low) ? interval(capacity, capacity) : kept;
    // Liquid may lie in layers: until one volume has passed, all that stood there may be there still.
    const isThrough = compare(passed.low, capacity) >= 0;
    const leftOver = isThrough ? leftOverAfter(divide(passed.low, capacity)) : ONE;
    const names = [...new Set([...line.parts.keys(), ...incoming.parts.keys()])];
    const staying = [...line.parts].filter(([name]) => !incoming.parts.has(name));
    const others = multiply(staying.map(([, part]) => part.high).reduce(add, ZERO), leftOver);
    const surely = most(subtract(inside.low, others), ZERO);
    /** @type {Array<[string, Interval]>} */
    const here = names.map((name) => {
      const kept = multiply(amount(line, name).high, leftOver);
      const high = least(add(kept, least(amount(incoming, name).high, capacity)), inside.high);
      return [name, interval(incoming.parts.size === 1 && incoming.parts.has(name) ? surely : ZERO, high)];
    });
    /** @type {Array<[string, Interval]>} */
    const out = names.map((name) => {
      const [old, added] = [amount(line, name), amount(incoming, name)];
      const high = least(add(old.high, added.high), passed.high);
      return [name, interval(most(subtract(added.low, capacity), ZERO), high)];
    });
    return [contents(inside, here), contents(passed, out)];
  }

  /**
   * Return the most that is left of what stood in a line, `1 / sum(x**k / k!)`.
   * @param {Rational} passed in volumes of the line
   */
  function leftOverAfter(passed) {
    let [term, sum] = [ONE, ONE];
    for (let count = 1n; count <= TERMS; count += 1n) {
      term = divide(multiply(term, passed), rational(count));
      sum = add(sum, term);
    }
    return divide(ONE, sum);
  }

  /** @param {IntervalText} written */
  function readInterval([low, high]) {
    return interval(read(low), read(high));
  }

  /** @param {Interval} one @returns {IntervalText} */
  function intervalText({ low, high }) {
    return [exactText(low), exactText(high)];
  }

  /** @param {Rational} volume */
  function exactText({ numerator, denominator }) {
    return denominator === 1n ? `${numerator}` : `${numerator}/${denominator}`;
  }

  /** @param {ContentsText} written @returns {Contents} */
  function readContents({ volume, parts }) {
    const known = Object.entries(parts).map(([name, part]) => /** @type {[string, Interval]} */ (
      [name, readInterval(part)]));
    return { volume: readInterval(volume), parts: new Map(known) };
  }

  /** @param {Contents} held @returns {ContentsText} */
  function contentsText({ volume, parts }) {
    return {
      volume: intervalText(volume),
      parts: Object.fromEntries([...parts].map(([name, part]) => [name, intervalText(part)])),
    };
  }

  return Object.freeze({
    EMPTY, NOTHING, contents, interval, isSome, plus, less, within, poured, together, divided, flushed,
    readInterval, intervalText, readContents, contentsText,
  });
})();

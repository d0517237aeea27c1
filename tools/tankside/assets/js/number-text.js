'use strict';

var tankside = window.tankside || {};

/* The text of a quantity as pages show it: `views/numbers.py` and `counterpart.py`. */
tankside.numberText = (function () {
  const { compare, floor, magnitude, negative } = tankside.rational;
  const { decimalText, rounded } = tankside.decimalText;
  const { unitOf, shortQuantity, numberOf, withUnit } = tankside.units;
  const { valueText } = tankside.working;

  /** Significant digits of a value that is not rounded to a vessel, and of the same in the other system. */
  const DIGITS = 4;
  const OTHER_DIGITS = 3;
  const METRIC = 'metric';
  const CUSTOMARY = new Set(['US fl oz', 'US pt', 'US qt', 'US gal', 'in3', 'ft3', 'oz', 'lb']);
  /** Unit -> its counterparts, the larger one for values of at least one of it. */
  const COUNTERPARTS = new Map([
    ...alike(['mL', 'L', 'm3', 'UK fl oz', 'UK gal'], ['US gal', 'US fl oz']),
    ...alike(['US fl oz', 'US pt', 'US qt', 'US gal', 'in3', 'ft3'], ['L', 'mL']),
    ...alike(['mg', 'g', 'kg'], ['lb', 'oz']),
    ...alike(['oz', 'lb'], ['kg', 'g']),
  ]);

  /** @param {string[]} symbols @param {[string, string]} counterparts @returns {Array<[string, [string, string]]>} */
  function alike(symbols, counterparts) {
    return symbols.map((symbol) => [symbol, counterparts]);
  }

  /**
   * Return a quantity in the unit it was given, in full unless that is longer than a line can take.
   * @param {Quantity} quantity
   */
  function exactText(quantity) {
    return valueText(quantity)[0];
  }

  /**
   * Return a quantity in the book's first system of units; "about" when digits are left away.
   * @param {Quantity} quantity
   * @param {string} system
   * @param {string} about
   */
  function primaryText(quantity, system, about) {
    return short(primary(quantity, system), DIGITS, about);
  }

  /** @param {Quantity} quantity @param {string} system */
  function primary(quantity, system) {
    const other = counterpart(quantity);
    return other === null || belongsTo(quantity, system) ? quantity : other;
  }

  /**
   * Return what lies between two quantities in the book's first system of units, rounded outward.
   * @param {Quantity} low
   * @param {Quantity} high
   * @param {string} system
   * @param {{about: string, both: string}} words
   */
  function rangeText(low, high, system, { about, both }) {
    const [first, last] = [primary(low, system), primary(high, system)];
    if (compare(low.value, high.value) === 0) return short(first, OTHER_DIGITS, about);
    const start = decimalText(rounded(numberOf(first), OTHER_DIGITS, floor));
    const end = decimalText(rounded(numberOf(last), OTHER_DIGITS, (value) => -floor(negative(value))));
    return both
      .replace('{low}', first.unit === last.unit ? start : withUnit(start, first.unit.symbol))
      .replace('{high}', withUnit(end, last.unit.symbol));
  }

  /**
   * Return the same quantity in the other system of units, null where there is none to show.
   * @param {Quantity} quantity
   * @param {string} system
   * @param {string} about
   */
  function otherText(quantity, system, about) {
    const other = counterpart(quantity);
    return other && short(belongsTo(quantity, system) ? other : quantity, OTHER_DIGITS, about);
  }

  /** @param {Quantity} quantity @returns {Quantity | null} */
  function counterpart({ value, unit }) {
    const symbols = COUNTERPARTS.get(unit.symbol);
    if (symbols === undefined) return null;
    const [large, small] = symbols.map(unitOf);
    return { value, unit: compare(magnitude(value), large.factor) >= 0 ? large : small };
  }

  /** @param {Quantity} quantity @param {string} system */
  function belongsTo(quantity, system) {
    return !CUSTOMARY.has(quantity.unit.symbol) === (system === METRIC);
  }

  /** @param {Quantity} quantity @param {number} digits @param {string} about */
  function short(quantity, digits, about) {
    const [text, isExact] = shortQuantity(quantity, digits);
    const shown = text.replace(/\bdeg([CF])\b/g, '°$1');
    return isExact ? shown : about.replace('{value}', shown);
  }

  return Object.freeze({ exactText, primaryText, otherText, rangeText });
})();

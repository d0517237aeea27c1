'use strict';

var tankside = window.tankside || {};

/** @typedef {{symbol: string, kind: string, factor: Rational, offset: Rational}} Unit */
/** @typedef {{value: Rational, unit: Unit}} Quantity a value in base units, and the unit it is shown in */

/* Units and quantities. The table is `units.json`, which the build puts into unit-table.js. */
tankside.units = (function () {
  const { read, add, subtract, multiply, divide, ZERO, ONE } = tankside.rational;
  const { decimalText, shortText } = tankside.decimalText;
  /** @type {any} */
  const table = tankside.unitTable;

  /** @type {Map<string, Unit>} */
  const UNITS = new Map(table.units.map((/** @type {any} */ entry) => [
    entry.symbol,
    { symbol: entry.symbol, kind: entry.kind, factor: read(entry.factor), offset: read(entry.offset || '0') },
  ]));
  /** Kind -> the largest value there can be, in base units, where nature sets one. @type {Map<string, Rational>} */
  const MOST = new Map(Object.entries(table.kinds).filter(([, kind]) => kind.most)
    .map(([name, kind]) => [name, read(kind.most)]));
  /** A share as a plain number. @type {Map<string, Unit>} */
  const PLAIN = new Map([...MOST.keys()].map((kind) => [kind, { symbol: '', kind, factor: ONE, offset: ZERO }]));

  /** @param {string} symbol of the table @returns {Unit} */
  function unitOf(symbol) {
    return /** @type {Unit} */ (UNITS.get(symbol));
  }

  /** @param {Rational} number @param {Unit} unit */
  function toBase(number, unit) {
    return add(multiply(number, unit.factor), unit.offset);
  }

  /** @param {Rational} value @param {Unit} unit */
  function fromBase(value, unit) {
    return divide(subtract(value, unit.offset), unit.factor);
  }

  /**
   * Return the number that stands before the unit.
   * @param {Quantity} quantity
   */
  function numberOf(quantity) {
    return fromBase(quantity.value, quantity.unit);
  }

  /** @param {Quantity} quantity */
  function quantityText(quantity) {
    return withUnit(decimalText(numberOf(quantity)), quantity.unit.symbol);
  }

  /**
   * Return a quantity to at most `significant` digits, and whether it is still exact.
   * @param {Quantity} quantity
   * @param {number} significant
   * @returns {[string, boolean]}
   */
  function shortQuantity(quantity, significant) {
    const [text, isExact] = shortText(numberOf(quantity), significant);
    return [withUnit(text, quantity.unit.symbol), isExact];
  }

  /** @param {string} number @param {string} symbol */
  function withUnit(number, symbol) {
    return `${number} ${symbol}`.trimEnd();
  }

  return Object.freeze({
    UNITS, MOST, PLAIN, unitOf, toBase, fromBase, numberOf, quantityText, shortQuantity, withUnit,
  });
})();

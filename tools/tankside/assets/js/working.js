'use strict';

var tankside = window.tankside || {};

/** @typedef {Map<string, Unit>} Units by kind */

/* The working of a result in the author's order, so that a pocket calculator can follow it: `working.py` line by
   line. The formula, the values as given, the values converted where their units do not work together, the result. */
tankside.working = (function () {
  const { rational, compare, divide, magnitude, subtract } = tankside.rational;
  const { MOST, PLAIN, unitOf, numberOf, fromBase, quantityText, shortQuantity } = tankside.units;
  const { evaluate, settled, namesIn, asTyped } = tankside.evaluation;
  const { decimalText } = tankside.decimalText;
  const { infix } = tankside;

  /** Significant digits of a value that does not end or is too long to write. */
  const SIGNIFICANT = 6;
  const LONGEST = 14;
  /** Units move where a rounded value is rounded, at the 30th digit. */
  const CLOSE = rational(10n ** 25n);

  /** Shares as plain numbers; the units of a coherent system belong together, so that its numbers can be typed. */
  const METRE = new Map([
    ...PLAIN, ...system('', 'pH', 'm', 'm2', 'm3', 'kg', 's', 'K', 'kg/m3', 'm3/s', '1/s'),
    ...system('Pa', 'S/m', 'A', 'V', 'W', 'm/s2', 'mmol/L', 'kg/mol', 'm3/mol'),
  ]);
  const CENTIMETRE = new Map([...METRE, ...system('cm', 'cm2', 'mL', 'g', 'g/mL')]);

  /** @param {...string} symbols @returns {Array<[string, Unit]>} */
  function system(...symbols) {
    return symbols.map((symbol) => [unitOf(symbol).kind, unitOf(symbol)]);
  }

  /** @param {Units} units @param {string} kind */
  function unitIn(units, kind) {
    return /** @type {Unit} */ (units.get(kind));
  }

  /**
   * Return the lines of working for `name = tree`.
   * @param {string} name
   * @param {Tree} tree
   * @param {ReadonlyMap<string, Quantity>} known holds at least the names in the tree
   * @param {Quantity} result
   * @returns {string[]}
   */
  function working(name, tree, known, result) {
    const formula = `${name} = ${infix(tree, (each) => each)}`;
    const taken = settled(tree, new Map([...known].map(([each, quantity]) => [each, quantity.value])));
    const given = new Map(namesIn(taken).map((each) => [each, /** @type {Quantity} */ (known.get(each))]));
    const lines = [formula, filled(taken, given)];
    if (!canBeTyped(taken, given, result)) lines.push(...convertedLines(taken, given, result));
    lines.push(resultLine(result));
    return [...new Set(lines)];
  }

  /**
   * Return a value as working shows it, in full unless that is too long, and whether it is in full.
   * @param {Quantity} quantity
   * @returns {[string, boolean]}
   */
  function valueText(quantity) {
    const text = quantityText(quantity);
    // A decimal that does not end fills 30 places, so a short text is the whole value.
    if ([...text].length - [...quantity.unit.symbol].length <= LONGEST) return [text, true];
    return shortQuantity(quantity, SIGNIFICANT);
  }

  /** @param {Tree} tree @param {ReadonlyMap<string, Quantity>} given */
  function filled(tree, given) {
    const texts = new Map([...given].map(([name, quantity]) => [name, valueText(quantity)]));
    const sign = [...texts.values()].every(([, isExact]) => isExact) ? '=' : '≈';
    return `${sign} ${infix(tree, (name) => /** @type {[string, boolean]} */ (texts.get(name))[0])}`;
  }

  /** @param {Quantity} result */
  function resultLine(result) {
    const [text, isExact] = valueText(result);
    return `${isExact ? '=' : '≈'} ${text}`;
  }

  /** @param {Tree} tree @param {ReadonlyMap<string, Quantity>} given @param {Quantity} result */
  function convertedLines(tree, given, result) {
    for (const units of candidates(given, result)) {
      /** @param {Quantity} quantity */
      const convert = ({ value, unit }) => ({ value, unit: unitIn(units, unit.kind) });
      const converted = new Map([...given].map(([name, quantity]) => [name, convert(quantity)]));
      const outcome = convert(result);
      const inUnits = withConstantsIn(tree, units);
      if (canBeTyped(inUnits, converted, outcome)) return [filled(inUnits, converted), resultLine(outcome)];
    }
    return [];
  }

  /**
   * Return the tree with its constants in these units too, where that is no long number.
   * @param {Tree} tree
   * @param {Units} units
   * @returns {Tree}
   */
  function withConstantsIn(tree, units) {
    if (typeof tree === 'string' || tree[0] === 'name') return tree;
    const [op, ...args] = /** @type {[string, ...Tree[]]} */ (tree);
    if (op !== 'constant') return [op, ...args.map((arg) => withConstantsIn(arg, units))];
    const own = unitOf(args[1]);
    const unit = units.get(own.kind) || own;
    const number = decimalText(fromBase(evaluate(tree, new Map()), unit));
    return number.length <= LONGEST ? ['constant', number, unit.symbol] : tree;
  }

  /**
   * Return sets of units to convert to, the least conversion first.
   * @param {ReadonlyMap<string, Quantity>} given
   * @param {Quantity} result
   * @returns {Units[]}
   */
  function candidates(given, result) {
    /** @type {Units} */
    const common = new Map([...given.values()].reverse().map(({ unit }) => [unit.kind, unit]));
    common.set(result.unit.kind, result.unit);
    const isShare = (/** @type {string} */ kind) => MOST.has(kind) || kind === unitOf('%').kind;
    const plain = new Map(common);
    for (const kind of [...common.keys()].filter(isShare)) plain.set(kind, unitIn(METRE, kind));
    return [common, plain, CENTIMETRE, METRE];
  }

  /**
   * Whether the bare numbers give the number of the result, as a person at a calculator would type them.
   * @param {Tree} tree
   * @param {ReadonlyMap<string, Quantity>} given
   * @param {Quantity} result
   */
  function canBeTyped(tree, given, result) {
    const numbers = new Map([...given].map(([name, quantity]) => [name, numberOf(quantity)]));
    let typed;
    try {
      typed = evaluate(asTyped(tree), numbers);
    } catch (error) {
      if (error instanceof RangeError) return false;
      throw error;
    }
    const wanted = numberOf(result);
    return compare(magnitude(subtract(typed, wanted)), divide(magnitude(wanted), CLOSE)) <= 0;
  }

  return Object.freeze({ working, valueText });
})();

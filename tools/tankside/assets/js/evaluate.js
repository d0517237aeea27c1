'use strict';

var tankside = window.tankside || {};

/** @typedef {any} Tree a text or a list that begins with one: `"0.25"`, `["name", "make"]`, `["mul", ..., ...]` */
/** @typedef {ReadonlyMap<string, Rational>} Values by name, in base units */

/* The exact value of an expression tree: nested lists, numbers as text, as `to_json` of `expression.py` writes them. */
tankside.evaluation = (function () {
  const { ONE, ZERO, rational, read, add, subtract, multiply, divide, power, negative, compare, floor } =
    tankside.rational;
  const { DIGITS, nearestWhole, rounded } = tankside.decimalText;
  const { ln, root, cubeRoot, arccos, segmentDepth, pi } = tankside.functions;
  const { toBase, unitOf } = tankside.units;

  /**
   * Those that work out all their arguments; `choose` and `table` leave out what is not chosen.
   * @type {Map<string, (...values: any[]) => Rational>}
   */
  const OPERATIONS = new Map(Object.entries({
    'add': add,
    'sub': subtract,
    'mul': multiply,
    'div': divide,
    'power': wholePower,
    'round-up': roundUp,
    'round-down': roundDown,
    'round-nearest': roundNearest,
    'min': least,
    'max': most,
    'fewest': fewest,
    'ln': ln,
    'root': root,
    'cube-root': cubeRoot,
    'arccos': arccos,
    'segment-depth': segmentDepth,
    'pi': pi,
  }));
  /** Operations whose value is not rational. */
  const IRRATIONAL = new Set(['pi', 'ln', 'root', 'cube-root', 'arccos', 'segment-depth']);
  /** Where `fewest` gives up: an exact power of a base near 1 grows longer with each step. */
  const LARGEST_POWER = 1000n;
  /** What stands in a tree without being worked out. */
  const LEAVES = new Set(['name', 'constant']);

  /**
   * Return the value of a tree. One with an irrational operation in it is rounded once, at the end, to 30
   * significant digits.
   * @param {Tree} tree
   * @param {Values} values
   * @returns {Rational}
   */
  function evaluate(tree, values) {
    const value = exact(tree, values);
    return isIrrational(tree) ? rounded(value, DIGITS) : value;
  }

  /**
   * @param {Tree} tree
   * @param {Values} values
   * @returns {Rational}
   */
  function exact(tree, values) {
    if (typeof tree === 'string') return read(tree);
    const [op, ...args] = /** @type {[string, ...Tree[]]} */ (tree);
    if (op === 'name') return valueOf(args[0], values);
    if (op === 'constant') return toBase(read(args[0]), unitOf(args[1]));
    if (op === 'choose' || op === 'table') return exact(chosen(tree, values), values);
    const operation = OPERATIONS.get(op);
    if (operation === undefined) throw new RangeError(`no operation '${op}'`);
    return operation(...args.map((arg) => exact(arg, values)));
  }

  /**
   * Return the tree with each choice and look-up put in place of the operation that makes it.
   * @param {Tree} tree
   * @param {Values} values
   * @returns {Tree}
   */
  function settled(tree, values) {
    if (isLeaf(tree)) return tree;
    const [op, ...args] = /** @type {[string, ...Tree[]]} */ (tree);
    if (op === 'choose' || op === 'table') return settled(chosen(tree, values), values);
    return [op, ...args.map((arg) => settled(arg, values))];
  }

  /**
   * Return the branch that a choice takes, or what a table has for its value.
   * @param {Tree} tree
   * @param {Values} values
   * @returns {Tree}
   */
  function chosen([op, ...args], values) {
    const first = exact(args[0], values);
    if (op === 'choose') return compare(first, exact(args[1], values)) <= 0 ? args[2] : args[3];
    // the limit of a row, then what is found there; the first row whose limit the value does not pass
    let at = 1;
    while (at + 1 < args.length && compare(first, exact(args[at], values)) > 0) at += 2;
    return at + 1 < args.length ? args[at + 1] : args[at];
  }

  /** @param {string} name @param {Values} values */
  function valueOf(name, values) {
    const value = values.get(name);
    if (value === undefined) throw new RangeError(`no value for '${name}'`);
    return value;
  }

  /** @param {Rational} base @param {Rational} exponent */
  function wholePower(base, exponent) {
    return power(base, exponent.numerator / exponent.denominator);
  }

  /** @param {...Rational} values */
  function least(...values) {
    return values.reduce((best, each) => (compare(each, best) < 0 ? each : best));
  }

  /** @param {...Rational} values */
  function most(...values) {
    return values.reduce((best, each) => (compare(each, best) > 0 ? each : best));
  }

  /** @param {Rational} value @param {Rational} step */
  function roundUp(value, step) {
    return negative(roundDown(negative(value), step));
  }

  /** @param {Rational} value @param {Rational} step */
  function roundNearest(value, step) {
    return multiply(rational(nearestWhole(divide(value, step))), step);
  }

  /** @param {Rational} value @param {Rational} step */
  function roundDown(value, step) {
    return multiply(rational(floor(divide(value, step))), step);
  }

  /** @param {Rational} base @param {Rational} limit */
  function fewest(base, limit) {
    if (compare(base, ZERO) < 0 || compare(base, ONE) >= 0 || compare(limit, ZERO) <= 0) {
      throw new RangeError('no power of the base is sure to come down to the limit');
    }
    let count = 0n;
    while (compare(power(base, count), limit) > 0) {
      if (count === LARGEST_POWER) throw new RangeError('the largest power has not come down to the limit');
      count += 1n;
    }
    return rational(count);
  }

  /** @param {Tree} tree */
  function isLeaf(tree) {
    return typeof tree === 'string' || LEAVES.has(tree[0]);
  }

  /** @param {Tree} tree @returns {boolean} */
  function isIrrational(tree) {
    return !isLeaf(tree) && (IRRATIONAL.has(tree[0]) || tree.slice(1).some(isIrrational));
  }

  /**
   * Return each name in a tree once, in the order its author wrote them.
   * @param {Tree} tree
   * @returns {string[]}
   */
  function namesIn(tree) {
    /** @type {Set<string>} */
    const names = new Set();
    (function collect(/** @type {Tree} */ part) {
      if (part[0] === 'name') names.add(part[1]);
      else if (!isLeaf(part)) part.slice(1).forEach(collect);
    })(tree);
    return [...names];
  }

  /**
   * Return the tree with the bare number of each constant, as a person at a calculator types it.
   * @param {Tree} tree
   * @returns {Tree}
   */
  function asTyped(tree) {
    if (isLeaf(tree)) return tree[0] === 'constant' ? tree[1] : tree;
    return [tree[0], ...tree.slice(1).map(asTyped)];
  }

  return Object.freeze({ evaluate, settled, namesIn, asTyped });
})();

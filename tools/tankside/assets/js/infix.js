'use strict';

var tankside = window.tankside || {};

/* A tree written as a person writes it, with parentheses only where they are needed: `infix.py` line by line. */
tankside.infix = (function () {
  const { withUnit } = tankside.units;

  const SIGNS = new Map(Object.entries({ add: '+', sub: '\u2212', mul: '\u00d7', div: '\u00f7' }));
  const ROUNDED = new Map([
    ['round-up', 'rounded up'],
    ['round-down', 'rounded down'],
    ['round-nearest', 'rounded'],
  ]);
  const LEVELS = new Map(Object.entries({ add: 1, sub: 1, mul: 2, div: 2, power: 3 }));
  const ATOM = 4;
  const RAISED = [...'⁰¹²³⁴⁵⁶⁷⁸⁹'];

  /**
   * Return the text of a tree.
   * @param {Tree} tree
   * @param {(name: string) => string} leaf gives the text that stands for a name
   * @returns {string}
   */
  function infix(tree, leaf) {
    if (typeof tree === 'string') return tree;
    const [op, ...args] = /** @type {[string, ...Tree[]]} */ (tree);
    if (op === 'constant') return withUnit(args[0], args[1]);
    if (op === 'name') return leaf(args[0]);
    if (op === 'pi') return 'π';
    if (op === 'power' && typeof args[1] === 'string') return base(args[0], leaf) + raised(args[1]);
    if (op === 'table') return `(the table's row for ${lookedUp(tree, leaf).join(' and ')})`;
    if (op === 'fewest') {
      return `(the fewest n with ${base(args[0], leaf)} to the power n ≤ ${infix(args[1], leaf)})`;
    }
    if (op === 'power') return `${base(args[0], leaf)} to the power ${infix(args[1], leaf)}`;
    if (SIGNS.has(op)) {
      const [left, right] = args;
      return `${operand(left, leaf, level(tree))} ${SIGNS.get(op)} ${rightOperand(op, right, leaf)}`;
    }
    const texts = args.map((arg) => infix(arg, leaf));
    if (op === 'root') return `√(${texts[0]})`;
    if (op === 'cube-root') return `cube root of (${texts[0]})`;
    if (op === 'arccos') return `arccos(${texts[0]}) rad`;
    if (op === 'segment-depth') return `(the depth in diameters of a circle's segment with ${texts[0]} of its area)`;
    if (op === 'choose') return `(${texts[2]} where ${texts[0]} ≤ ${texts[1]}, else ${texts[3]})`;
    const rounded = ROUNDED.get(op);
    if (rounded) return `(${texts[0]}, ${rounded}${args[1] === '1' ? '' : ` to ${texts[1]}`})`;
    return `${op}(${texts.join(', ')})`;
  }

  /**
   * Return what a table is read at; its rows may be tables themselves.
   * @param {Tree} tree
   * @param {(name: string) => string} leaf
   * @returns {string[]}
   */
  function lookedUp(tree, leaf) {
    return tree[0] === 'table' ? [infix(tree[1], leaf), ...lookedUp(tree[3], leaf)] : [];
  }

  /** @param {string} op @param {Tree} tree @param {(name: string) => string} leaf */
  function rightOperand(op, tree, leaf) {
    const needed = /** @type {number} */ (LEVELS.get(op)) + (op === 'sub' || op === 'div' ? 1 : 0);
    const text = operand(tree, leaf, needed);
    return text.startsWith('-') ? `(${text})` : text;
  }

  /**
   * Return what is raised to a power; a value with its unit is squared as a whole: (25 mm)².
   * @param {Tree} tree
   * @param {(name: string) => string} leaf
   */
  function base(tree, leaf) {
    const text = infix(tree, leaf);
    return level(tree) < ATOM || text.includes(' ') || text.startsWith('-') ? `(${text})` : text;
  }

  /** @param {Tree} tree @param {(name: string) => string} leaf @param {number} needed */
  function operand(tree, leaf, needed) {
    const text = infix(tree, leaf);
    return level(tree) < needed ? `(${text})` : text;
  }

  /** @param {Tree} tree */
  function level(tree) {
    if (typeof tree === 'string') return /** @type {number} */ (tree.includes('/') ? LEVELS.get('div') : ATOM);
    return LEVELS.get(tree[0]) || ATOM;
  }

  /** @param {string} digits */
  function raised(digits) {
    return [...digits].map((digit) => RAISED[Number(digit)] || digit).join('');
  }

  return infix;
})();

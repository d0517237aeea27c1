'use strict';

var tankside = window.tankside || {};

/* A quantity as somebody wrote it: `parse_quantity` of units.py, with the same refusals. */
tankside.reading = (function () {
  const { read } = tankside.rational;
  const { DIGITS } = tankside.decimalText;
  const { UNITS, toBase, unitOf } = tankside.units;
  const { nearMisses, unitTable } = tankside;

  const ALIASES = new Map(Object.entries(unitTable.aliases));
  const NEAR = new Map(Object.entries(unitTable.near));
  const RATIO = 'ratio';
  const NUMBER = /^-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?$/;
  const NUMBER_AND_REST = /^(-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?)([^]+)$/;
  /** Percent signs that say what they are a share of: kind, sign, words. */
  const PERCENTS = [
    ['mass fraction', '%w/w', 'by mass'],
    ['mass concentration', '%w/v', 'mass per volume'],
    ['volume fraction', '%v/v', 'by volume'],
  ];
  /** Python's blanks; those that `trim` takes are not quite the same. */
  const BLANKS = '[\\t-\\r\\x1c-\\x20\\x85\\xa0\\u1680\\u2000-\\u200a\\u2028\\u2029\\u202f\\u205f\\u3000]+';
  const AROUND = new RegExp(`^${BLANKS}|${BLANKS}$`, 'g');

  /** A value that cannot be used: what is wrong with it, and the way out. */
  class Refusal extends Error {
    /**
     * @param {string} code
     * @param {string} sentence
     * @param {string} hint
     */
    constructor(code, sentence, hint) {
      super(hint ? `${sentence}; ${hint}` : sentence);
      this.code = code;
      this.sentence = sentence;
      this.hint = hint;
    }
  }

  /**
   * Read `12.5 L`: a strict decimal number, a space, a unit of the table.
   * @param {string} written
   * @param {string[]} [kinds] those accepted, any when empty; where a ratio is, a bare number is read as one
   * @param {string} [name] what the value is for, put before it in the sentence of a refusal
   * @returns {Quantity}
   */
  function parseQuantity(written, kinds = [], name = '') {
    const text = strip(written);
    const quoted = strip(`${name} '${text}'`);
    const [number] = text.split(' ', 1);
    requireNumber(number, quoted);
    const symbol = strip(text.slice(number.length + 1));
    if (symbol === '' && !kinds.includes(RATIO)) {
      throw new Refusal(
        'unit-missing', `${quoted} has no unit`, `write the unit after the number, for example '${number} L'`);
    }
    if (/^[0-9]/.test(symbol) && !UNITS.has(symbol)) {
      throw new Refusal('number-form', `${quoted} has a space inside the number`, 'write the digits without spaces');
    }
    const unit = unitNamed(symbol, quoted, kinds);
    if (kinds.length > 0) requireKind(unit, kinds, quoted);
    return { value: toBase(read(number), unit), unit };
  }

  /**
   * Return the unit written `symbol`.
   * @param {string} written
   * @param {string} [quoted] the value it belongs to, in the sentence of a refusal
   * @param {string[]} [kinds] those it may be of
   */
  function unitNamed(written, quoted = '', kinds = []) {
    const symbol = ALIASES.get(written) || written;
    const of = quoted && ` of ${quoted}`;
    for (const entry of unitTable.ambiguous) {
      if (entry.spellings.includes(symbol) && !kinds.includes(entry.unless)) {
        throw new Refusal(
          'unit-ambiguous', `unit '${symbol}'${of} does not name one size`, `write ${either(entry.choose)}`);
      }
    }
    if (UNITS.has(symbol)) return unitOf(symbol);
    const near = unitsNear(symbol);
    const way = near.length > 0 ? either(near) : 'a unit of the table, such as mL, L, g, kg or US gal';
    throw new Refusal('unit-unknown', `unit '${symbol}'${of} is not known`, `write ${way}`);
  }

  /**
   * Refuse a unit that is of none of the kinds.
   * @param {Unit} unit
   * @param {string[]} kinds
   * @param {string} quoted names the value in the sentence
   */
  function requireKind(unit, kinds, quoted) {
    if (kinds.includes(unit.kind)) return;
    const percents = PERCENTS.filter(([kind]) => kinds.includes(kind)).map(([, sign, words]) => `${sign} (${words})`);
    if (unit.kind === RATIO && percents.length > 0) {
      throw new Refusal(
        'strength-kind-missing', `${quoted} does not say what kind of strength it is`, `write ${listed(percents)}`);
    }
    const fitting = [...UNITS.values()].filter((each) => kinds.includes(each.kind) && each.symbol);
    throw new Refusal(
      'unit-wrong-kind', `${quoted} is of the kind ${unit.kind}, not ${kinds.join(' or ')}`,
      `write ${listed(fitting.map((each) => each.symbol))}`);
  }

  /** @param {string} number @param {string} quoted */
  function requireNumber(number, quoted) {
    const joined = NUMBER_AND_REST.exec(number);
    if (joined !== null && UNITS.has(joined[2])) {
      throw new Refusal(
        'number-form', `${quoted} has no space before the unit`, `write '${joined[1]} ${joined[2]}'`);
    }
    if (!NUMBER.test(number)) {
      throw new Refusal(
        'number-form', `${quoted} does not begin with a plain decimal number`,
        number.includes(',') ? "leave commas out and use '.' as the decimal mark" : "write it like '12.5 L'");
    }
    if (number.replace(/[^0-9]/g, '').length > DIGITS) {
      throw new Refusal('number-form', `${quoted} has more than ${DIGITS} digits`, `write at most ${DIGITS} digits`);
    }
  }

  /** @param {string} symbol */
  function unitsNear(symbol) {
    const known = [...UNITS.keys()];
    const said = NEAR.get(symbol);
    if (said !== undefined) return [said];
    const byCase = known.filter((each) => folded(each) === folded(symbol));
    return byCase.length > 0 ? byCase : nearMisses(symbol, known);
  }

  /** @param {string} text */
  function folded(text) {
    return text.toLowerCase().toUpperCase();
  }

  /** @param {string} text */
  function strip(text) {
    return text.replace(AROUND, '');
  }

  /** @param {string[]} symbols */
  function either(symbols) {
    return listed(symbols.map((symbol) => `'${symbol}'`));
  }

  /** @param {string[]} words */
  function listed(words) {
    return words.length > 1 ? `${words.slice(0, -1).join(', ')} or ${words[words.length - 1]}` : words[0];
  }

  return Object.freeze({ Refusal, parseQuantity, unitNamed, requireKind });
})();

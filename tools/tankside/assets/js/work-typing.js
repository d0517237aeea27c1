'use strict';

var tankside = window.tankside || {};

/** @typedef {'number' | 'signed' | 'whole' | 'code' | 'initials' | 'time'} Typing what is typed */

/* What is typed with large keys or on a keyboard: what a key adds, and what the text comes to. Nothing is ever taken out
   of what somebody typed: what cannot be read is refused where it stands. */
tankside.workTyping = (function () {
  const BACK = 'back';
  const SIGN = '-';
  const DIGITS = ['1', '2', '3', '4', '5', '6', '7', '8', '9'];
  const LETTERS = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'];
  /** What can be typed with keys, in the order in which they stand. @type {Object<Typing, string[]>} */
  const KEYS = {
    number: [...DIGITS, '.', '0', BACK],
    signed: [...DIGITS, '.', '0', SIGN, BACK],
    whole: [...DIGITS, '', '0', BACK],
    time: [...DIGITS, '', '0', BACK],
    code: [...DIGITS, '0', '-', ...LETTERS, BACK],
    initials: [...LETTERS, BACK],
  };
  /** @type {Object<Typing, number>} */
  const LONGEST = { number: 12, signed: 13, whole: 6, time: 5, code: 24, initials: 3 };
  const UPPER = ['code', 'initials'];
  const NUMBERS = ['number', 'signed', 'whole'];
  /** @type {Object<Typing, RegExp>} what is whole, with its leading zeros apart */
  const WHOLE = {
    number: /^()0*(\d+)(?:\.(\d*))?$/,
    signed: /^(-?)0*(\d+)(?:\.(\d*))?$/,
    whole: /^()0*(\d+)$/,
    code: /^()()(\S(?:.*\S)?)$/,
    initials: /^()()(\p{L}{1,3})$/u,
    time: /^()([01]?\d|2[0-3])[:. ]?([0-5]\d)$/,
  };

  /**
   * Return the text after a key was pressed.
   * @param {string} text
   * @param {string} key one of `KEYS`
   * @param {Typing} kind
   * @returns {string}
   */
  function pressed(text, key, kind) {
    if (key === BACK) return text.slice(0, -1);
    if (key === SIGN && kind === 'signed') return text.startsWith(SIGN) ? text.slice(1) : SIGN + text;
    if (key === '' || text.length >= LONGEST[kind]) return text;
    if (key === '.' && text.includes('.')) return text;
    if (key === '.' && text === '') return '0.';
    if (text === '0' && key !== '.' && NUMBERS.includes(kind)) return key;
    return text + key;
  }

  /**
   * Return the text as it stands after somebody typed it on a keyboard.
   * @param {string} text
   * @param {Typing} kind
   * @returns {string}
   */
  function keyed(text, kind) {
    const plain = text.replace(/\u2212/g, '-');
    return UPPER.includes(kind) ? plain.toUpperCase() : plain;
  }

  /**
   * Return what was typed as it is kept: a number without idle zeros, a time as `08:05`. Empty when it is none.
   * @param {string} text
   * @param {Typing} kind
   * @returns {string}
   */
  function settled(text, kind) {
    const found = WHOLE[kind].exec(text.trim().replace(/^(-?)\./, '$10.'));
    if (found === null) return '';
    const [, sign, first, rest] = found;
    if (kind === 'time') return `${first.padStart(2, '0')}:${rest}`;
    return rest && NUMBERS.includes(kind) ? `${sign}${first}.${rest}` : `${sign}${first}${rest || ''}`;
  }

  /** @param {string} text why it is no number, in a word: a comma is the usual reason */
  function hasComma(text) {
    return text.includes(',');
  }

  /** What was typed and not entered yet, by a name: it outlives the element that it was typed in. */
  class Drafts {
    constructor() {
      /** @type {Map<string, any>} */
      this.kept = new Map();
      /** @type {{beginning: string, count: number, isIt: (event: any) => boolean} | null} */
      this.entered = null;
    }

    /** @param {string} name @param {any} [otherwise] */
    get(name, otherwise = '') {
      return this.kept.has(name) ? this.kept.get(name) : otherwise;
    }

    /** @param {string} name @param {any} value */
    set(name, value) {
      this.kept.set(name, value);
    }

    /**
     * Forget the draft of this name, and those whose names go on behind it: `read-3` and `read-3-seen`, not `read-35`.
     * @param {string} beginning
     */
    drop(beginning) {
      const stem = beginning.endsWith('-') ? beginning : `${beginning}-`;
      for (const name of [...this.kept.keys()]) if (name === beginning || name.startsWith(stem)) this.kept.delete(name);
    }

    /**
     * Note what is being entered. Until it is kept it stays typed, and then no longer.
     * @param {string} beginning of the names of its drafts
     * @param {number} count of the events before it
     * @param {(event: any) => boolean} isIt
     */
    entering(beginning, count, isIt) {
      this.entered = { beginning, count, isIt };
    }

    /** @param {any[]} events forget what has been entered, as soon as it is among them */
    settle(events) {
      const { entered } = this;
      if (entered === null || !events.slice(entered.count).some(entered.isIt)) return;
      this.entered = null;
      this.drop(entered.beginning);
    }
  }

  /** @type {WeakMap<object, Drafts>} */
  const known = new WeakMap();

  /** @param {any} view @returns {Drafts} what was typed on a page and not entered yet */
  function drafts(view) {
    let found = known.get(view);
    if (found === undefined) known.set(view, (found = new Drafts()));
    found.settle(view.copy.events);
    return found;
  }

  return Object.freeze({ KEYS, BACK, LONGEST, pressed, keyed, settled, hasComma, Drafts, drafts });
})();

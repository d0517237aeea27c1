'use strict';

var tankside = window.tankside || {};

/* What an event of a file must look like before anything is done with it, as far as `record.schema.json` says it of single
   values: no place in a trail that is none, no number that is no whole one, no name that is no text. */
tankside.copyShape = (function () {
  const { own } = tankside.plantState;

  const TIME = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}(?:Z|[+-]\d\d:\d\d)$/;
  const NUMBER = /^-?(?:0|[1-9]\d*)(?:\.\d+)?$/;
  const HASH = /^[0-9a-f]{64}$/;
  const ABOUT = ['wrong', 'could-not', 'near-miss'];
  /** More characters than that are no number that somebody typed. */
  const LONGEST = 400;

  /** What each event has. */
  const COMMON = ['seq', 'copy', 'previous', 'hash', 'edition', 'kind', 'who', 'role', 'at', 'clock', 'session', 'device', 'build'];
  const REASONED = ['visit', 'reason'];
  /** What events of a kind have beside that, where there is anything. @type {Object<string, string[]>} */
  const NEEDED = {
    start: ['shown', 'inputs', 'people'],
    begin: ['visit'],
    mark: ['visit'],
    look: ['visit', 'says'],
    pour: ['visit', 'value', 'unit', 'target', 'low', 'high', 'inside', 'total'],
    checked: ['instrument', 'due'],
    read: ['visit', 'value', 'unit', 'low', 'high', 'inside', 'instrument', 'due'],
    take: ['visit'],
    count: ['visit'],
    second: ['visit'],
    alone: REASONED,
    release: ['visit'],
    allow: REASONED,
    skip: REASONED,
    deviate: REASONED,
    decide: ['visit', 'then', 'reason'],
    correct: ['corrects', 'reason'],
    unmark: ['corrects', 'reason'],
    note: ['text'],
    redline: ['about', 'text'],
    abandon: ['reason'],
  };

  /** @param {any} value */
  const isText = (value) => typeof value === 'string';
  /** @param {any} value */
  const isTable = (value) => value instanceof Object && !Array.isArray(value);
  /** @param {any} value */
  const isWhole = (value) => Number.isSafeInteger(value) && value >= 0;
  /** @param {any} value */
  const isTime = (value) => isText(value) && TIME.test(value) && !Number.isNaN(Date.parse(value));
  /** @param {any} value */
  const isNumber = (value) => isText(value) && value.length <= LONGEST && NUMBER.test(value);
  /** @param {any} value one end of limits may be open */
  const isLimit = (value) => value === '' || isNumber(value);
  /** @param {any} value */
  const isHash = (value) => isText(value) && HASH.test(value);

  /** What is said of a value by its name; every other one is a text. @type {Object<string, (value: any) => boolean>} */
  const VALUES = {
    ...Object.fromEntries(['seq', 'clock', 'visit', 'corrects', 'issued', 'used', 'spoiled', 'left'].map((name) => [name, isWhole])),
    ...Object.fromEntries(['value', 'target', 'total'].map((name) => [name, isNumber])),
    ...Object.fromEntries(['hash', 'previous', 'edition'].map((name) => [name, isHash])),
    low: isLimit,
    high: isLimit,
    at: isTime,
    entered_at: isTime,
    inside: (value) => typeof value === 'boolean',
    about: (value) => ABOUT.includes(value),
    people: (value) => Array.isArray(value) && value.every((each) => isTable(each) && isText(each.who) && isText(each.role)),
    confirmed: (value) => Array.isArray(value) && value.every(isText),
    inputs: (value) => isTable(value) && Object.values(value).every((each) => isTable(each) && Object.values(each).every(isText)),
  };

  /**
   * Return whether something has the shape of an event.
   * @param {any} event of a kind that is known
   * @returns {boolean}
   */
  function isEvent(event) {
    return isTable(event) && [...COMMON, ...own(NEEDED, event.kind) || []].every((name) => own(event, name) !== undefined)
      && Object.entries(event).every(([name, value]) => (own(VALUES, name) || isText)(value));
  }

  return Object.freeze({ COMMON, NEEDED, isText, isTable, isTime, isEvent });
})();

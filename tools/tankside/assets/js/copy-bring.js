'use strict';

var tankside = window.tankside || {};

/**
 * What came of one record of a file: the code of its sentence under `work-<code>`; the number of the event that it is
 * about, from 1, or 0; how many events were added; what is known of the copy; the number of the first event, from 1,
 * that nobody would be let do today, or 0.
 * @typedef {{code: string, at: number, added: number, copy: string, title: string, lot: string, odd: number}} Outcome
 */

/* Record files come in: each is read with suspicion, and kept only when it is whole, of this book, and its chain holds. */
tankside.copyBring = (function () {
  const { canonical, sha256, brokenLinks } = tankside.chain;
  const { script } = tankside.copyScript;
  const { newCopy } = tankside.copyState;
  const { fold, KINDS } = tankside.copyFold;
  const { refusal } = tankside.copyRefusal;
  const { ONE, MANY } = tankside.copyFile;
  const { isText, isTable, isTime, isEvent } = tankside.copyShape;

  /** A file with more characters is none of ours: those of many end far below. */
  const MOST = 64 * 1024 * 1024;
  const NEWER = /^tankside-records?-\d+$/;
  const EDITION = /^tankside-edition-\d+$/;
  /** The editions that the folds of this page can follow. */
  const FOLLOWED = 'tankside-edition-3';
  const COPY = /^[0-9a-f]{16}$/;

  /** A record that is not let in, and why. */
  class Refused extends Error {
    /** @param {string} code @param {number} [at] the number of an event, from 1 */
    constructor(code, at = 0) {
      super(code);
      this.code = code;
      this.at = at;
    }
  }

  /** @param {boolean} isSo @param {string} code @param {number} [at] */
  function demand(isSo, code, at) {
    if (!isSo) throw new Refused(code, at);
  }

  /**
   * Let in what a file holds; what is refused changes nothing.
   * @param {any} store
   * @param {string} book
   * @param {string} text of the file
   * @returns {Promise<Outcome[]>} one for each record, or one for a file that is none
   */
  async function bring(store, book, text) {
    let records;
    try {
      records = recordsIn(text);
    } catch (error) {
      return [outcome(null, refusedFor(error))];
    }
    const found = [];
    for (const record of records) found.push(await bringOne(store, book, record));
    return found;
  }

  /** @param {string} text @returns {any[]} */
  function recordsIn(text) {
    demand(text.length <= MOST, 'bring-huge');
    demand(text.trim() !== '', 'bring-empty');
    const read = parsed(text.replace(/^\uFEFF/, ''));
    demand(isTable(read), 'bring-no-record');
    if (read.layout === ONE) return [read];
    if (read.layout !== MANY) throw new Refused(NEWER.test(read.layout) ? 'bring-newer' : 'bring-no-record');
    demand(Array.isArray(read.records) && read.records.length > 0, 'bring-no-record');
    return read.records;
  }

  /** @param {string} text */
  function parsed(text) {
    try {
      return JSON.parse(text);
    } catch (error) {
      // A file of ours that was cut off, or two in one, still begins like one.
      throw new Refused(/"tankside-|^\s*\{"book":/.test(text) ? 'bring-not-whole' : 'bring-no-record');
    }
  }

  /** @param {any} store @param {string} book @param {any} record @returns {Promise<Outcome>} */
  async function bringOne(store, book, record) {
    try {
      const odd = examined(book, record);
      const { edition, shown, events, exported } = record;
      const kept = { hash: events[0].shown, edition, shown };
      const { code, added, at } = await store.bring(kept, events, exported);
      return { ...outcome(record, { code, at: at + 1 }), added, odd };
    } catch (error) {
      return outcome(record, refusedFor(error));
    }
  }

  /** @param {any} error @returns {{code: string, at: number}} */
  function refusedFor(error) {
    // What was nested too deep, or is not what it seems, ends in an error of the browser: it is no record either.
    return { code: error.code || 'bring-not-understood', at: error.at || 0 };
  }

  /** @param {any} record @param {{code: string, at: number}} found @returns {Outcome} */
  function outcome(record, { code, at }) {
    const { copy, shown, events } = isTable(record) ? record : {};
    const [{ lot }] = Array.isArray(events) && isTable(events[0]) ? events : [{}];
    const { title } = isTable(shown) ? shown : {};
    return { code, at, added: 0, copy: textOf(copy), title: textOf(title), lot: textOf(lot), odd: 0 };
  }

  /**
   * Refuse what is no sound record of this book.
   * @param {string} book
   * @param {any} record
   * @returns {number} the number of the first event, from 1, that would not be let pass; 0 when all would
   */
  function examined(book, record) {
    shaped(record);
    const { edition, events, copy } = record;
    demand(record.book === book && edition.book === book, 'bring-other-book');
    const hash = sha256(canonical(edition));
    events.forEach((/** @type {any} */ event, /** @type {number} */ place) => {
      demand(event.copy === copy && event.edition === events[0].edition, 'bring-mixed', place + 1);
    });
    demand(hash === events[0].edition, 'bring-edition');
    const [broken] = brokenLinks(events);
    demand(broken === undefined, 'bring-chain', broken === undefined ? 0 : broken[0] + 1);
    demand(record.shown.hash === hash && sha256(canonical(record.shown)) === events[0].shown, 'bring-edition');
    const follows = script(edition);
    demand(isShownOf(follows, record.shown), 'bring-not-understood');
    return followed(follows, events);
  }

  /** @param {any} record whether it has the form of one */
  function shaped(record) {
    demand(isTable(record) && record.layout === ONE, 'bring-no-record');
    const { copy, edition, shown, events, exported } = record;
    demand(isText(copy) && COPY.test(copy) && isTime(exported) && isTable(edition), 'bring-no-record');
    demand(edition.layout === FOLLOWED, EDITION.test(edition.layout) ? 'bring-newer' : 'bring-no-record');
    demand(isTable(shown) && isText(shown.id) && isText(shown.title) && Array.isArray(shown.parts), 'bring-no-record');
    demand(Array.isArray(events) && events.length > 0, 'bring-no-events');
    events.forEach((/** @type {any} */ event, /** @type {number} */ place) => {
      demand(isTable(event) && isText(event.kind), 'bring-no-event', place + 1);
      demand(KINDS.includes(event.kind), 'bring-newer');
      demand(isEvent(event), 'bring-no-event', place + 1);
    });
  }

  /** @param {CopyScript} follows @param {any} shown whether it shows the parts that are followed */
  function isShownOf({ id, parts }, shown) {
    return id === shown.id && parts.length === shown.parts.length && parts.every(({ procedure }, place) => (
      shown.parts[place].procedure === procedure && Array.isArray(shown.parts[place].sections)));
  }

  /** @param {CopyScript} follows @param {any[]} events */
  function followed(follows, events) {
    const copy = newCopy(follows);
    let odd = 0;
    events.forEach((event, place) => {
      try {
        if (refusal(copy, event) !== '' && odd === 0) odd = place + 1;
        fold(copy, event);
      } catch (error) {
        throw new Refused('bring-not-understood', place + 1);
      }
    });
    return odd;
  }

  /** @param {any} value */
  const textOf = (value) => (isText(value) ? value : '');

  return Object.freeze({ bring, MOST });
})();

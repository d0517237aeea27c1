'use strict';

var tankside = window.tankside || {};

/**
 * One working copy as it leaves the device; `exported` is when.
 * @typedef {{
 *   layout: string, book: string, site: string, copy: string, edition: any, shown: any, events: CopyEvent[],
 *   exported: string
 * }} RecordFile
 */
/** @typedef {{copy: string, title: string, lot: string, count: number}} Held what a file holds of a copy */

/* Working copies leave the device as files: the only way out, and the only backup. The same copy gives the same bytes, but
   for the time at which the file was made. Whether the browser has really put it on the disk, no page can know. */
tankside.copyFile = (function () {
  const { canonical } = tankside.chain;
  const { now } = tankside.copyDevice;
  const { NotKept } = tankside.copyDatabase;

  /** One record, and many of them in one file: browsers stop a page that makes many files. */
  const ONE = 'tankside-record-1';
  const MANY = 'tankside-records-1';
  /** A file of many is ended, and the next one begun, when it has come to so many characters. */
  const FULL = 16 * 1024 * 1024;
  /** Time in which the browser has certainly begun to write a file [ms]. */
  const WRITTEN = 60000;

  /**
   * Return a working copy as its file holds it.
   * @param {{edition: any, shown: any, events: CopyEvent[]}} record
   * @param {string} exported
   * @returns {RecordFile}
   */
  function recordFile({ edition, shown, events }, exported) {
    return { layout: ONE, book: edition.book, site: edition.book, copy: events[0].copy, edition, shown, events, exported };
  }

  /**
   * Return the name of the file of a working copy.
   * @param {RecordFile} file
   */
  function fileName({ shown, copy, events }) {
    const lot = (events[0].lot || '').replace(/[^\p{L}\p{N}._]+/gu, '-').slice(0, 40);
    return `${[shown.id, lot, copy.slice(0, 8), events.length].filter((part) => part !== '').join('-')}.json`;
  }

  /** @param {RecordFile} file @returns {Held} */
  function held({ shown, copy, events }) {
    return { copy, title: shown.title, lot: events[0].lot || '', count: events.length };
  }

  /**
   * Hand a file to the browser, which puts it where it puts files.
   * @param {string} name
   * @param {string} text
   */
  function hand(name, text) {
    const address = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
    const link = document.createElement('a');
    link.href = address;
    link.download = name;
    link.hidden = true;
    document.body.append(link);
    link.click();
    link.remove();
    window.setTimeout(() => URL.revokeObjectURL(address), WRITTEN);
  }

  /**
   * Give a working copy its file out of what a page has of it, also when nothing can be read from the store any more.
   * @param {{edition: any, shown: any, events: CopyEvent[]}} record
   * @returns {{name: string, holds: Held, at: string}}
   */
  function handRecord(record) {
    const { at } = now();
    const file = recordFile(record, at);
    hand(fileName(file), canonical(file));
    return { name: fileName(file), holds: held(file), at };
  }

  /**
   * Give one working copy its file, and note that it has one.
   * @param {any} store
   * @param {string} copy
   * @returns {Promise<string>} the name of the file
   */
  async function save(store, copy) {
    const record = await store.record(copy);
    if (record === null) throw new NotKept('store-gone');
    const { name, holds, at } = handRecord(record);
    await store.exported(copy, holds.count, at);
    return name;
  }

  /**
   * Give several working copies one file together, or as few as do not grow too large.
   * @param {any} store
   * @param {string[]} copies
   * @returns {Promise<string[]>} the names of the files
   */
  async function saveAll(store, copies) {
    const { at } = now();
    /** @type {string[]} */
    const names = [];
    /** @type {Written[]} */
    const open = [];
    for (const copy of copies) {
      open.push(await written(store, copy, at));
      const size = open.reduce((sum, { text }) => sum + text.length, 0);
      if (size >= FULL) names.push(await handMany(store, open.splice(0), at, names.length + 1));
    }
    if (open.length > 0) names.push(await handMany(store, open, at, names.length + 1));
    return names;
  }

  /** @typedef {{text: string, book: string, holds: Held}} Written */

  /** @param {any} store @param {string} copy @param {string} at @returns {Promise<Written>} */
  async function written(store, copy, at) {
    const record = await store.record(copy);
    if (record === null) throw new NotKept('store-gone');
    const file = recordFile(record, at);
    return { text: canonical(file), book: file.book, holds: held(file) };
  }

  /** @param {any} store @param {Written[]} files @param {string} at @param {number} part @returns {Promise<string>} its name */
  async function handMany(store, files, at, part) {
    const [{ book }] = files;
    const about = `"book":${canonical(book)},"exported":${canonical(at)},"layout":${canonical(MANY)}`;
    const name = `${book}-records-${at.slice(0, 19).replace(/[-:]/g, '')}-${part}.json`;
    hand(name, `{${about},"records":[${files.map(({ text }) => text).join(',')}]}`);
    for (const { holds } of files) await store.exported(holds.copy, holds.count, at);
    return name;
  }

  return Object.freeze({ ONE, MANY, hand, handRecord, save, saveAll });
})();

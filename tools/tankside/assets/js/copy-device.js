'use strict';

var tankside = window.tankside || {};

/* What a device gives to a working copy: time, names for device, tab and copy, and an honest word on what is kept. */
tankside.copyDevice = (function () {
  const KEPT = 'tankside-kept-';

  /** @param {number} bytes @returns {string} a random name in hexadecimal */
  function randomName(bytes) {
    const found = window.crypto.getRandomValues(new Uint8Array(bytes));
    return Array.from(found, (byte) => byte.toString(16).padStart(2, '0')).join('');
  }

  /** One load of a page: as long as it lives its clock runs on, whatever somebody does to the time of day. */
  const SESSION = randomName(4);

  /** @param {number} value @param {number} length */
  function digits(value, length) {
    return String(Math.abs(value)).padStart(length, '0');
  }

  /**
   * Return a time of day with its offset, as ISO 8601 writes it.
   * @param {Date} time
   */
  function timeText(time) {
    const offset = -time.getTimezoneOffset();
    const day = `${digits(time.getFullYear(), 4)}-${digits(time.getMonth() + 1, 2)}-${digits(time.getDate(), 2)}`;
    const clock = [time.getHours(), time.getMinutes(), time.getSeconds()].map((part) => digits(part, 2)).join(':');
    const hours = `${offset < 0 ? '-' : '+'}${digits(Math.trunc(offset / 60), 2)}:${digits(offset % 60, 2)}`;
    return `${day}T${clock}.${digits(time.getMilliseconds(), 3)}${hours}`;
  }

  /** What every event says of its moment. */
  function now() {
    return { at: timeText(new Date()), clock: Math.round(performance.now()), session: SESSION };
  }

  /**
   * Return what an event says of its moment. What stands on paper happened before it is typed in, and waits are counted by
   * the times that stand there: as if each entry had been made on a page of its own.
   * @param {{paper?: string}} own
   */
  function momentOf({ paper }) {
    const here = now();
    return paper === undefined ? here : { ...here, session: randomName(4), entered_at: here.at };
  }

  /**
   * Return the name of this device, made when it is first asked for.
   * @param {any} store
   * @returns {Promise<string>}
   */
  async function deviceName(store) {
    const known = await store.note('device');
    if (known !== undefined) return known;
    const made = randomName(4);
    await store.setNote('device', made);
    return made;
  }

  /**
   * Write something, read it back, and return what is to be said of it: the code of an honest word.
   * @param {any} store
   * @returns {Promise<string>} 'store-kept', or why nothing is kept
   */
  async function selfTest(store) {
    const probe = randomName(8);
    // Under a name of its own: other tabs may do the same at the same time.
    const name = `probe-${probe}`;
    try {
      await store.setNote(name, probe);
      const found = await store.note(name);
      await store.dropNote(name);
      return found === probe ? 'store-kept' : 'store-failed';
    } catch (error) {
      return error.code || 'store-failed';
    }
  }

  /**
   * Ask the browser not to throw records away when space gets short; say whether it agrees.
   * @returns {Promise<boolean | null>} null where it cannot be asked
   */
  async function askToKeep() {
    const { storage } = navigator;
    if (!storage || !storage.persist) return null;
    try {
      return await storage.persisted() || await storage.persist();
    } catch (error) {
      return null;
    }
  }

  /** @returns {Promise<{used: number, most: number} | null>} bytes; null where it cannot be told */
  async function space() {
    const { storage } = navigator;
    if (!storage || !storage.estimate) return null;
    try {
      const { usage = 0, quota = 0 } = await storage.estimate();
      return { used: usage, most: quota };
    } catch (error) {
      return null;
    }
  }

  /** @typedef {{copy: string, title: string, lot: string, started: string}} Remembered */

  /**
   * Remember, in another place, which copies are kept, so that it is noticed when the browser has thrown them away. What
   * is missing already stays missing until somebody has read it.
   * @param {string} book
   * @param {Remembered[]} copies those that are here
   */
  function remember(book, copies) {
    write(book, [...missing(book, copies), ...copies]);
  }

  /**
   * Remember no more than the copies that are here: somebody knows which ones are gone.
   * @param {string} book
   * @param {Remembered[]} copies
   */
  function forgetMissing(book, copies) {
    write(book, copies);
  }

  /**
   * Return the copies that were here and are gone.
   * @param {string} book
   * @param {Array<{copy: string}>} copies those that are here
   * @returns {Remembered[]}
   */
  function missing(book, copies) {
    const here = new Set(copies.map(({ copy }) => copy));
    try {
      const known = JSON.parse(window.localStorage.getItem(KEPT + book) || '[]');
      return known.filter((/** @type {Remembered} */ { copy }) => !here.has(copy));
    } catch (error) {
      return [];
    }
  }

  /** @param {string} book @param {Remembered[]} copies */
  function write(book, copies) {
    const known = copies.map(({ copy, title, lot, started }) => ({ copy, title, lot, started }));
    try {
      window.localStorage.setItem(KEPT + book, JSON.stringify(known));
    } catch (error) {
      // The place is shut: then nothing can be noticed, and nothing is lost by it.
    }
  }

  /**
   * Keep the screen on while somebody works, where the browser can.
   * @returns {Promise<boolean>} whether it does
   */
  async function keepAwake() {
    if (!('wakeLock' in navigator)) return false;
    try {
      await /** @type {any} */ (navigator).wakeLock.request('screen');
      return true;
    } catch (error) {
      return false;
    }
  }

  return Object.freeze({
    randomName, timeText, now, momentOf, deviceName, selfTest, askToKeep, space, remember, forgetMissing, missing, keepAwake,
  });
})();

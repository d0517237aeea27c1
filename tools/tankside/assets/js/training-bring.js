'use strict';

var tankside = window.tankside || {};

/**
 * What came of one competence of a file: the code of its sentence under `train-`; the number of the entry that it is
 * about, from 1, or 0; how many entries were added; whose it is; the code of what such an entry is refused for.
 * @typedef {{code: string, at: number, added: number, who: string, why: string}} TrainingOutcome
 */

/* Competence files come in: each is read with suspicion, and kept only when it is whole, of this book, and its chain holds. */
tankside.trainingBring = (function () {
  const { canonical, sha256, brokenLinks } = tankside.chain;
  const { ONE, MANY } = tankside.trainingFile;
  const { isTable, isKnown, isEntry, isFile, isTaught } = tankside.trainingShape;
  const { refusal, critical } = tankside.trainingEntries;

  /** A file with more characters is none of ours. */
  const MOST = 64 * 1024 * 1024;
  const NEWER = /^tankside-competences?-\d+$/;

  /** A file that is not let in, and why. */
  class Refused extends Error {
    /** @param {string} code @param {number} [at] the number of an entry, from 1 @param {string} [why] the code of a refusal */
    constructor(code, at = 0, why = '') {
      super(code);
      Object.assign(this, { code, at, why });
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
   * @returns {Promise<TrainingOutcome[]>} one for each person, or one for a file that is none
   */
  async function bring(store, book, text) {
    let files;
    try {
      files = filesIn(text);
    } catch (error) {
      return [refusedFor(null, error)];
    }
    const found = [];
    for (const file of files) found.push(await bringOne(store, book, file));
    return found;
  }

  /** @param {string} text @returns {any[]} */
  function filesIn(text) {
    demand(text.length <= MOST, 'bring-no-file');
    const read = parsed(text.replace(/^\uFEFF/, ''));
    demand(isTable(read), 'bring-no-file');
    if (read.layout === ONE) return [read];
    if (read.layout !== MANY) throw new Refused(NEWER.test(read.layout) ? 'bring-newer' : 'bring-no-file');
    demand(Array.isArray(read.competences) && read.competences.length > 0, 'bring-no-file');
    return read.competences;
  }

  /** @param {string} text */
  function parsed(text) {
    try {
      return JSON.parse(text);
    } catch (error) {
      // A file of ours that was cut off still names itself.
      throw new Refused(/"tankside-competence|^\s*\{"(book|competences)":/.test(text) ? 'bring-not-whole' : 'bring-no-file');
    }
  }

  /** @param {any} store @param {string} book @param {any} file @returns {Promise<TrainingOutcome>} */
  async function bringOne(store, book, file) {
    try {
      examined(book, file);
      const { code, added, at } = await tankside.trainingStore.bring(store, file);
      return { code, added, at: at + 1, who: file.person, why: '' };
    } catch (error) {
      return refusedFor(file, error);
    }
  }

  /** @param {any} file @param {any} error @returns {TrainingOutcome} */
  function refusedFor(file, error) {
    const who = isTable(file) && typeof file.person === 'string' ? file.person : '';
    return { code: error.code || 'bring-no-file', at: error.at || 0, added: 0, who, why: error.why || '' };
  }

  /** @param {string} book @param {any} file refuse what is no sound competence of somebody in this book */
  function examined(book, file) {
    shaped(file);
    demand(file.book === book, 'bring-other-book');
    taughtIn(file);
    const { events, competence, person } = file;
    events.forEach((/** @type {any} */ event, /** @type {number} */ place) => {
      demand(event.competence === competence && event.person === person, 'bring-mixed', place + 1);
    });
    const [broken] = brokenLinks(events);
    demand(broken === undefined, 'bring-chain', broken === undefined ? 0 : broken[0] + 1);
    allowed(file);
  }

  /** @param {any} file whether it has the form of one */
  function shaped(file) {
    demand(isTable(file) && (file.layout === ONE || !NEWER.test(file.layout)), 'bring-newer');
    demand(file.layout === ONE && isFile(file), 'bring-no-file');
    demand(file.events.length > 0, 'bring-no-file');
    file.events.forEach((/** @type {any} */ event, /** @type {number} */ place) => {
      demand(isTable(event), 'bring-no-entry', place + 1);
      demand(isKnown(event), 'bring-newer');
      demand(isEntry(event) && (event.kind === 'begin') === (place === 0), 'bring-no-entry', place + 1);
    });
  }

  /** @param {any} file whether what was taught is what its entries name */
  function taughtIn({ taught, events }) {
    for (const [hash, each] of Object.entries(taught)) {
      demand(isTaught(each) && sha256(canonical(each)) === hash, 'bring-taught');
    }
    events.forEach((/** @type {any} */ event, /** @type {number} */ place) => {
      if (event.taught === undefined) return;
      const found = Object.hasOwn(taught, event.taught) ? taught[event.taught] : {};
      const isIt = found.procedure === event.procedure && found.content === event.edition && found.revision === event.revision;
      demand(isIt, 'bring-taught-of', place + 1);
    });
  }

  /** @param {any} file whether each entry is one that may be made */
  function allowed({ events, taught }) {
    events.forEach((/** @type {any} */ event, /** @type {number} */ place) => {
      const keys = event.kind === 'signed' ? critical(taught[event.taught]) : [];
      const code = refusal(event, events.slice(0, place), { critical: keys });
      if (code !== '') throw new Refused('bring-refused', place + 1, code);
    });
  }

  return Object.freeze({ bring, MOST });
})();

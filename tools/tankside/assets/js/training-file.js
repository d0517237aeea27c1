'use strict';

var tankside = window.tankside || {};

/* Competence leaves the device as files: one for a person, or one for all. */
tankside.trainingFile = (function () {
  const { canonical } = tankside.chain;
  const { now } = tankside.copyDevice;
  const { hand } = tankside.copyFile;
  const { record, exported } = tankside.trainingStore;
  const { NotKept } = tankside.copyDatabase;

  const ONE = 'tankside-competence-1';
  const MANY = 'tankside-competences-1';

  /**
   * Return the competence of a person as a file holds it.
   * @param {string} book
   * @param {TrainingRecord} found
   * @param {string} at
   */
  function fileOf(book, { head, events, taught }, at) {
    const { competence, person } = head;
    return { layout: ONE, book, site: book, competence, person, taught, events, exported: at };
  }

  /**
   * Give the competence of some people a file, and note that it has one.
   * @param {any} store
   * @param {string} book
   * @param {string[]} competences
   * @returns {Promise<string>} the name of the file
   */
  async function save(store, book, competences) {
    const { at } = now();
    const files = [];
    for (const each of competences) {
      const found = await record(store, each);
      if (found === null) throw new NotKept('store-gone');
      files.push(fileOf(book, found, at));
    }
    const name = `${nameOf(book, files, at)}.json`;
    hand(name, canonical(files.length === 1 ? files[0] : { layout: MANY, competences: files }));
    for (const { competence, events } of files) await exported(store, competence, events.length, at);
    return name;
  }

  /** @param {string} book @param {any[]} files @param {string} at */
  function nameOf(book, files, at) {
    if (files.length !== 1) return `${book}-competences-${at.slice(0, 19).replace(/[-:]/g, '')}`;
    const [{ person, competence, events }] = files;
    return ['competence', person.replace(/[^\p{L}\p{N}]+/gu, '-'), competence.slice(0, 8), events.length].join('-');
  }

  return Object.freeze({ ONE, MANY, save });
})();

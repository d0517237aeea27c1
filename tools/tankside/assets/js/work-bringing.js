'use strict';

var tankside = window.tankside || {};

/* Files that come in: chosen one or many at a time, and for each record a sentence of what came of it. */
tankside.workBringing = (function () {
  const { el, say } = tankside.dom;
  const { bring, MOST } = tankside.copyBring;
  const { what } = tankside.workShown;

  /**
   * Return the place where files are chosen.
   * @param {any} store
   * @param {string} book
   * @param {() => Promise<void>} changed is called when all of them have been read
   * @returns {HTMLElement}
   */
  function place(store, book, changed) {
    const says = el('ul.brought', { 'data-brought': true });
    const field = el('input', { type: 'file', multiple: true, accept: '.json,application/json', 'data-bring': true });
    field.addEventListener('change', async () => {
      says.replaceChildren(el('li', {}, say('work-list-bring-reading')));
      const lines = await brought(store, book, [...field.files]);
      await changed();
      says.replaceChildren(...lines.map((line) => el('li', {}, line)));
      // The same file can be chosen again.
      field.value = '';
    });
    return el(
      'div', {},
      el('p', {}, say('work-list-bring-about')),
      el('label.choose', {}, say('work-list-bring-choose'), field),
      el('div', { role: 'status' }, says),
    );
  }

  /**
   * Bring in files, one after the other.
   * @param {any} store
   * @param {string} book
   * @param {File[]} files
   * @returns {Promise<string[]>} a sentence for each record
   */
  async function brought(store, book, files) {
    const lines = [];
    for (const file of files) {
      const outcomes = file.size > MOST ? [{ code: 'bring-huge' }] : await read(store, book, file);
      lines.push(...outcomes.map((/** @type {any} */ outcome) => sentence(file.name, outcome)));
    }
    return lines;
  }

  /** @param {any} store @param {string} book @param {File} file */
  async function read(store, book, file) {
    let text;
    try {
      text = await file.text();
    } catch (error) {
      return [{ code: 'bring-unreadable' }];
    }
    return bring(store, book, text);
  }

  /** @param {string} file @param {any} outcome */
  function sentence(file, { code, title = '', lot = '', odd = 0, ...gaps }) {
    const says = say(`work-${code}`, { ...gaps, what: title === '' ? file : what({ title, lot }) });
    const line = say('work-list-bring-line', { file, says });
    return odd > 0 ? `${line} ${say('work-brought-odd', { at: odd })}` : line;
  }

  return Object.freeze({ place });
})();

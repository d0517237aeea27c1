'use strict';

var tankside = window.tankside || {};

/** @typedef {{number: string, name: string, kind: string, words: Run[], entries?: StepShown[], branches?: any[]}} StepShown */

/* What is shown of an edition, of a moment and of a size, as words; for the pages that list copies and print records. */
tankside.workShown = (function () {
  const { say } = tankside.dom;
  const HOUR = 3600 * 1000;
  const DAY = 24 * HOUR;
  const MEGABYTE = 1000 * 1000;

  /**
   * Return a step as the page of its working copy showed it; undefined when there is none of that name.
   * @param {any} part
   * @param {string} name
   * @returns {StepShown | undefined}
   */
  function stepOf(part, name) {
    return part.sections.flatMap((/** @type {any} */ { entries }) => every(entries || []))
      .find((/** @type {StepShown} */ step) => step.name === name);
  }

  /** @param {StepShown[]} entries @returns {StepShown[]} those inside others included */
  function every(entries) {
    return entries.flatMap((entry) => [
      entry,
      ...every(entry.entries || []),
      ...(entry.branches || []).flatMap((branch) => every(branch.entries || [])),
    ]);
  }

  /**
   * Return the part of a procedure that holds a step; undefined when none does.
   * @param {any} shown
   * @param {string} procedure empty when it is not known
   * @param {string} name
   */
  function partWith(shown, procedure, name) {
    return shown.parts.find((/** @type {any} */ part) => (
      (procedure === '' || part.procedure === procedure) && stepOf(part, name) !== undefined));
  }

  /**
   * Return a sentence of the book as plain words.
   * @param {Run[]} runs
   * @param {Map<string, {inside: string}>} [amounts] of what was chosen, by name
   */
  function plain(runs, amounts = new Map()) {
    return runs.map(({ text, follows }) => {
      const amount = follows === undefined ? undefined : amounts.get(follows.split('/')[1]);
      return amount === undefined ? text : amount.inside;
    }).join('');
  }

  /** @param {string} at a time of day as an event has it: day and minute, as they were read there */
  function moment(at) {
    return at.replace(/^(\d{4}-\d\d-\d\d)T(\d\d:\d\d).*$/, '$1 $2');
  }

  /** @param {string} at @returns {string} how long ago that is, in words */
  function age(at) {
    const passed = Date.now() - Date.parse(at);
    if (!(passed >= HOUR)) return say('work-age-short');
    if (passed < 2 * HOUR) return say('work-age-hour');
    if (passed < 2 * DAY) return say('work-age-hours', { count: Math.floor(passed / HOUR) });
    return say('work-age-days', { count: Math.floor(passed / DAY) });
  }

  /** @param {number} bytes */
  function size(bytes) {
    return say('work-list-megabytes', { count: Math.ceil(bytes / MEGABYTE) });
  }

  /** @param {{title: string, lot: string}} copy */
  function what({ title, lot }) {
    return lot === '' ? title : say('work-list-what', { title, lot });
  }

  return Object.freeze({ stepOf, partWith, plain, moment, age, size, what });
})();

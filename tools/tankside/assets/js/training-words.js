'use strict';

var tankside = window.tankside || {};

/* How somebody's competence stands, in plain sentences. */
tankside.trainingWords = (function () {
  const { say } = tankside.dom;
  const STANDING = ['valid', 'show-first'];

  /** @param {Standing} found @returns {boolean} whether nobody has to be warned */
  const isFine = ({ word }) => word === 'valid';

  /**
   * Return how it stands, a sentence each.
   * @param {Standing} found
   * @param {string} goal
   * @returns {string[]}
   */
  function sentences({ word, since, lapses_on: until, reasons }, goal) {
    if (STANDING.includes(word)) return [say(`train-valid-${goal}`, { since, until }), ...why(reasons)];
    if (word === 'lapsed') return [say('train-stands-lapsed', { since }), ...why(reasons)];
    return [say(`train-stands-${word}`)];
  }

  /** @param {StandingReason[]} reasons @returns {string[]} those of one code together */
  function why(reasons) {
    const codes = [...new Set(reasons.map(({ code }) => code))];
    return codes.map((code) => {
      const all = reasons.filter((each) => each.code === code);
      return say(`train-reason-${code}`, { day: all[0].day, count: all.length });
    });
  }

  /** @param {any} error why something was not kept or not read */
  function trouble(error) {
    const code = error.code || 'store-failed';
    const { words } = /** @type {any} */ (tankside);
    const key = [`train-${code}`, `work-${code}`].find((each) => words[each] !== undefined) || 'work-store-failed';
    return `${say(key)} ${error.detail || ''}`.trim();
  }

  return Object.freeze({ isFine, sentences, trouble });
})();
